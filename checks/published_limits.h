// Published figures on services, each with its source: data in assets/published. A figure that is
// not in the table is our bug, so asking for it aborts.
#pragma once

#include <string>
#include <string_view>

namespace levelrun {

struct PublishedLimit {
  double value = 0;
  std::string unit, source;  // source: whose figure, and how sure we are
};

const PublishedLimit& published_limit(std::string_view id);

}  // namespace levelrun
