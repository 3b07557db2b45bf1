// Is one word another with a slip of the hand: a letter left out, put in or mistaken, or two
// neighbours swapped?
#pragma once

#include <string_view>

namespace levelrun {

// Words under 4 letters are never taken for slips of others: too many are near by chance.
bool is_slip_of(std::string_view written, std::string_view meant);

}  // namespace levelrun
