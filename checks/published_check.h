// A number of a room against a published limit, as an entry and, if it is not within, a query.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "checks/clearances.h"

namespace levelrun {

struct PublishedCheck {
  std::string_view limit;  // id in assets/published
  std::string what, at;    // of the entry
  std::string id, code;    // of the finding
  Estimate clear;
  bool most = false;
  // False: whether the limit holds here is not known; then the entry has no verdict and the
  // finding is a note.
  bool holds = true;
  bool safety = false;
  std::string sum;
  std::string says, remedy;  // says: up to the number, "Socket SO is to the sink in S4"
};

void add_published(Clearances&, PublishedCheck);

}  // namespace levelrun
