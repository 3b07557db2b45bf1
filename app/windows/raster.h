// ImGui's draw data as pixels, without a graphics card: for tests and pictures of screens.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <string>
#include <vector>

namespace levelrun {

struct Picture {
  int w = 0, h = 0;
  std::vector<std::uint8_t> rgb;  // rows from the top, 3 bytes a pixel
};

// Draws with the font atlas of the current context as the only texture.
Picture raster(const ImDrawData&, ImVec4 background);

// False: it could not be written.
bool write_png(const Picture&, const std::string& path);

}  // namespace levelrun
