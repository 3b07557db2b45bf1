// What the pages Findings and Release both draw: the counts, a finding's line and what is known of
// it, a sum spelt out, and its place in the plan.
#pragma once

#include <string>
#include <vector>

#include "app/entry/finding_rows.h"
#include "app/entry/sum_terms.h"
#include "app/jobs/session.h"
#include "app/touch/marks.h"
#include "app/touch/sheet.h"
#include "app/touch/show_drawing.h"

namespace levelrun {

// Lines one below the other from the box's top. Drawn only if asked to, so that the same code
// tells how high they come.
class Flow {
 public:
  Flow(Sheet& sheet, Box box, bool draw) : s(sheet), box_(box), y_(box.y), draw_(draw) {}

  Sheet& s;
  bool draws() const { return draw_; }
  float y() const { return y_; }
  float w() const { return box_.w; }
  float height() const { return y_ - box_.y; }
  void gap(float dp) { y_ += dp; }
  void indent(float dp) { box_.take_left(dp); }
  Box take(float high);  // the next piece, whole width
  void paragraph(const std::string&, Pen = {});
  void rule(Ink = Ink::rule, float width = 1);
  // Left and right on one line if they fit, else below each other, the right one at the right.
  void pair(const std::string& left, Pen, const std::string& right, Pen);

 private:
  Box box_;
  float y_;
  bool draw_;
};

inline constexpr float mark_column = 38;  // from a line's mark to its title

Ink soft_ink(const Sheet&);
Vial vial_of(const Judged&);

void flow_counts(Flow&, const FindingCounts&);
// The number large with its terms' captions; a line that is no plain sum as it stands.
void flow_sum(Flow&, const std::string& sum, const std::vector<std::string>& captions,
              bool needs_a_person);
// A line of a list: mark (if a finding's), title, number with vial, and words below.
struct ListLine {
  const FindingRow* finding = nullptr;
  std::string title, number, words;
  const std::optional<Judged>* judged = nullptr;
  bool bold = true;  // the title
};
void flow_line(Flow&, const ListLine&);
ListLine line_of(const FindingRow&);
// What it says, what to do, its source; its limit in figures; its ways out.
void flow_words(Flow&, const FindingRow&);
void flow_limit(Flow&, const FindingRow&, char decimal);
void flow_ways_out(Flow&, const FindingRow&, char decimal);

// The room with one of its facts in crayon.
struct PlaceInPlan {
  std::string at;      // JSON Pointer, of whatever depth
  Unknown x, y;        // a place to be dotted
  std::string number;  // beside the dot
};
// Gives the fact tapped: empty if none this frame.
std::string draw_place(Sheet&, Box, Session&, ViewMoves&, const PlaceInPlan&, bool dimensions);

}  // namespace levelrun
