// Why nobody may drill somewhere: asked by keys or in words, under the caution that no zone lifts.
#pragma once

#include <string>

#include "app/screens/form.h"

namespace levelrun {

extern const char* const no_drill_caution;

struct NoDrillWhy {
  std::string why;  // as the file has it; empty: nothing said yet
  bool back = false;
};

// typed: words being typed. where: "No drilling on W1".
NoDrillWhy draw_no_drill_why(ScreenContext&, Box, Session&, FormState&, std::string& typed,
                             const std::string& where);

}  // namespace levelrun
