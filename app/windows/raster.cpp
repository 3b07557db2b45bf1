#include "app/windows/raster.h"

#include <stb/stb_image_write.h>

#include <algorithm>
#include <cmath>
#include <fstream>

namespace levelrun {
namespace {

struct Rgba {
  float c[4];
};

// Either the font atlas, white under its alpha, or a picture.
struct Texels {
  const unsigned char* alpha = nullptr;
  const std::uint8_t* rgba = nullptr;
  int w = 0, h = 0;

  // Bilinear, as graphics cards do.
  Rgba at(float u, float v) const {
    const float x = std::clamp(u * float(w) - 0.5f, 0.f, float(w - 1));
    const float y = std::clamp(v * float(h) - 0.5f, 0.f, float(h - 1));
    const int x0 = int(x), y0 = int(y), x1 = std::min(x0 + 1, w - 1), y1 = std::min(y0 + 1, h - 1);
    const float fx = x - float(x0), fy = y - float(y0);
    const auto between = [&](const unsigned char* from, int step) {
      const auto texel = [&](int i, int j) { return float(from[(j * w + i) * step]) / 255; };
      return (texel(x0, y0) * (1 - fx) + texel(x1, y0) * fx) * (1 - fy) +
             (texel(x0, y1) * (1 - fx) + texel(x1, y1) * fx) * fy;
    };
    if (!rgba) return {{1, 1, 1, between(alpha, 1)}};
    Rgba out;
    for (int k = 0; k < 4; ++k) out.c[k] = between(rgba + k, 4);
    return out;
  }
};

struct Corner {
  float x, y, u, v, c[4];
};

struct Clip {
  int x0, y0, x1, y1;
};

void triangle(Picture& p, const Texels& texels, const Clip& clip, const Corner (&t)[3]) {
  const float area = (t[1].x - t[0].x) * (t[2].y - t[0].y) - (t[2].x - t[0].x) * (t[1].y - t[0].y);
  if (area == 0) return;
  const auto [left, right] = std::minmax({t[0].x, t[1].x, t[2].x});
  const auto [top, bottom] = std::minmax({t[0].y, t[1].y, t[2].y});
  const int x0 = std::max(clip.x0, int(std::floor(left))),
            x1 = std::min(clip.x1, int(std::ceil(right)));
  const int y0 = std::max(clip.y0, int(std::floor(top))),
            y1 = std::min(clip.y1, int(std::ceil(bottom)));
  // A pixel on a shared edge belongs to one triangle only: the top-left rule.
  const auto edge = [&](int i, int k, float x, float y) {
    return (t[k].x - t[i].x) * (y - t[i].y) - (t[k].y - t[i].y) * (x - t[i].x);
  };
  const float sign = area > 0 ? 1.f : -1.f;
  const auto owns = [&](int i, int k) {
    const float dx = (t[k].x - t[i].x) * sign, dy = (t[k].y - t[i].y) * sign;
    return dy < 0 || (dy == 0 && dx > 0);
  };
  const bool own[3] = {owns(1, 2), owns(2, 0), owns(0, 1)};
  for (int y = y0; y < y1; ++y)
    for (int x = x0; x < x1; ++x) {
      const float px = float(x) + 0.5f, py = float(y) + 0.5f;
      const float w[3] = {edge(1, 2, px, py) * sign, edge(2, 0, px, py) * sign,
                          edge(0, 1, px, py) * sign};
      bool in = true;
      for (int i = 0; i < 3; ++i) in = in && (w[i] > 0 || (w[i] == 0 && own[i]));
      if (!in) continue;
      const float whole = std::abs(area);
      float u = 0, v = 0, c[4] = {};
      for (int i = 0; i < 3; ++i) {
        const float share = w[i] / whole;
        u += t[i].u * share;
        v += t[i].v * share;
        for (int k = 0; k < 4; ++k) c[k] += t[i].c[k] * share;
      }
      const Rgba texel = texels.at(u, v);
      const float alpha = c[3] * texel.c[3];
      std::uint8_t* pixel = &p.rgb[std::size_t(3 * (y * p.w + x))];
      for (int k = 0; k < 3; ++k)
        pixel[k] = std::uint8_t(
            std::lround(c[k] * texel.c[k] * 255 * alpha + float(pixel[k]) * (1 - alpha)));
    }
}

}  // namespace

Picture raster(const ImDrawData& data, ImVec4 background) {
  Picture p;
  const ImVec2 k = data.FramebufferScale;
  p.w = int(data.DisplaySize.x * k.x);
  p.h = int(data.DisplaySize.y * k.y);
  for (int i = 0; i < p.w * p.h; ++i)
    for (const float c : {background.x, background.y, background.z})
      p.rgb.push_back(std::uint8_t(std::lround(c * 255)));
  Texels atlas;
  unsigned char* letters = nullptr;
  ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&letters, &atlas.w, &atlas.h);
  atlas.alpha = letters;
  for (const ImDrawList* list : data.CmdLists)
    for (const ImDrawCmd& command : list->CmdBuffer) {
      const Clip clip{std::max(0, int(command.ClipRect.x * k.x)),
                      std::max(0, int(command.ClipRect.y * k.y)),
                      std::min(p.w, int(std::ceil(command.ClipRect.z * k.x))),
                      std::min(p.h, int(std::ceil(command.ClipRect.w * k.y)))};
      const auto* picture = static_cast<const RasterTexture*>(command.GetTexID());
      const Texels texels =
          picture ? Texels{nullptr, picture->rgba.data(), picture->w, picture->h} : atlas;
      for (unsigned i = 0; i + 2 < command.ElemCount; i += 3) {
        Corner t[3];
        for (unsigned n = 0; n < 3; ++n) {
          const ImDrawVert& vertex = list->VtxBuffer[int(
              command.VtxOffset + list->IdxBuffer[int(command.IdxOffset + i + n)])];
          const ImVec4 c = ImGui::ColorConvertU32ToFloat4(vertex.col);
          t[n] = {vertex.pos.x * k.x,
                  vertex.pos.y * k.y,
                  vertex.uv.x,
                  vertex.uv.y,
                  {c.x, c.y, c.z, c.w}};
        }
        triangle(p, texels, clip, t);
      }
    }
  return p;
}

bool write_png(const Picture& p, const std::string& path) {
  std::ofstream file(path, std::ios::binary);
  const auto write = [](void* to, void* data, int size) {
    static_cast<std::ofstream*>(to)->write(static_cast<const char*>(data), size);
  };
  return stbi_write_png_to_func(write, &file, p.w, p.h, 3, p.rgb.data(), 3 * p.w) != 0 &&
         file.flush().good();
}

}  // namespace levelrun
