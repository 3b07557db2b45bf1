// Two stacks.
#include "survey/edit.h"

#include <cassert>
#include <utility>

namespace levelrun {
namespace {

void move_last(std::vector<Edit>& from, std::vector<Edit>& to) {
  assert(!from.empty());
  to.push_back(std::move(from.back()));
  from.pop_back();
}

}  // namespace

void History::did(Edit edit) {
  done_.push_back(std::move(edit));
  undone_.clear();
}

void History::undid() { move_last(done_, undone_); }
void History::redid() { move_last(undone_, done_); }

}  // namespace levelrun
