// The keys of the page Runs above its pad: the kind of the next unit; or, of the unit chosen, its
// place, front, kind and what it houses; or the run's own ends, start and worktop height.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/screens/screens.h"

namespace levelrun {

// What a tap asks of the survey; done when the page is drawn, since it replaces what is on show.
struct RunDeed {
  Json patch = Json::array();
  std::string says;
  bool undo = false;
  std::optional<Index> unit;  // chosen afterwards, or none
  bool wanted() const { return undo || !patch.empty(); }
};

struct RunKey {
  std::string label;
  bool in_use = false;
};

// Keys in rows, as many across as their words allow, from the box's top; `y` is moved below them.
// The one tapped, or -1. Not drawn, only measured, if draw is false. Targets: prefix + label.
int run_key_grid(Sheet&, Box, float& y, bool draw, const std::vector<RunKey>&,
                 const std::string& prefix);

float run_key_height(const Sheet&);

// How high the keys come; drawn and tapped only where `deed` is not null.
float run_keys(Sheet&, Box, const Session&, RunsScreen&, RunDeed* deed);

// To the run's own keys, or back to the next unit. On a phone these two keys are among the others.
void turn_run_keys(RunsScreen&, bool to_run);

extern const std::vector<std::string> unit_kind_labels;  // in the order of unit_kinds()

}  // namespace levelrun
