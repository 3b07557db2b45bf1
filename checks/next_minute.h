// Which one measurement helps most now, and when is it time to stop?
//
// Plan: what its check asks for (a missing length, the diagonal that checks what nothing checks,
// the reading that tells likely slips apart), first, for a wrong wall costs more than a leg.
// Floor: a staff reading at a leg, or the benchmark once more, from the set-up that stands last.
// What it would do to a leg's variance does not depend on what it reads (floor_surface.h):
//   reduction = cov(leg, reading)² / (var(reading) + noise²).
// The one that leaves the least mean variance of all legs comes first; the next is sought as if it
// had been taken, and so on. Parameters of the surface are held at their likeliest.
// Beyond 200 readings in a floor area, or without set-ups tied to the benchmark, none is sought.
//
// It beats readings at random places in simulated rooms: tests/README.md.
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

// missing: how much completeness.h found that can be measured today; none is needed to stop.
NextMinute next_minute(const RoomFacts&, std::size_t missing);

}  // namespace levelrun
