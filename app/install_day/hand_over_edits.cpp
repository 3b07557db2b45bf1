#include "app/install_day/hand_over_edits.h"

#include <set>

#include "app/entry/set_patch.h"
#include "app/sign_off_seal.h"
#include "app/snag_words.h"

namespace levelrun {
namespace {

Json add_to(const Json& document, const std::string& list, Json entry) {
  if (!value_at(document, list)) return set_patch(document, list, Json::array({std::move(entry)}));
  return Json::array({{{"op", "add"}, {"path", list + "/-"}, {"value", std::move(entry)}}});
}

}  // namespace

Json snag_patch(const Json& document, const std::string& text, const std::string& room,
                const std::string& at, const std::string& by) {
  std::set<std::string> taken;
  if (const Json* snags = value_at(document, "/install/snags"))
    for (std::size_t i = 0; i < snags->size(); ++i)
      if (const Json* id = value_at(document, "/install/snags/" + std::to_string(i) + "/id");
          id && id->is_string())
        taken.insert(id->get<std::string>());
  std::string id;
  for (int n = 1; id.empty() || taken.contains(id); ++n) id = "N" + std::to_string(n);
  Json entry = {{"id", id}, {"text", text}, {"at", at}, {"by", by}};
  if (!room.empty()) entry["room"] = room;
  return add_to(document, "/install/snags", std::move(entry));
}

Json place_snag_patch(const Json& document, Index snag, const std::string& wall, double along,
                      double out) {
  return set_patch(
      document, snag_pointer(snag) + "/place",
      {{"wall", wall}, {"along", number_as_written(along)}, {"out", number_as_written(out)}});
}

Json close_snag_patch(const Json& document, Index snag, const std::string& at) {
  return set_patch(document, snag_pointer(snag) + "/closed", at.empty() ? Json() : Json(at));
}

Json sign_off_patch(const Json& document, const std::string& by, const std::string& role,
                    const std::string& at, const std::string& note) {
  Json sign_off = {{"by", by}, {"role", role}, {"at", at}, {"seal", seal_of(document)}};
  if (!note.empty()) sign_off["note"] = note;
  return set_patch(document, "/install/sign_off", sign_off);
}

Json reopen_patch(const Json& document, const std::string& why, const std::string& by,
                  const std::string& at) {
  Json entry = {{"by", by}, {"at", at}, {"why", why}};
  const Json* was = value_at(document, "/install/sign_off");
  if (!was) return Json::array();
  entry["sign_off"] = *was;
  Json patch = Json::array({{{"op", "remove"}, {"path", "/install/sign_off"}}});
  for (Json& step : add_to(document, "/install/reopened", std::move(entry)))
    patch.push_back(std::move(step));
  return patch;
}

}  // namespace levelrun
