#include "survey/near_word.h"

#include <algorithm>

namespace levelrun {

bool is_slip_of(std::string_view written, std::string_view meant) {
  constexpr std::size_t least = 4;
  if (written == meant || std::min(written.size(), meant.size()) < least) return false;
  // What is alike at both ends does not matter.
  while (!written.empty() && !meant.empty() && written.front() == meant.front()) {
    written.remove_prefix(1);
    meant.remove_prefix(1);
  }
  while (!written.empty() && !meant.empty() && written.back() == meant.back()) {
    written.remove_suffix(1);
    meant.remove_suffix(1);
  }
  if (written.size() <= 1 && meant.size() <= 1) return true;
  return written.size() == 2 && meant.size() == 2 && written[0] == meant[1] &&
         written[1] == meant[0];
}

}  // namespace levelrun
