// The fields that forms are made of, each in a line.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "app/entry/rename.h"
#include "app/entry/set_patch.h"
#include "app/screens/form.h"

namespace levelrun {

inline FormField form_field(FormField::Kind kind, std::string at, std::string caption) {
  FormField out;
  out.kind = kind;
  out.at = std::move(at);
  out.caption = std::move(caption);
  return out;
}

inline FormField form_heading(std::string text) {
  return form_field(FormField::Kind::heading, "", std::move(text));
}

inline FormField form_words(std::string at, std::string caption, std::string hint = "",
                            bool half = false) {
  FormField out = form_field(FormField::Kind::words, std::move(at), std::move(caption));
  out.unset = std::move(hint);
  out.half = half;
  return out;
}

// unset: what holds while the file does not say; empty: the file must say it.
inline FormField form_number(std::string at, std::string caption, std::string unset = "") {
  FormField out = form_field(FormField::Kind::number, std::move(at), std::move(caption));
  out.unset = std::move(unset);
  return out;
}

// Members of one object that the file takes only all together: "height" and "thickness", say.
// apart: they make up the object and go with it; else it holds other members too. also: members
// of that kind which have a field elsewhere in the form.
inline void form_numbers(std::vector<FormField>& out, const std::string& object,
                         const std::vector<std::pair<std::string, std::string>>& members,
                         bool apart = true, const std::vector<std::string>& also = {}) {
  std::vector<std::string> together;
  for (const std::string& name : also) together.push_back(object + "/" + name);
  for (const auto& member : members) together.push_back(object + "/" + member.first);
  for (std::size_t i = 0; i < members.size(); ++i) {
    out.push_back(form_number(object + "/" + members[i].first, members[i].second, "none"));
    out.back().together = together;
    if (apart) out.back().object = object;
  }
}

// unset: the value that holds while the file does not say; empty: the first.
inline FormField form_choice(std::string at, std::string caption, std::vector<std::string> choices,
                             std::vector<Json> values, std::string unset = "") {
  FormField out = form_field(FormField::Kind::choice, std::move(at), std::move(caption));
  out.choices = std::move(choices);
  out.values = std::move(values);
  out.unset = std::move(unset);
  return out;
}

// half: shares its line with the next.
inline FormField form_key(std::string caption, Json patch, std::string says, bool half = false) {
  FormField out = form_field(FormField::Kind::key, "", std::move(caption));
  out.patch = std::move(patch);
  out.says = std::move(says);
  out.half = half;
  return out;
}

// Ids are words that other things refer to, so all of them change at once.
inline FormField form_name(const Session& session, const std::string& at, std::string caption) {
  FormField out = form_words(at + "/id", std::move(caption));
  out.edit = [&session, at](const Json& id) {
    return rename_patch(session.document(), at, id.is_string() ? id.get<std::string>() : "");
  };
  return out;
}

// Appends to a list, which is made where it is missing.
inline Json add_to_list(const Json& document, const std::string& list, Json value) {
  if (value_at(document, list))
    return Json::array({{{"op", "add"}, {"path", list + "/-"}, {"value", std::move(value)}}});
  return set_patch(document, list, Json::array({std::move(value)}));
}

}  // namespace levelrun
