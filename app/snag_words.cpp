#include "app/snag_words.h"

#include "app/place_words.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

std::string text_of(const Json& object, const char* key) {
  const auto found = object.find(key);
  return found != object.end() && found->is_string() ? found->get<std::string>() : "";
}

std::string number_of(const Json& object, const char* key, char decimal) {
  const auto found = object.find(key);
  return found != object.end() && found->is_number() ? shown(found->get<double>(), 0, decimal)
                                                     : "?";
}

}  // namespace

std::string snag_place_words(const Json& document, const Survey& survey, Index snag) {
  const Json::json_pointer at(snag_pointer(snag));
  if (!document.contains(at)) return "";
  const Json& facts = document.at(at);
  std::string words;
  if (survey.rooms.size() > 1) words = room_words(survey, text_of(facts, "room"));
  const auto place = facts.find("place");
  if (place == facts.end() || !place->is_object()) return words;
  if (!words.empty()) words += ", ";
  const char decimal = survey.job.decimal;
  if (const std::string wall = text_of(*place, "wall"); !wall.empty())
    return words + wall + ", " + number_of(*place, "along", decimal) + " from its left end";
  return words + "x " + number_of(*place, "x", decimal) + ", y " + number_of(*place, "y", decimal);
}

std::string snag_pointer(Index snag) { return "/install/snags/" + std::to_string(snag); }

bool shows_snag(const Photo& photo, Index snag, const std::string& id) {
  return photo.at == snag_pointer(snag) || photo.note == "snag " + id;
}

}  // namespace levelrun
