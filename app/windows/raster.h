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

// A texture of a picture, 4 bytes a pixel; its address is what ImGui calls it.
struct RasterTexture {
  int w = 0, h = 0;
  std::vector<std::uint8_t> rgba;
};

// Draws with the font atlas of the current context, and with RasterTextures.
Picture raster(const ImDrawData&, ImVec4 background);

// False: it could not be written.
bool write_png(const Picture&, const std::string& path);

}  // namespace levelrun
