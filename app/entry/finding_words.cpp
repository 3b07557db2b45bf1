#include "app/entry/finding_words.h"

#include <algorithm>
#include <map>
#include <string_view>
#include <tuple>
#include <utility>

#include "app/place_words.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

bool about_a_void(const Finding& f) { return f.code.find("void") != f.code.npos; }

}  // namespace

FindingSection section_of(const Finding& f) {
  if (f.answered) return FindingSection::answered;
  if (f.safety && f.severity == Severity::note) return FindingSection::cautions;
  return f.severity == Severity::hold    ? FindingSection::holds
         : f.severity == Severity::query ? FindingSection::queries
                                         : FindingSection::notes;
}

std::vector<PlacedFinding> in_reading_order(const Json& document, const Survey& survey,
                                            const Results& results) {
  std::map<std::string, std::size_t> room_order;
  std::map<std::string, std::size_t> place_order;
  for (const RoomResult& room : results.rooms) room_order.emplace(room.id, room_order.size() + 1);
  std::vector<PlacedFinding> order;
  for (const Finding& f : results.findings) {
    PlacedFinding placed{&f, {}, {}};
    const std::string room = room_words(survey, f.room);
    const std::string words = place_words(document, f.at);
    const std::size_t comma = words.starts_with('/') ? std::string::npos : words.find(", ");
    placed.place = words.substr(0, comma);
    if (comma != std::string::npos) placed.part = words.substr(comma + 2);
    // The only room goes without saying.
    if (placed.place.empty())
      placed.place = room.empty() ? "the survey" : room;
    else if (!room.empty() && results.rooms.size() > 1)
      placed.place = room + ", " + placed.place;
    place_order.emplace(f.room + "\n" + placed.place, place_order.size());
    order.push_back(std::move(placed));
  }
  const auto key = [&](const PlacedFinding& p) {
    const auto room = room_order.find(p.finding->room);
    return std::tuple(section_of(*p.finding), room == room_order.end() ? 0 : room->second,
                      place_order.at(p.finding->room + "\n" + p.place));
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](const PlacedFinding& a, const PlacedFinding& b) { return key(a) < key(b); });
  return order;
}

std::string matter(const PlacedFinding& placed) {
  const Finding& f = *placed.finding;
  const std::string says = f.says.empty() ? f.code : f.says;
  const std::string name = placed.part.substr(placed.part.rfind(' ') + 1);
  const bool named = placed.part.empty() || (name.size() > 1 && says.find(name) != says.npos);
  return sentence((named ? "" : placed.part + ": ") + says);
}

std::string figures_in_words(const Finding& f, const std::string& measured,
                             const std::string& limit) {
  if (measured.empty()) return limit.empty() ? "" : "limit " + limit;
  const auto some = [&](const char* one, const char* many, const char* said) {
    return measured + " " + (f.measured == 1.0 ? one : many) + said;
  };
  if (f.code == "still to measure") return some("reading", "readings", " still missing");
  if (f.code == "points without a reading") return some("point", "points", " not read yet");
  if (f.code == "no leg type named") return "no leg type named";
  if (f.unit == "points shared") return "no point shared, one is needed";
  if (f.unit == "points") return some("point", "points", limit.empty() ? "" : ", needs ") + limit;
  if (f.unit == "readings") return some("reading", "readings", " only");
  if (limit.empty()) return measured;
  if (about_a_void(f)) return "void " + measured + ", needs " + limit + " at least";
  if (f.code == "staff reading does not agree" || f.code == "point does not agree with the survey")
    return "reads " + measured + ", the others say " + limit;
  if (f.code == "worktop above finished floor" || f.code == "asked height not kept")
    return measured + ", asked " + limit;
  if (f.code == "plinth top edge cut") return measured + " of a board of " + limit;
  // What holds is surely beyond its limit: above it has to be less, below it more. What is asked
  // may be on either side, too near to tell.
  const bool sure = f.severity == Severity::hold;
  const bool least = f.measured && f.limit && *f.measured < *f.limit;
  const bool times = f.unit == "sigma-nought" || (f.unit.empty() && f.code.ends_with("not close"));
  const bool off =
      !times && (f.code == "wall lengths do not close" || f.code == "corner not as noted");
  return measured +
         (times ? " times their sd"
          : off ? " off"
                : "") +
         (!sure   ? ", limit "
          : least ? ", at least "
                  : ", at most ") +
         limit;
}

std::string measured_and_limit(const Finding& f, char decimal) {
  const int decimals = f.unit == "mm" ? 1 : 2;
  const bool counted = f.unit.find(' ') != std::string::npos || f.unit == "measurements" ||
                       f.unit == "points" || f.unit == "readings" || f.unit == "sigma-nought";
  const auto figure = [&](Unknown v) {
    return v ? shown_short(*v, decimals, decimal) + (f.unit.empty() || counted ? "" : " " + f.unit)
             : std::string();
  };
  const bool other_way = about_a_void(f);
  std::string text = figures_in_words(f, figure(other_way ? f.limit : f.measured),
                                      figure(other_way ? f.measured : f.limit));
  if (!f.source.empty()) text += (text.empty() ? "(" : " (") + f.source + ")";
  return text;
}

std::string count_of(int n, const std::string& one) {
  return (n == 0 ? "no" : std::to_string(n)) + " " + one + (n == 1 ? "" : "s");
}

std::string count_of_queries(int n) {
  return n == 1 ? "1 query" : (n == 0 ? "no" : std::to_string(n)) + " queries";
}

std::string sentence(std::string text) {
  if (!text.empty() && std::string_view(".!?").find(text.back()) == std::string_view::npos)
    text += '.';
  return text;
}

std::string first_sentence(const std::string& text) {
  const std::size_t end = text.find(". ");
  return end == std::string::npos ? text : text.substr(0, end + 1);
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = char(text[0] - 'a' + 'A');
  return text;
}

}  // namespace levelrun
