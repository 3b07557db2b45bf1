#include "app/jobs/settings.h"

#include <algorithm>
#include <cstdlib>
#include <nlohmann/json.hpp>

namespace levelrun {
namespace {

constexpr std::size_t most_recent = 200;

std::string from_environment(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

std::string base(const char* variable, const std::string& home, const char* below) {
  const std::string given = from_environment(variable);
  return given.starts_with('/') ? given : home + below;
}

}  // namespace

Settings settings_from(std::string_view text) {
  Settings out;
  const auto j = nlohmann::json::parse(text, nullptr, false);
  if (!j.is_object()) return out;
  const auto flag = [&](const char* name) {
    const auto found = j.find(name);
    return found != j.end() && found->is_boolean() && found->get<bool>();
  };
  const auto words = [&](const char* name) {
    const auto found = j.find(name);
    return found != j.end() && found->is_string() ? found->get<std::string>() : std::string();
  };
  const std::string inks = words("inks");
  for (const InkSet set : {InkSet::paper, InkSet::dark, InkSet::sun})
    if (inks == word(set)) out.look.inks = set;
  if (const auto t = j.find("text"); t != j.end() && t->is_number())
    out.look.text = std::clamp(t->get<float>(), 1.f, 2.f);
  out.look.left_hand = flag("left_hand");
  out.look.seven_on_top = flag("seven_on_top");
  out.look.tones = !j.contains("tones") || flag("tones");
  out.author = words("author");
  out.jobs_folder = words("jobs_folder");
  if (const auto list = j.find("recent"); list != j.end() && list->is_array())
    for (const auto& path : *list)
      if (path.is_string() && out.recent.size() < most_recent) out.recent.push_back(path);
  return out;
}

std::string settings_text(const Settings& s) {
  const nlohmann::ordered_json j = {
      {"inks", word(s.look.inks)},     {"text", s.look.text},
      {"left_hand", s.look.left_hand}, {"seven_on_top", s.look.seven_on_top},
      {"tones", s.look.tones},         {"author", s.author},
      {"jobs_folder", s.jobs_folder},  {"recent", s.recent}};
  return j.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

UserFolders user_folders() {
  const std::string home = from_environment("HOME").empty() ? "." : from_environment("HOME");
  return {base("XDG_CONFIG_HOME", home, "/.config") + "/levelrun",
          base("XDG_STATE_HOME", home, "/.local/state") + "/levelrun", home + "/Levelrun jobs"};
}

}  // namespace levelrun
