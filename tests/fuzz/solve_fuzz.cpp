// Whatever survey the reader accepts can be solved: no crash, no number that is none, the same
// bytes again, in bounded time (-timeout).
#include <cstdint>
#include <string_view>

#include "checks/results_json.h"
#include "checks/solve.h"
#include "survey/crc32.h"
#include "survey/survey_file.h"
#include "tests/fuzz/json_mutator.h"
#include "tests/fuzz/must.h"

using namespace levelrun;

static constexpr unsigned one_in = 8;  // is solved twice: it halves the speed

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto read = read_survey({reinterpret_cast<const char*>(data), size});
  if (!read.ok()) return 0;
  const std::string text = results_json(solve(read.value().survey));
  const auto results = nlohmann::json::parse(text, nullptr, false);
  must(!results.is_discarded(), "results are JSON: no NaN, no Infinity");
  must(results["rooms"].size() == read.value().survey.rooms.size(), "a result for every room");
  if (crc32(text) % one_in == 0)
    must(results_json(solve(read.value().survey)) == text, "the same survey gives the same bytes");
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  return mutate_survey(data, size, most, seed,
                       [](std::string_view text) { return read_survey(text).ok(); });
}
