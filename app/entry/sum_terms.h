// The one-line derivation of a result, taken apart so that each term can stand large with its
// caption under it: "158.0 − (−40.0) − 15.0 = 183.0".
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace levelrun {

struct SumTerm {
  std::string sign;    // before it: "", "+", "−", "=" …
  std::string number;  // as it stands, brackets of a negative one included
  std::string caption;
};

// A term's own words become its caption ("5.2 hollow"); `captions` are for those without, in the
// order of the terms, the last for what the sum comes to. What stands before a colon is left out.
// Empty: it is no plain sum, and is shown as the line it is.
std::vector<SumTerm> sum_terms(std::string_view sum, const std::vector<std::string>& captions = {});

}  // namespace levelrun
