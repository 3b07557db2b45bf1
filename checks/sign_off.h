// May this job be signed off, and is it?
//
// Barred by: a hold that no answer releases, a query without an answer, an open task, an open
// snag, a cabinet that was read and is not within the level tolerance. A signed-off job
// (install.sign_off) is read-only; reopening takes a name and a reason, moves the sign-off into
// install.reopened and so keeps it.
#pragma once

#include <string>
#include <vector>

#include "checks/install_tasks.h"

namespace levelrun {

struct SignOffBar {
  enum class Kind { hold, query, task, snag, level } kind = Kind::hold;
  std::string id;  // of the finding, task, snag or unit
  std::string says;
};

struct SignOffState {
  std::vector<SignOffBar> bars;  // holds first
  bool may_sign = false;         // nothing bars it, and it is not signed yet
  bool signed_off = false;       // read-only
  std::string says;              // one sentence, also what to do
};

SignOffState sign_off_state(const Survey&, const Results&, const InstallTasks&);

// Nothing but a reopening may change a signed-off job.
bool is_read_only(const Survey&);

std::string_view word(SignOffBar::Kind);

}  // namespace levelrun
