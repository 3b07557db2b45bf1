// What the fitter recorded on the day.
//
// One install spans all rooms. Where the file does not say which room, it is the first, in the
// file's order, that has what is referred to; only a wall that several rooms have must be told
// apart by the optional field "room".
#include <algorithm>

#include "survey/limits.h"
#include "survey/read_parts.h"
#include "survey/words.h"

namespace levelrun {
namespace {

struct House {
  const std::vector<Room>& rooms;
  const std::vector<RoomIds>& ids;
  Ids room_ids{"rooms"}, setups{"install.setups"}, units{"the rooms' units"};
  std::vector<std::optional<Index>> room_of_setup{};
  Ids no_walls{"walls"};

  const Ids& walls_of(Index room) const { return rooms.empty() ? no_walls : ids[room].walls; }
};

// The first room that has all the points read from a set-up.
std::optional<Index> room_of_points(const FieldList& readings, const House& house) {
  for (Index room = 0; room < house.rooms.size(); ++room) {
    bool all = true;
    for (const Fields& reading : readings) {
      const auto id = reading.peek_text("point");
      all = id && house.ids[room].points.find(*id);
      if (!all) break;
    }
    if (all) return room;
  }
  return std::nullopt;
}

void resolve_point(const Fields& fields, std::optional<Index> setup_room, const House& house,
                   StaffReading& reading) {
  const auto id = fields.peek_text("point");
  if (setup_room && id) {
    reading.room = *setup_room;
    reading.point = house.ids[*setup_room].points.find(*id).value_or(0);
    return;
  }
  for (Index room = 0; id && room < house.rooms.size(); ++room) {
    if (const auto point = house.ids[room].points.find(*id)) {
      reading.room = room;
      reading.point = *point;
      return;
    }
  }
  fields.refuse("point", "the id of one of the rooms' levels.points");
}

void read_setups(const FieldList& list, const Ids& instruments, House& house, Install& install) {
  for (const Fields& fields : list) {
    SetUp setup = read_setup(fields, instruments);
    setup.id = fields.new_id(house.setups, install.setups.size());
    const FieldList readings = fields.list("readings", most_staff);
    const auto room = room_of_points(readings, house);
    for (const Fields& item : readings) {
      setup.readings.push_back(read_staff(item));
      resolve_point(item, room, house, setup.readings.back());
    }
    house.room_of_setup.push_back(room);
    install.setups.push_back(std::move(setup));
  }
}

// The room a place is in: as told, else by its wall, else by the set-up, else the first.
Index room_of_place(const Fields& fields, const Fields& place, std::optional<Index> setup_room,
                    const House& house) {
  if (const auto told = fields.reference_if("room", house.room_ids)) return *told;
  const auto wall = place.peek_text("wall");
  std::vector<Index> having;
  for (Index room = 0; wall && room < house.rooms.size(); ++room) {
    if (house.ids[room].walls.find(*wall)) having.push_back(room);
  }
  if (having.size() == 1) return having.front();
  if (setup_room) return *setup_room;
  if (having.size() > 1 && !fields.has("room")) {
    fields.problem("room", "nothing",
                   "the id of the room, for several rooms have a wall " + in_quotes(*wall));
  }
  return 0;
}

LaidFloorReading read_laid_floor(const Fields& fields, const House& house) {
  LaidFloorReading read;
  const bool measured = fields.has("staff") || fields.has("setup");
  std::optional<Index> setup;
  if (fields.given() && measured == fields.has("thickness")) {
    fields.problem(measured ? "a thickness and a staff reading at once"
                            : "neither a thickness nor a staff reading",
                   "thickness or {staff, setup}");
  } else if (measured) {
    read.staff = fields.number("staff", any_mm);
    setup = fields.reference("setup", house.setups);
    read.setup = fields.text("setup", "");
  } else {
    read.thickness = fields.number("thickness", thickness_mm);
  }
  const bool known = setup && *setup < house.room_of_setup.size();
  const Fields place = fields.object("place");
  const Index room =
      room_of_place(fields, place, known ? house.room_of_setup[*setup] : std::nullopt, house);
  read.place = read_place(place, house.walls_of(room));
  if (house.rooms.size() > 1) read.room = house.rooms[room].id;
  return read;
}

// The id of the room that the item's unit is in: as told, else the first that has such a unit.
std::string room_of_unit(const Fields& fields, const House& house) {
  const Index first = fields.reference("unit", house.units);
  const auto told = fields.reference_if("room", house.room_ids);
  if (house.rooms.empty()) return {};
  if (!told) return house.rooms[std::min(first, house.rooms.size() - 1)].id;
  const Room& room = house.rooms[*told];
  const auto unit = fields.peek_text("unit");
  for (const Run& run : room.runs)
    for (const Unit& one : run.units)
      if (unit == one.id) return room.id;
  fields.refuse("unit", "the id of one of that room's units");
  return room.id;
}

Snag read_snag(const Fields& fields, const House& house, Ids& ids, Index index) {
  Snag snag;
  snag.id = fields.new_id(ids, index);
  snag.text = fields.text("text");
  snag.at = fields.text("at");
  snag.by = fields.text("by");
  snag.closed = fields.text("closed", "");
  const Fields place = fields.object_if("place");
  if (place.given()) {
    const Index room = room_of_place(fields, place, std::nullopt, house);
    snag.place = read_place(place, house.walls_of(room));
  }
  return snag;
}

std::optional<SignOff> read_sign_off(const Fields& owner) {
  const Fields sign_off = owner.object_if("sign_off");
  if (!sign_off.given()) return std::nullopt;
  return SignOff{sign_off.text("by"), sign_off.text("role"), sign_off.text("at"),
                 sign_off.text("note", "")};
}

}  // namespace

Install read_install(const Fields& fields, const std::vector<Room>& rooms,
                     const std::vector<RoomIds>& room_ids, const Ids& instruments) {
  Install install;
  if (!fields.given()) return install;
  House house{rooms, room_ids};
  for (Index i = 0; i < rooms.size(); ++i) {
    house.room_ids.add(rooms[i].id, i);
    for (const Run& run : rooms[i].runs) {
      for (const Unit& unit : run.units) house.units.add(unit.id, i);
    }
  }
  read_setups(fields.list("setups", most_setups), instruments, house, install);
  for (const Fields& item : fields.list("finished_floor")) {
    install.finished_floor.push_back(read_laid_floor(item, house));
  }
  for (const Fields& item : fields.list("set_legs")) {
    const std::string room = room_of_unit(item, house);
    install.set_legs.push_back({item.text("unit", ""), item.text("position"), item.text("at"),
                                item.text("by"), item.number("height", any_mm), room});
  }
  for (const Fields& item : fields.list("unit_levels")) {
    const std::string room = room_of_unit(item, house);
    item.reference("setup", house.setups);
    item.word_index("corner", unit_corner_words);
    install.unit_levels.push_back({item.text("unit", ""), item.text("corner", unit_corner_words[0]),
                                   item.text("setup", ""), item.number("staff", any_mm), room,
                                   item.text("turned", "")});
  }
  Ids task_ids("install.tasks");
  for (const Fields& item : fields.list("tasks")) {
    item.word_index("state", task_state_words);
    install.tasks.push_back({item.new_id(task_ids, install.tasks.size()),
                             item.text("state", task_state_words[0]), item.text("at", ""),
                             item.text("by", ""), item.text("note", "")});
  }
  Ids snag_ids("install.snags");
  for (const Fields& item : fields.list("snags")) {
    install.snags.push_back(read_snag(item, house, snag_ids, install.snags.size()));
  }
  for (const Fields& item : fields.list("answers")) {
    install.answers.push_back({item.text("finding"), item.text("says"), item.text("by"),
                               item.text("at"), item.flag("releases", Answer{}.releases)});
  }
  install.sign_off = read_sign_off(fields);
  for (const Fields& item : fields.list("reopened")) {
    install.reopened.push_back(
        {item.text("by"), item.text("at"), item.text("why"), read_sign_off(item)});
  }
  return install;
}

}  // namespace levelrun
