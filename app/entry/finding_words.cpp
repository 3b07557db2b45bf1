#include "app/entry/finding_words.h"

#include <algorithm>
#include <map>
#include <string_view>
#include <tuple>
#include <utility>

#include "app/place_words.h"
#include "app/text_number.h"

namespace levelrun {

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

std::string measured_and_limit(const Finding& f, char decimal) {
  const int decimals = f.unit == "mm" ? 1 : 2;
  const bool counted = f.unit.find(' ') != std::string::npos;
  const auto with_unit = [&](double v) {
    return shown_short(v, decimals, decimal) + (f.unit.empty() ? "" : " " + f.unit);
  };
  std::string text;
  if (f.measured) text = with_unit(*f.measured);
  if (f.limit)
    text +=
        (text.empty() ? "limit " : ", limit ") +
        (counted && f.measured ? shown_short(*f.limit, decimals, decimal) : with_unit(*f.limit));
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
