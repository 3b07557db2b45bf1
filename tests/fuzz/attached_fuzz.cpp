// Any bytes as a PDF that may carry a survey: nothing is read past their end, and no more is
// unpacked than allowed.
#include <cstdint>
#include <string_view>

#include "survey/attached_survey.h"
#include "tests/fuzz/must.h"

using namespace levelrun;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr std::size_t most = 1U << 20;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  is_pdf(bytes);
  if (const auto text = attached_survey(bytes, most))
    must(text->size() <= most, "no more is unpacked than allowed");
  return 0;
}
