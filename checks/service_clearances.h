// Do sockets, switches, pipes and boxes keep the published distances from sink, hob and worktop,
// and can they still be reached once the units stand?
//
// Cautions, never approvals: an entry that is within says nothing but that this figure is kept.
// One that is outside or doubtful is a query, a safety one where it concerns mains or gas. Limits
// and their sources: assets/published; the maker's figure and the local code come first.
//
//   to sink, to hob  sideways from the plate's edge to the unit that houses it (in plan from
//                    another wall). Sink and hob lie somewhere in their unit, so this is the
//                    least it can be. Plates behind a unit or high above the worktop, where a
//                    hood's outlet sits, are left out; each plate against the nearest of them.
//   above worktop    socket's underside; its middle where its height is not given
//   cooker switch    nearest reachable switch or outlet to each hob, oven or cooker, at most
//   new dwellings    sockets and switches above the finished floor, none over a worktop
//   gas to cable     between gas pipe and plate on the same wall; the cable itself is not surveyed
//   sink's waste     nearest waste pipe's diameter against the least bore
//   out of reach     boiler, consumer unit, meter or stopcock behind a unit; a plug behind an
//                    appliance
// Round the hob: hob_clearances.h. A service to be moved or capped is left out, for its new place
// is not recorded; so is what needs a height that is not known.
#pragma once

#include <vector>

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

Clearances service_clearances(const RoomFacts&, const std::vector<GroupResult>&);

}  // namespace levelrun
