// Surveys with errors made up, solved: a line of results each. Compiled for the desk and for the
// page, both must print the same numbers.
//   simulated_rooms SAMPLES HOW_MANY
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "checks/results_json.h"
#include "checks/solve.h"
#include "survey/file_layer.h"
#include "survey/parse_json.h"
#include "survey/survey_file.h"
#include "tests/simulate/random.h"

using namespace levelrun;

namespace {

constexpr double error_mm = 2;  // either way, evenly: no logarithm that libraries round differently
constexpr double slip_mm = 100;  // a digit misread, in one reading of every third survey

bool is_reading(const std::string& name) {
  return name == "length" || name == "offset" || name == "reading";
}

// Every reading in the document, in its order.
void readings(Json& json, std::vector<Json*>& out) {
  if (json.is_object() || json.is_array())
    for (auto item = json.begin(); item != json.end(); ++item) {
      if (json.is_object() && is_reading(item.key()) && item->is_number())
        out.push_back(&*item);
      else
        readings(*item, out);
    }
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) return 2;
  const std::string folder = words[1];
  DiskFiles files;
  std::vector<std::string> names;
  if (files.list(folder, names)) return 2;
  std::sort(names.begin(), names.end());
  std::erase_if(names, [](const std::string& n) { return !n.ends_with(".levelrun.json"); });
  if (names.empty()) return 2;
  const int surveys = std::atoi(words[2]);
  for (int i = 0; i < surveys; ++i) {
    const std::string& name = names[std::size_t(i) % names.size()];
    std::string text;
    if (files.read(folder + "/" + name, most_text, text)) return 2;
    Json document = Json::parse(text, nullptr, false);
    Random random(std::uint64_t(i) + 1);
    std::vector<Json*> all;
    readings(document, all);
    for (Json* one : all) *one = one->get<double>() + random.uniform(-error_mm, error_mm);
    if (i % 3 == 0 && !all.empty()) {
      Json* one = all[random.below(all.size())];
      *one = one->get<double>() + slip_mm;
    }
    const auto read = read_survey(write_survey(document));
    const std::string line =
        read.ok() ? results_json(solve(read.value().survey)) : "\"" + name + " refused\"";
    for (const char c : line)
      if (c != '\n') std::putchar(c);
    std::putchar('\n');
  }
}
