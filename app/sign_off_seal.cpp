#include "app/sign_off_seal.h"

#include <cstdio>

#include "survey/crc32.h"

namespace levelrun {

std::string seal_of(const Json& document) {
  nlohmann::json sorted = document;
  if (sorted.is_object())
    if (const auto install = sorted.find("install");
        install != sorted.end() && install->is_object()) {
      install->erase("sign_off");
      if (install->empty()) sorted.erase(install);
    }
  char hex[16];
  std::snprintf(hex, sizeof hex, "%08x", unsigned(crc32(sorted.dump())));
  return hex;
}

bool changed_since_signed(const Json& document) {
  const Json::json_pointer seal("/install/sign_off/seal");
  if (!document.contains(seal)) return false;
  const Json& sealed = document.at(seal);
  return sealed.is_string() && sealed.get<std::string>() != seal_of(document);
}

}  // namespace levelrun
