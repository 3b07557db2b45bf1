// The two typefaces, compiled in: DejaVu Sans Condensed and its bold, cut down to Latin,
// punctuation and the signs we write. TrueType; they live as long as the program.
#pragma once

#include <cstddef>

namespace levelrun {

struct Face {
  const unsigned char* data = nullptr;
  std::size_t size = 0;
};

Face regular_face();
Face bold_face();

}  // namespace levelrun
