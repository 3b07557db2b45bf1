// What is cut out of a unit for a service behind it, and out of which part.
//
//   standing-off  the whole carcass stands void_depth in front of the run's line: what is deeper
//                 than the void cuts the back, or the cross-rail in the top 100 mm (common
//                 practice, no source), and the sides where it runs through them.
//   recessed      the sides go back to the run's line, the back panel stands void_depth in front
//                 of it: what runs through a side cuts it even where the void is deep enough.
//                 Wall units are recessed.
//   end panel     as a side, down to the floor.
// Infills, corner posts and appliances have no back and no sides; a unit that houses a built-in
// appliance has sides only. A cut-out is open to the back edge, for the unit is pushed on to what
// is there. It is 5 mm clear all round, and ends at the part's edges. The place is taken as
// surveyed; where that is known less well than the clearance, the finding says so. Sides are 18
// thick. Both figures: common practice, no source.
//
// Water and waste of a sink that stand wholly inside its unit cut no back: pipes end there.
#pragma once

#include <string>
#include <vector>

#include "checks/behind_units.h"

namespace levelrun {

inline constexpr double notch_clear = 5;   // mm round the service; common practice, no source
inline constexpr double cross_rail = 100;  // mm from the carcass's top; common practice, no source

// Behind it is a void that a service must fit: a carcass, or an appliance.
bool has_void(const Unit&);
// An appliance, or a unit that houses one as deep as itself.
bool built_in(const Unit&);
// Water or waste inside the unit of its sink.
bool inside_its_sink_unit(const BackedUnit&, const Unit&, const Service&, const UnitPass&);

// By unit and part, one where cut-outs overlap; in the order of the passes.
std::vector<NotchResult> unit_notches(const BehindUnits&, const Service&,
                                      const std::vector<UnitPass>&);

// "the back, 862 to 942 from its left and 305 to 395 above its underside, 26 deep"
std::string described(const NotchResult&);
// What the workshop has to know of them, for one unit: "Notch U1: …"
std::string notch_instruction(const std::vector<NotchResult>&, const std::string& unit,
                              double place_sd);

// A note for each unit that is to be notched, but for those named in `told`.
std::vector<Finding> notch_findings(const RoomFacts&, Index service, const BehindUnits&,
                                    const std::vector<UnitPass>&, const std::vector<NotchResult>&,
                                    const std::vector<std::string>& told);

}  // namespace levelrun
