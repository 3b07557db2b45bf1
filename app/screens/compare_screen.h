// Compare: the survey that is open beside another revision of it, or beside any other file. What
// changed, what that moved, which findings came or went; a row shows its place in the plan.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "app/entry/comparison_words.h"
#include "app/jobs/revisions.h"
#include "app/jobs/session.h"
#include "app/screens/screen_context.h"
#include "app/touch/show_drawing.h"

namespace levelrun {

struct CompareScreen {
  bool open = false;      // it stands instead of Release
  bool choosing = false;  // with what
  bool listed = false;    // false: look again
  std::vector<RevisionFile> files;
  std::string path;  // being typed
  std::string said;  // what came of the last deed
  std::shared_ptr<const EarlierRevision> other;
  std::string chosen;  // label of a row
  ViewMoves view, wall_view;

  // Worked out when first needed, for one state of the survey; −1: not yet.
  int version = -1;
  std::vector<ComparisonRow> rows;
  std::vector<std::string> movements;
  std::string smaller, mark;
  int facts = 0, findings = 0, results = 0;
  std::vector<float> heights;  // of the rows, at this width and text scale
  float heights_wide = 0, heights_text = 0;
};

// Opens it with a revision at hand, else it asks which.
void begin_compare(CompareScreen&, std::shared_ptr<const EarlierRevision>);

void draw_compare_screen(ScreenContext&, Box page, Session&, CompareScreen&);

}  // namespace levelrun
