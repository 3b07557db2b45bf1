// Rooms of one wall that was read by offsets.
#pragma once

#include <utility>
#include <vector>

#include "checks/wall_faces.h"

namespace levelrun {

// Read at 900 high: a wall that is hollow at both ends and in the middle.
inline const std::vector<WallOffset> waisted = {
    {0, 900, 7.0, {}},  {600, 900, 2.5, {}},  {1200, 900, 0, {}},  {1800, 900, 3.5, {}},
    {2400, 900, 0, {}}, {3000, 900, 1.5, {}}, {3620, 900, 7.0, {}}};

// One room, 2,400 high, of one wall with these offsets, read with a gauge of sd 0.5.
inline Survey survey_of(std::vector<WallOffset> offsets) {
  Survey survey;
  survey.instruments.push_back({"G", InstrumentKind::gauge, 0.5, {}, 0});
  Room& room = survey.rooms.emplace_back();
  room.id = "R";
  Wall& wall = room.walls.emplace_back();
  wall.id = "W1";
  for (WallOffset& o : offsets) o.instrument = 0;
  wall.offsets = std::move(offsets);
  CeilingReading& ceiling = room.ceilings.emplace_back();
  ceiling.height.value = 2400;
  return survey;
}

inline WallResult only_wall(const Survey& survey) { return wall_faces(survey, 0).walls.at(0); }

inline Wall& wall_of(Survey& survey) { return survey.rooms[0].walls[0]; }

// Three heights at four places: bow 3 in a place, lean and twist in mm per mm of height.
inline std::vector<WallOffset> grid(double lean, double twist) {
  std::vector<WallOffset> offsets;
  for (const double along : {100.0, 1100.0, 2100.0, 3100.0})
    for (const double height : {100.0, 900.0, 2100.0})
      offsets.push_back(
          {along,
           height,
           20 + (along == 1100 ? 3 : 0) + height * (lean + twist * (along - 100) / 3000),
           {}});
  return offsets;
}

}  // namespace levelrun
