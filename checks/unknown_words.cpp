#include "checks/unknown_words.h"

#include <array>
#include <string>
#include <string_view>
#include <unordered_map>

#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

std::vector<Finding> units_left_out(const Survey& survey) {
  std::unordered_map<std::string_view, const UnknownWord*> word_at;
  for (const UnknownWord& unknown : survey.unknown_words) word_at.emplace(unknown.at, &unknown);
  std::vector<Finding> out;
  for (Index r = 0; r < survey.rooms.size(); ++r)
    for (Index i = 0; i < survey.rooms[r].runs.size(); ++i) {
      const Run& run = survey.rooms[r].runs[i];
      for (Index u = 0; u < run.units.size(); ++u) {
        if (run.units[u].kind != UnitKind::unknown) continue;
        Finding f;
        f.code = unit_left_out;
        f.severity = Severity::hold;
        f.room = survey.rooms[r].id;
        f.id = slug(f.code) + "/" + f.room + "/" + run.units[u].id;
        f.at = pointer(r, "runs", i) + "/units/" + std::to_string(u);
        const auto found = word_at.find(f.at + "/kind");
        f.says = run.units[u].id + " left out: its kind " +
                 (found == word_at.end() ? "" : "“" + found->second->word + "” ") +
                 "is not known. It has no legs and no place in the order of setting.";
        f.remedy =
            "Write its kind" + (found == word_at.end() ? "" : ", " + found->second->expected) + ".";
        out.push_back(std::move(f));
      }
    }
  return out;
}

// ---- The day of survey --------------------------------------------------------------------------

bool digits(std::string_view text, std::size_t least, std::size_t most) {
  return text.size() >= least && text.size() <= most &&
         text.find_first_not_of("0123456789") == text.npos;
}

int number(std::string_view digits_of_it) {
  int value = 0;
  for (const char c : digits_of_it) value = 10 * value + (c - '0');
  return value;
}

bool may_be(int month, int day) { return month >= 1 && month <= 12 && day >= 1 && day <= 31; }

bool sorts(std::string_view day) {
  if (day.size() > 10 && day[10] != 'T' && day[10] != 't' && day[10] != ' ') return false;
  return day.size() >= 10 && digits(day.substr(0, 4), 4, 4) && day[4] == '-' &&
         digits(day.substr(5, 2), 2, 2) && day[7] == '-' && digits(day.substr(8, 2), 2, 2) &&
         may_be(number(day.substr(5, 2)), number(day.substr(8, 2)));
}

std::string iso(std::string_view year, int month, int day) {
  const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
  return std::string(year) + "-" + two(month) + "-" + two(day);
}

// The days that "25/11/2026", "5.11.2026" or "2026/11/25" may mean: day first, then month first.
std::array<std::string, 2> days_meant(std::string_view written) {
  std::array<std::string_view, 3> part;
  for (std::size_t i = 0; i < part.size(); ++i) {
    const std::size_t end = i < 2 ? written.find_first_of("/.- ") : written.size();
    if (end == written.npos) return {};
    part[i] = written.substr(0, end);
    written.remove_prefix(i < 2 ? end + 1 : end);
  }
  const bool year_first = digits(part[0], 4, 4);
  if (!digits(part[1], 1, 2) || !digits(part[year_first ? 2 : 0], 1, 2) ||
      !digits(part[year_first ? 0 : 2], 4, 4))
    return {};
  const int first = number(part[year_first ? 2 : 0]), second = number(part[1]);
  const std::string_view year = part[year_first ? 0 : 2];
  std::array<std::string, 2> out;
  if (may_be(second, first)) out[0] = iso(year, second, first);
  if (!year_first && first != second && may_be(first, second)) out[1] = iso(year, first, second);
  return out;
}

std::vector<Finding> day_not_understood(const Job& job) {
  if (job.surveyed_on.empty() || sorts(job.surveyed_on)) return {};
  const auto [day_first, month_first] = days_meant(job.surveyed_on);
  Finding f;
  f.code = "day of survey not understood";
  f.severity = Severity::query;
  f.id = slug(f.code);
  f.at = "/job/surveyed_on";
  f.says = "“" + job.surveyed_on + "” is no day that jobs can be sorted by.";
  f.remedy = "Write " + (day_first.empty() ? month_first : day_first) +
             (day_first.empty() || month_first.empty() ? "" : ", or " + month_first) + ".";
  if (day_first.empty() && month_first.empty())
    f.remedy = "Write year, month and day, as 2026-11-25.";
  return {std::move(f)};
}

}  // namespace

std::vector<Finding> unknown_words(const Survey& survey) {
  std::vector<Finding> out = units_left_out(survey);
  for (const UnknownWord& unknown : survey.unknown_words) {
    Finding f;
    f.code = "word not known";
    f.severity = Severity::query;
    f.id = slug(f.code) + unknown.at;
    f.at = unknown.at;
    for (Index r = 0; r < survey.rooms.size(); ++r)
      if (f.at.starts_with(pointer(r) + "/")) f.room = survey.rooms[r].id;
    f.says = "“" + unknown.word + "” is not a word this version knows; expected " +
             unknown.expected + ".";
    f.remedy = "Use one of those words, or a version that knows it.";
    out.push_back(std::move(f));
  }
  for (Finding& f : day_not_understood(survey.job)) out.push_back(std::move(f));
  return out;
}

}  // namespace levelrun
