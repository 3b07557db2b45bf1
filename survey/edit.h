// An edit: one change to the survey's document, by whom and when, and the words to undo it by.
// The history: which edits stand and which were undone, as the journal's lines say.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "survey/survey_file.h"

namespace levelrun {

// Whoever does something, and when: RFC 3339 with offset, from the caller's clock. It is written
// down as given and orders nothing, so a clock that jumps does no harm.
struct By {
  std::string name, at;
};

struct Edit {
  std::size_t n = 0;  // its line in the journal; grows, with gaps
  Json patch;         // JSON Patch (RFC 6902)
  Json inverse;       // the patch that takes it back
  std::string says;   // "W3 length 2435"
  By by;
};

// Undo and redo without limit. A new edit ends what could be redone.
class History {
 public:
  void did(Edit edit);
  // The edit that an undo or a redo would move, or nullptr.
  const Edit* to_undo() const { return done_.empty() ? nullptr : &done_.back(); }
  const Edit* to_redo() const { return undone_.empty() ? nullptr : &undone_.back(); }
  void undid();  // to_undo() becomes to_redo(); there must be one
  void redid();

 private:
  std::vector<Edit> done_, undone_;  // the next to move last
};

}  // namespace levelrun
