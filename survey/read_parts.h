// The parts of a survey, each read from its object in the document. Problems go to the reader's
// Reading. Parts are read in the order in which they refer to each other, so every reference
// can be resolved at once, wherever the file has it.
#pragma once

#include <string_view>
#include <vector>

#include "survey/field_reader.h"
#include "survey/survey.h"

namespace levelrun {

// The ids of one room, and what the rest of the survey has that a room refers to.
struct RoomIds {
  Ids corners{"corners"}, walls{"walls"}, areas{"floor_areas"}, points{"levels.points"},
      setups{"levels.setups"}, groups{"level_groups"}, units{"the room's units"};
};
struct JobParts {
  const Ids& instruments;
  const Furniture& furniture;
  const Ids& legs;  // of that furniture
};

// read_places.cpp
Place read_place(const Fields& place, const Ids& walls);
std::vector<Place> read_outline(const Fields& owner, const Ids& walls);
// The field `height_name` with its sibling "from".
MeasuredHeight read_height(const Fields& thing, std::string_view height_name, const Ids& setups);
MeasuredHeight read_height(const Fields& thing, std::string_view height_name, const Ids& setups,
                           double otherwise);

// read_job.cpp
Job read_job(const Fields& job);
std::vector<Instrument> read_instruments(const FieldList& list, Ids& ids);

// read_furniture.cpp. What is not given keeps the value that furniture already has, so a run's
// own fields are laid over the job's.
void read_furniture(const Fields& fields, Furniture& furniture, Ids& legs);

// read_room.cpp
Room read_room(const Fields& fields, const JobParts& job, RoomIds& ids);
// room_shape.cpp: can the corners and walls be those of a room? Only asked once they are read
// without a problem.
void check_room_shape(const Fields& fields, const Room& room);

// read_levels.cpp
Room::Flooring read_flooring(const Fields& flooring, const Ids& areas);
Levels read_levels(const Fields& levels, const Room::Flooring& flooring, const Ids& instruments,
                   RoomIds& ids);
SetUp read_setup(const Fields& fields, const Ids& instruments);  // without its readings
StaffReading read_staff(const Fields& fields);                   // without its point

// read_services.cpp
std::vector<NoDrill> read_no_drill(const FieldList& list, const Ids& walls);
std::vector<Service> read_services(const FieldList& list, const RoomIds& ids);

// read_runs.cpp
std::vector<LevelGroup> read_level_groups(const FieldList& list, RoomIds& ids);
std::vector<Run> read_runs(const FieldList& list, const JobParts& job, RoomIds& ids);

// read_install.cpp. room_ids: of each of the rooms, in order.
Install read_install(const Fields& install, const std::vector<Room>& rooms,
                     const std::vector<RoomIds>& room_ids, const Ids& instruments);

}  // namespace levelrun
