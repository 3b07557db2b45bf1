// The sizes that every screen must come out well at, dp.
#pragma once

namespace levelrun {

struct ScreenSize {
  const char* name;
  float w, h;
};

inline constexpr ScreenSize screen_sizes[] = {{"phone", 390, 844},
                                              {"phone-wide", 844, 390},
                                              {"tablet", 800, 1280},
                                              {"tablet-wide", 1280, 800},
                                              {"desk", 1920, 1080}};

}  // namespace levelrun
