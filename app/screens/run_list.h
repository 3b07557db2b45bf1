// A run's numbers and its units as ruled lines, on the page Runs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/entry/run_lines.h"
#include "app/touch/sheet.h"

namespace levelrun {

// One below the other, scrolled if there is no room; on a phone without their words.
void draw_run_lines(Sheet&, Box, const std::vector<RunRow>&);
// Name, number and vial in one line.
void draw_run_line(Sheet&, Box, const RunRow&);

float unit_row_height(const Sheet&, float width);
float unit_head_height(const Sheet&, float width);  // 0: too narrow for columns

// The unit tapped; empty: none. `scroll` names the list; `reveal` is brought into sight.
std::optional<Index> draw_unit_rows(Sheet&, Box, const std::vector<UnitRow>&,
                                    const std::string& scroll, std::optional<Index> chosen,
                                    std::optional<Index> reveal);

}  // namespace levelrun
