// Photos for pictures of the pages, drawn here: a wall with a boxing in its corner, a socket, and
// the floor.
#pragma once

#include <cmath>
#include <tuple>

#include "app/jobs/photo_picture.h"
#include "app/jobs/photos.h"
#include "tests/screens/driven_app.h"

namespace levelrun {

inline std::string wall_photo(int w, int h) {
  PhotoPixels p{w, h, {}};
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      const double u = double(x) / w, v = double(y) / h;
      double r = 205 - 30 * u - 20 * v, g = r - 6, b = r - 18;
      if (u > 0.72) r -= 28, g -= 28, b -= 24;
      if (u > 0.7 && u < 0.72) r = g = b = 120;
      if (v > 0.86) r = 120 + 20 * std::sin(60 * u), g = 86 + 14 * std::sin(60 * u), b = 60;
      if (std::abs(u - 0.35) < 0.06 && std::abs(v - 0.6) < 0.05) r = g = b = 240;
      if (std::abs(std::abs(u - 0.35) - 0.02) < 0.006 && std::abs(v - 0.6) < 0.01) r = g = b = 60;
      for (const double part : {r, g, b}) p.rgb.push_back(std::uint8_t(std::lround(part)));
    }
  return photo_jpeg(p);
}

// Two photos of the fact at `at`, and one that is not on this machine.
inline void add_photos(DrivenApp& d, const std::string& at) {
  Session& session = *d.app.session();
  std::string why;
  for (const auto& [w, h, note] :
       {std::tuple(800, 600, "boxing in the corner, the stack behind it"),
        std::tuple(600, 800, "")}) {
    const std::string file =
        keep_photo_bytes(d.files, session.path(), "photo", wall_photo(w, h), why);
    session.apply(photo_patch(session.document(), session.room, file, at, note), "photo");
  }
  session.apply(photo_patch(session.document(), session.room, "job.photos/gone.jpg", at, ""),
                "photo");
}

}  // namespace levelrun
