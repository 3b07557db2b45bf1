// Files of assets/ that are compiled into the program.
#pragma once

#include <span>
#include <string_view>

namespace levelrun {

struct EmbeddedFile { std::string_view name, text; };

// assets/tolerances/*.json; name is the file's without its ending.
std::span<const EmbeddedFile> embedded_tolerance_tables();
// assets/published/*.json
std::span<const EmbeddedFile> embedded_published_limits();

}  // namespace levelrun
