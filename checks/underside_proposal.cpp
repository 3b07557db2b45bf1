#include "checks/underside_proposal.h"

#include <algorithm>
#include <cmath>

#include "checks/datum.h"
#include "checks/plinth_cuts.h"
#include "checks/words.h"

namespace levelrun {
namespace {

double tenth(double mm) { return std::round(mm * 10) / 10; }  // as a released U is written down

// U free of where it was set.
LevelGroupFacts unset(const LevelGroupFacts& group) {
  LevelGroupFacts out = group;
  out.bounds.clear();
  for (const GroupBound& b : group.bounds)
    if (b.bound.kind != BoundKind::set) out.bounds.push_back(b);
  return out;
}

struct At {  // what U means for legs and plinths
  int legs = 0, legs_outside = 0;
  int pieces = 0, cut = 0, too_short = 0;
};
At at_underside(const RoomFacts& f, const std::string& group, double underside) {
  At out;
  for (const LegPlace& leg : f.legs) {
    if (f.room.runs[leg.run].level_group != group) continue;
    ++out.legs;
    if (const auto bearing = leg.bearing())
      out.legs_outside += between({underside + leg.placed->offset - bearing->value, bearing->sd},
                                  leg.type->min, leg.type->max) != Verdict::within;
  }
  for (const PlinthPiece& piece : f.plinths) {
    const Run& run = f.room.runs[piece.run];
    if (run.level_group != group || piece.floor.empty()) continue;
    const Plinth& plinth = run.furniture.plinth;
    const PlinthResult cut =
        cut_piece(piece, plinth, underside + f.runs[piece.run]->frame.offset, plinth.height);
    ++out.pieces;
    out.cut += cut.top != TopCut::none || cut.bottom != BottomCut::none;
    out.too_short += cut.verdict != Verdict::within;
  }
  return out;
}

const LevelGroupFacts* find(const std::vector<LevelGroupFacts>& groups, const std::string& id) {
  for (const LevelGroupFacts& g : groups)
    if (g.id == id) return &g;
  return nullptr;
}

}  // namespace

std::vector<UndersideProposal> underside_proposals(const Survey& as_planned, const RoomFacts& today,
                                                   const std::vector<GroupResult>& groups) {
  std::vector<UndersideProposal> out;
  const Room& room = as_planned.rooms[today.index];
  const std::vector<LegPlace> legs = leg_places(room, today.runs, today.floor);
  const std::vector<PlinthPiece> plinths =
      plinth_pieces(as_planned, today.index, today.plan, today.runs, today.floor);
  const RoomFacts planned{as_planned,  today.index, room, today.plan, today.levels,
                          today.floor, today.runs,  legs, plinths};
  const std::vector<LevelGroupFacts> before = level_group_facts(planned);
  const std::vector<LevelGroupFacts> after = level_group_facts(today);
  const Furniture& furniture = as_planned.furniture;
  const double over = furniture.base_height + furniture.worktop.thickness;

  for (const GroupResult& result : groups) {
    const LevelGroupFacts* was = find(before, result.id);
    const LevelGroupFacts* is = find(after, result.id);
    if (!was || !is || !is->asked || !is->asked->underside_set) continue;
    if (!was->floor_at || !is->floor_at) continue;
    const LevelGroup::SetUnderside& set = *is->asked->underside_set;
    const double released = set.released.value_or(set.value);
    const double risen = is->floor_at->value - was->floor_at->value;

    UndersideProposal p;
    p.room = room.id;
    p.group = result.id;
    p.now = set.value;
    p.proposed = tenth(released + risen);
    p.sum = decimal(released) + (risen < 0 ? " − " : " + ") + decimal(std::abs(risen)) + " = " +
            decimal(p.proposed);
    const LevelGroupFacts free = unset(*is);
    const Interval hard = hard_interval(free);
    const auto keep_to = [&](const GroupBound& bound) {
      // Rounded to the side that still fits.
      p.proposed = bound.bound.lower ? std::ceil(bound.bound.applied * 10 - 1e-6) / 10
                                     : std::floor(bound.bound.applied * 10 + 1e-6) / 10;
      p.limited_by = phrase(bound.bound);
      p.sum += "; " + p.limited_by + " keeps it to " + decimal(p.proposed);
    };
    if (!hard.feasible()) {
      p.proposed = tenth((hard.lower->bound.applied + hard.upper->bound.applied) / 2);
      p.limited_by = phrase(hard.lower->bound) + " against " + phrase(hard.upper->bound);
      p.sum += "; " + p.limited_by + ": least bad at " + decimal(p.proposed);
    } else if (hard.lower && p.proposed < hard.lower->bound.applied) {
      keep_to(*hard.lower);
    } else if (hard.upper && p.proposed > hard.upper->bound.applied) {
      keep_to(*hard.upper);
    }
    if (std::abs(p.proposed - p.now) < worth_moving) continue;

    p.worktop_released = released + over - was->floor_at->value;
    p.worktop_now = p.now + over - is->floor_at->value;
    p.worktop_then = p.proposed + over - is->floor_at->value;
    const At now = at_underside(today, result.id, p.now);
    const At then = at_underside(today, result.id, p.proposed);
    p.legs = now.legs;
    p.legs_outside_now = now.legs_outside;
    p.legs_outside_then = then.legs_outside;
    p.pieces = now.pieces;
    p.pieces_cut_now = now.cut;
    p.pieces_cut_then = then.cut;
    p.pieces_short_now = now.too_short;
    p.pieces_short_then = then.too_short;
    out.push_back(std::move(p));
  }
  return out;
}

}  // namespace levelrun
