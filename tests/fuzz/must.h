// What a fuzzer checks beyond crashes: a law that does not hold ends the program, so that the input
// is kept like any other crash.
#pragma once

#include <cstdio>
#include <cstdlib>

namespace levelrun {

inline void must(bool holds, const char* law) {
  if (holds) return;
  std::fprintf(stderr, "broken: %s\n", law);
  std::abort();
}

}  // namespace levelrun
