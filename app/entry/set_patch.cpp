#include "app/entry/set_patch.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>

namespace levelrun {
namespace {

std::string unescaped(std::string part) {
  for (std::size_t i = 0; (i = part.find('~', i)) != part.npos; ++i)
    part.replace(i, 2, i + 1 < part.size() && part[i + 1] == '1' ? "/" : "~");
  return part;
}

const Json* child(const Json& value, const std::string& part) {
  if (value.is_object()) {
    const auto found = value.find(unescaped(part));
    return found == value.end() ? nullptr : &*found;
  }
  if (!value.is_array()) return nullptr;
  std::size_t index = 0;
  const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), index);
  if (error != std::errc() || end != part.data() + part.size() || index >= value.size())
    return nullptr;
  return &value[index];
}

}  // namespace

const Json* value_at(const Json& document, const std::string& at) {
  const Json* value = &document;
  for (std::size_t i = 0; value && i < at.size();) {
    const std::size_t end = std::min(at.find('/', i + 1), at.size());
    value = child(*value, at.substr(i + 1, end - i - 1));
    i = end;
  }
  return value;
}

Json number_as_written(double value) {
  if (std::abs(value) < 1e9 && value == std::floor(value)) return Json(std::int64_t(value));
  return Json(value);
}

Json set_patch(const Json& document, const std::string& at, const Json& value) {
  Json patch = Json::array();
  const bool there = value_at(document, at) != nullptr;
  if (value.is_null()) {
    if (there) patch.push_back({{"op", "remove"}, {"path", at}});
    return patch;
  }
  if (there) {
    patch.push_back({{"op", "replace"}, {"path", at}, {"value", value}});
    return patch;
  }
  for (std::size_t i = at.find('/', 1); i != at.npos; i = at.find('/', i + 1))
    if (!value_at(document, at.substr(0, i)))
      patch.push_back({{"op", "add"}, {"path", at.substr(0, i)}, {"value", Json::object()}});
  patch.push_back({{"op", "add"}, {"path", at}, {"value", value}});
  return patch;
}

}  // namespace levelrun
