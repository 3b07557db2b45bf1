// The survey reader: any bytes give a survey or problems, and writing what was read is a fixed
// point.
#include <cstdint>
#include <string_view>

#include "survey/survey_file.h"
#include "tests/fuzz/json_mutator.h"
#include "tests/fuzz/must.h"

using namespace levelrun;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto read = read_survey({reinterpret_cast<const char*>(data), size});
  if (!read.ok()) {
    must(!read.problems().empty() && read.problems().size() <= 100, "a refusal says why");
    for (const Problem& p : read.problems())
      must(!p.found.empty() && !p.expected.empty(), "found and expected are said");
    return 0;
  }
  const std::string written = write_survey(read.value().document);
  const auto again = read_survey(written);
  must(again.ok(), "what was written can be read");
  must(write_survey(again.value().document) == written, "writing is a fixed point");
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  return mutate_survey(data, size, most, seed, nullptr);
}
