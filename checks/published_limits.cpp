#include "checks/published_limits.h"

#include <cstdio>
#include <cstdlib>
#include <map>
#include <nlohmann/json.hpp>

#include "assets/embedded.h"

namespace levelrun {
namespace {

std::map<std::string, PublishedLimit, std::less<>> read_limits() {
  std::map<std::string, PublishedLimit, std::less<>> out;
  for (const EmbeddedFile& file : embedded_published_limits()) {
    const auto json = nlohmann::json::parse(file.text);
    for (const auto& row : json.at("limits"))
      out[row.at("id")] = {
          row.at("value"), row.at("unit"),
          std::string(row.at("source")) + " (" + std::string(row.at("confidence")) + ")"};
  }
  return out;
}

}  // namespace

const PublishedLimit& published_limit(std::string_view id) {
  static const auto limits = read_limits();
  const auto found = limits.find(id);
  if (found == limits.end()) {
    std::fprintf(stderr, "no published limit \"%.*s\"\n", int(id.size()), id.data());
    std::abort();
  }
  return found->second;
}

}  // namespace levelrun
