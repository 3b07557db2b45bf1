// What is read on the install day, in the order the fitter takes it. Booked and asked like the
// surveyor's readings (app/entry/asks.h); the numbers go into the file's `install`.
#pragma once

#include <string>
#include <vector>

#include "app/entry/asks.h"
#include "checks/install_results.h"

namespace levelrun {

// The day's own level: benchmark first, then points of the survey that can still be read. Only
// marks and points on the floor that no layer will be or was laid over keep their height; others
// are not asked for.
std::vector<Ask> day_level_asks(const Survey&, Index room);

// The floor as it was laid: its thickness over the bare floor in front of each run, near both
// ends, checked against the plan; with a set-up of the day, by staff instead.
std::vector<Ask> laid_floor_asks(const Survey&, Index room, bool by_staff);

// Staff readings on the tops of set cabinets, front corners and back ones, unit by unit. A cabinet
// whose legs were turned since it was read is asked for again; what was read before stays.
std::vector<Ask> cabinet_asks(const Survey&, Index room);

// RFC 6902: the legs are turned as advised, which makes the readings of the unit old: each gets
// `turned`, the time of it.
Json turned_patch(const Json& document, const Survey&, Index room, const UnitLevelResult&,
                  const std::string& at, const std::string& by);
// Legs of the unit were turned since it was read.
bool to_be_read_again(const Survey&, Index room, const std::string& unit);

// RFC 6902: a set-up for the day.
Json day_setup_patch(const Json& document, const Survey&);

}  // namespace levelrun
