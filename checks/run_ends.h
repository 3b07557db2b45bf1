// What the units at a run's ends are: which of them only fill, where they open, how high they
// stand.
#pragma once

#include "checks/placing.h"

namespace levelrun {

// Infills, corner posts and spaces: cut or left to suit, with nothing that opens.
inline bool is_filler(const Unit& unit) {
  return unit.kind == UnitKind::infill || unit.kind == UnitKind::corner_post ||
         unit.kind == UnitKind::space;
}

// The unit nearest an end that is no filler; the far end's own unit if all are.
inline Index end_unit(const Run& run, bool right) {
  const Index last = run.units.size() - 1;
  for (Index i = 0; i < last; ++i)
    if (const Index at = right ? last - i : i; !is_filler(run.units[at])) return at;
  return right ? 0 : last;
}

inline bool hinged_at(const Unit& unit, bool right) {
  return unit.hinge && *unit.hinge == (right ? Hinge::right : Hinge::left);
}

// mm above the floor where the plinth is as high as the job's: before any level is chosen.
struct UnitHeights {
  double bottom = 0;     // of the room it takes up: the floor, unless it hangs
  double underside = 0;  // of its carcass
  double top = 0;        // with a worktop, or a cornice
};
inline UnitHeights nominal_heights(const Run& run, const PlacedRun& placed, Index unit) {
  const Furniture& furniture = run.furniture;
  const UnitKind kind = run.units[unit].kind;
  const bool hangs = kind == UnitKind::wall, tall = kind == UnitKind::tall;
  const double plinth = furniture.plinth.height - placed.frame.offset;
  UnitHeights out;
  out.underside = plinth + placed.units[unit].offset;
  out.bottom = hangs ? out.underside : 0;
  out.top = plinth + placed.units[unit].top_offset +
            (hangs || tall ? furniture.cornice : furniture.worktop.thickness);
  return out;
}

}  // namespace levelrun
