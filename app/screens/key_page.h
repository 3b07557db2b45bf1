// A page of keys to choose one of, under a question; Back goes where one came from.
#pragma once

#include <string>
#include <vector>

#include "app/screens/run_keys.h"

namespace levelrun {

inline constexpr int key_page_back = -2;

// The key tapped, key_page_back, or -1.
int draw_key_page(Sheet&, Box, const std::string& question, const std::vector<RunKey>&,
                  const std::string& back);

}  // namespace levelrun
