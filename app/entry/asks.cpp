#include "app/entry/asks.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "checks/expected_reading.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double plan_height = 900;  // mm; where a length is not said to be "at" some height
// What a reading is usually read to. Common practice, no source.
constexpr double length_step = 1, offset_step = 0.5, staff_step = 0.5, angle_step = 0.1;
constexpr double default_angle_sd = 0.3;  // degrees; a square that states none (room plan's)

// 3622 and not 3622.0: as people write files.
Json number(double value) {
  if (value == std::floor(value) && std::abs(value) < 1e9) return Json(std::int64_t(value));
  return Json(value);
}

std::string shortest(double value) { return number(value).dump(); }

class Asks {
 public:
  Asks(const Survey& survey, Index room) : room_(survey.rooms[room]), r_(room) {}

  std::vector<Ask> take() { return std::move(asks_); }

  void length(Index w, const Protocol::LengthAt& at) {
    const Wall& wall = room_.walls[w];
    Ask ask = of_list(ReadingKind::length, "walls/" + std::to_string(w) + "/lengths", "length",
                      shortest(at.height) + (at.out != 0 ? "," + shortest(at.out) : ""));
    ask.wall = w;
    ask.height = at.height;
    ask.out = at.out;
    ask.name = wall.id + " length";
    if (at.height != plan_height) ask.name += " at " + millimetres(at.height);
    ask.caption =
        "at " + millimetres(at.height) + ", " + corner_id(wall.from) + " to " + corner_id(wall.to);
    if (at.out != 0) {
      ask.name += ", " + millimetres(at.out) + " out";
      ask.caption += ", " + millimetres(at.out) + " out";
    }
    ask.entry["height"] = number(at.height);
    if (at.out != 0) ask.entry["out"] = number(at.out);
    add(std::move(ask), wall.lengths, [&](const WallLength& l) {
      return l.height == at.height && l.out == at.out ? std::optional(l.length) : std::nullopt;
    });
  }

  void diagonal(const Protocol::DiagonalOf& of) {
    const std::string from = corner_id(of.from), to = corner_id(of.to);
    Ask ask =
        of_list(ReadingKind::diagonal, "diagonals", "length",
                from + "-" + to + (of.height != plan_height ? "," + shortest(of.height) : ""));
    ask.corner = of.from;
    ask.to_corner = of.to;
    ask.height = of.height;
    ask.name = from + " to " + to + " diagonal";
    if (of.height != plan_height) ask.name += " at " + millimetres(of.height);
    ask.caption = "at " + millimetres(of.height) + ", corner to corner";
    ask.entry["from"] = from;
    ask.entry["to"] = to;
    if (of.height != plan_height) ask.entry["height"] = number(of.height);
    add(std::move(ask), room_.diagonals, [&](const Diagonal& d) {
      return d.from == of.from && d.to == of.to && d.height == of.height ? std::optional(d.length)
                                                                         : std::nullopt;
    });
  }

  void angle(const Protocol::AngleOf& of) {
    const std::string id = corner_id(of.corner);
    const std::string legs =
        of.legs ? "," + shortest(of.legs->first) + "," + shortest(of.legs->second) : "";
    Ask ask = of_list(of.legs ? ReadingKind::across : ReadingKind::angle, "angles",
                      of.legs ? "across" : "degrees",
                      id + legs + (of.height != plan_height ? "@" + shortest(of.height) : ""));
    ask.corner = of.corner;
    ask.height = of.height;
    ask.name = id + (of.legs ? " triangle" : " angle");
    ask.caption = "at " + millimetres(of.height);
    if (of.height != plan_height) ask.name += " at " + millimetres(of.height);
    ask.entry["corner"] = id;
    if (of.legs) {
      ask.leg_a = of.legs->first;
      ask.leg_b = of.legs->second;
      const std::string set_out =
          millimetres(ask.leg_a) + " and " + millimetres(ask.leg_b) + " along the walls";
      ask.name += ", " + set_out;
      ask.caption += ", across from " + set_out;
      ask.entry["a"] = number(ask.leg_a);
      ask.entry["b"] = number(ask.leg_b);
    }
    if (of.height != plan_height) ask.entry["height"] = number(of.height);
    add(std::move(ask), room_.angles, [&](const CornerAngle& a) -> std::optional<double> {
      if (a.corner != of.corner || a.height != of.height) return std::nullopt;
      if (!of.legs) return a.degrees;
      return !a.degrees && a.triangle.a == of.legs->first && a.triangle.b == of.legs->second
                 ? std::optional(a.triangle.across)
                 : std::nullopt;
    });
  }

  void ceiling(const Protocol::CeilingAt& at) {
    const Place& p = at.place;
    std::string place, words;
    Json where;
    if (p.wall) {
      const std::string& wall = room_.walls[*p.wall].id;
      place = wall + "," + shortest(p.along) + "," + shortest(p.out);
      words = wall + ", " + millimetres(p.along) + " along, " + millimetres(p.out) + " out";
      where = {{"wall", wall}, {"along", number(p.along)}, {"out", number(p.out)}};
    } else {
      place = shortest(p.x) + "," + shortest(p.y);
      words = "x " + millimetres(p.x) + ", y " + millimetres(p.y);
      where = {{"x", number(p.x)}, {"y", number(p.y)}};
    }
    if (p.sd != Place{}.sd) where["sd"] = number(p.sd);
    const std::string from = at.setup ? room_.levels.setups[*at.setup].id : "";
    Ask ask = of_list(at.setup ? ReadingKind::level : ReadingKind::ceiling, "ceilings",
                      at.setup ? "height" : "clear", place + (at.setup ? "," + from : ""));
    ask.setup = at.setup;
    ask.name = "ceiling at " + words;
    ask.caption = at.setup ? "from the plane of set-up " + from : "clear, floor to ceiling";
    if (at.setup) ask.name += ", from set-up " + from;
    ask.entry["place"] = std::move(where);
    if (at.setup) ask.entry["from"] = from;
    add(std::move(ask), room_.ceilings, [&](const CeilingReading& c) {
      const Place& q = c.place;
      const bool same = p.wall == q.wall && c.height.setup == at.setup &&
                        (p.wall ? p.along == q.along && p.out == q.out : p.x == q.x && p.y == q.y);
      return same ? std::optional(c.height.value) : std::nullopt;
    });
  }

  void staff(Index s, Index point) {
    const SetUp& setup = room_.levels.setups[s];
    const LevelPoint& p = room_.levels.points[point];
    const bool benchmark = room_.levels.benchmark && room_.levels.benchmark->point == point;
    Ask ask = of_list(p.off_floor ? ReadingKind::mark : ReadingKind::staff,
                      "levels/setups/" + std::to_string(s) + "/readings", "staff", p.id);
    ask.setup = s;
    ask.point = point;
    ask.name = p.id + " from set-up " + setup.id;
    ask.caption = benchmark ? "staff on the benchmark" : "staff";
    if (p.place && p.place->wall)
      ask.caption += ", " + room_.walls[*p.place->wall].id + ", " + millimetres(p.place->along) +
                     " along, " + millimetres(p.place->out) + " out";
    ask.entry["point"] = p.id;
    add(std::move(ask), setup.readings, [&](const StaffReading& r) {
      return r.point == point ? std::optional(r.staff) : std::nullopt;
    });
  }

  void offset(Index w, const Protocol::OffsetAt& at) {
    const Wall& wall = room_.walls[w];
    Ask ask = of_list(ReadingKind::offset, "walls/" + std::to_string(w) + "/offsets", "offset",
                      shortest(at.along) + "," + shortest(at.height));
    ask.wall = w;
    ask.along = at.along;
    ask.height = at.height;
    ask.name =
        wall.id + " offset at " + millimetres(at.along) + ", " + millimetres(at.height) + " high";
    ask.caption = millimetres(at.along) + " along, " + millimetres(at.height) + " high";
    ask.entry["along"] = number(at.along);
    ask.entry["height"] = number(at.height);
    add(std::move(ask), wall.offsets, [&](const WallOffset& o) {
      return o.along == at.along && o.height == at.height ? std::optional(o.offset) : std::nullopt;
    });
  }

  void detail(const Protocol::Detail& of) {
    const auto& field = of.field;
    Ask ask;
    ask.kind = field == "left" || field == "along" ? ReadingKind::along
               : (of.service && field == "height") || field == "sill" || field == "above" ||
                       field == "undercut" || field == "projection"
                   ? ReadingKind::level
                   : ReadingKind::size;
    ask.room = r_;
    ask.wall = of.service ? room_.services[of.index].place.wall : room_.openings[of.index].wall;
    ask.at = pointer(r_, of.service ? "services" : "openings", of.index) + "/" + field;
    ask.id = ask.at.substr(1);
    ask.name = (of.service ? room_.services[of.index].id : room_.openings[of.index].id) + " " +
               spaced(field);
    ask.caption = words_of(of.service, field);
    ask.field = field;
    ask.step = length_step;
    ask.value = detail_value(room_, of);
    if (ask.value) ask.booked = ask.at;
    keep(std::move(ask));
  }

 private:
  static std::string words_of(bool service, const std::string& field) {
    if (field == "left") return "wall's left end to its left edge";
    if (field == "along") return "wall's left end to its middle";
    if (field == "sill") return "floor to its sill";
    if (field == "above") return "its head to the ceiling";
    if (field == "undercut") return "floor to the door's lower edge";
    if (field == "projection") return "wall to its far face";
    if (field == "height") return service ? "floor to its middle" : "sill to head";
    if (field == "width") return "edge to edge";
    return field == "diameter" ? "outside" : "from its lower to its upper edge";
  }

  const std::string& corner_id(Index corner) const { return room_.corners[corner].id; }

  Ask of_list(ReadingKind kind, const std::string& list, const char* field,
              const std::string& place) const {
    Ask ask;
    ask.kind = kind;
    ask.room = r_;
    ask.at = pointer(r_) + "/" + list + "/-";
    ask.id = (pointer(r_) + "/" + list + "@" + place).substr(1);
    ask.field = field;
    ask.step = kind == ReadingKind::angle                                ? angle_step
               : kind == ReadingKind::offset                             ? offset_step
               : kind == ReadingKind::staff || kind == ReadingKind::mark ? staff_step
                                                                         : length_step;
    ask.entry = Json::object();
    return ask;
  }

  // number_in: the reading's number if it is of this place.
  template <class Reading, class NumberIn>
  void add(Ask ask, const std::vector<Reading>& list, NumberIn number_in) {
    const auto nth = std::size_t(std::count_if(
        ids_.begin(), ids_.end(), [&](const std::string& id) { return id == ask.id; }));
    ids_.push_back(ask.id);
    std::size_t seen = 0;
    for (Index i = 0; i < list.size(); ++i) {
      const std::optional<double> value = number_in(list[i]);
      if (!value || seen++ != nth) continue;
      ask.value = value;
      ask.own = i;
      ask.booked = ask.at.substr(0, ask.at.size() - 1) + std::to_string(i) + "/" + ask.field;
      break;
    }
    if (nth > 0) {
      ask.id += "#" + std::to_string(nth + 1);
      ask.name += nth == 1 ? ", again" : ", reading " + std::to_string(nth + 1);
      ask.caption += ", again";
    }
    keep(std::move(ask));
  }

  void keep(Ask ask) {
    const bool skipped = std::any_of(room_.skipped.begin(), room_.skipped.end(),
                                     [&](const Skipped& s) { return s.what == ask.name; });
    if (ask.booked || !skipped) asks_.push_back(std::move(ask));
  }

  const Room& room_;
  Index r_;
  std::vector<Ask> asks_;
  std::vector<std::string> ids_;  // of all places so far, without their count
};

// Of the two walls that meet at a corner, the one listed later.
Index later_wall(const Room& room, Index corner) {
  Index later = 0;
  for (Index w = 0; w < room.walls.size(); ++w)
    if (room.walls[w].from == corner || room.walls[w].to == corner) later = w;
  return later;
}

bool names_instrument(const Ask& ask) {
  return !ask.entry.is_null() && ask.kind != ReadingKind::staff && ask.kind != ReadingKind::mark &&
         ask.kind != ReadingKind::thickness;
}

}  // namespace

std::vector<Ask> walk_asks(const Survey& survey, Index room, const Protocol& protocol) {
  Asks asks(survey, room);
  for (Index w = 0; w < protocol.walls.size(); ++w) {
    for (const Protocol::LengthAt& at : protocol.walls[w].lengths) asks.length(w, at);
    // A corner comes when both its walls are done.
    for (const Protocol::AngleOf& of : protocol.angles)
      if (later_wall(survey.rooms[room], of.corner) == w) asks.angle(of);
  }
  for (const Protocol::DiagonalOf& of : protocol.diagonals) asks.diagonal(of);
  for (const Protocol::CeilingAt& at : protocol.ceilings) asks.ceiling(at);
  return asks.take();
}

std::vector<Ask> level_asks(const Survey& survey, Index room, const Protocol& protocol) {
  Asks asks(survey, room);
  for (Index s = 0; s < protocol.staff.size(); ++s)
    for (const Index point : protocol.staff[s]) asks.staff(s, point);
  return asks.take();
}

std::vector<Ask> wall_asks(const Survey& survey, Index room_index, Index wall,
                           const Protocol& protocol) {
  const Room& room = survey.rooms[room_index];
  Asks asks(survey, room_index);
  if (wall < protocol.walls.size())
    for (const Protocol::OffsetAt& at : protocol.walls[wall].offsets) asks.offset(wall, at);
  for (const Protocol::Detail& of : protocol.details)
    if (of.service ? room.services[of.index].place.wall == wall
                   : room.openings[of.index].wall == wall)
      asks.detail(of);
  return asks.take();
}

std::vector<Ask> walk_asks(const Survey& survey, Index room) {
  return walk_asks(survey, room, usual_protocol(survey, room));
}
std::vector<Ask> level_asks(const Survey& survey, Index room) {
  return level_asks(survey, room, usual_protocol(survey, room));
}
std::vector<Ask> wall_asks(const Survey& survey, Index room, Index wall) {
  return wall_asks(survey, room, wall, usual_protocol(survey, room));
}

std::optional<Expected> expected_for(const Survey& survey, const Ask& ask,
                                     std::optional<Index> instrument) {
  if (ask.planned) return ask.planned;
  if (ask.entry.is_null()) return std::nullopt;
  switch (ask.kind) {
    case ReadingKind::length:
      return expected_length(survey, ask.room, *ask.wall, ask.height, ask.own, ask.out, instrument);
    case ReadingKind::diagonal:
      return expected_diagonal(survey, ask.room, *ask.corner, *ask.to_corner, ask.height, ask.own,
                               instrument);
    case ReadingKind::across:
      return expected_across(survey, ask.room, *ask.corner, ask.leg_a, ask.leg_b, ask.own);
    case ReadingKind::angle:
      return expected_angle(survey, ask.room, *ask.corner, ask.own);
    case ReadingKind::offset:
      return expected_offset(survey, ask.room, *ask.wall, ask.along, ask.height, ask.own);
    case ReadingKind::staff:
    case ReadingKind::mark: {
      // From a set-up of the day, or of something that is no point of the survey.
      if (!ask.point || !ask.setup) return std::nullopt;
      std::optional<double> distance;
      if (ask.own)
        distance = survey.rooms[ask.room].levels.setups[*ask.setup].readings[*ask.own].distance_m;
      return expected_staff(survey, ask.room, *ask.point, *ask.setup, ask.own, distance);
    }
    case ReadingKind::ceiling:
    case ReadingKind::level:
      return expected_ceiling(survey, ask.room, ask.setup, ask.own);
    default:
      return std::nullopt;
  }
}

std::optional<Index> usual_instrument(const Survey& survey, const Ask& ask) {
  if (ask.by) return ask.by;
  const Room& room = survey.rooms[ask.room];
  if (ask.kind == ReadingKind::staff || ask.kind == ReadingKind::mark)
    return ask.setup ? room.levels.setups[*ask.setup].instrument : std::nullopt;
  if (!names_instrument(ask)) return std::nullopt;
  if (ask.own) switch (ask.kind) {
      case ReadingKind::length:
        return room.walls[*ask.wall].lengths[*ask.own].instrument;
      case ReadingKind::offset:
        return room.walls[*ask.wall].offsets[*ask.own].instrument;
      case ReadingKind::diagonal:
        return room.diagonals[*ask.own].instrument;
      case ReadingKind::across:
      case ReadingKind::angle:
        return room.angles[*ask.own].instrument;
      default:
        return room.ceilings[*ask.own].instrument;
    }
  using enum InstrumentKind;
  const std::pair<InstrumentKind, InstrumentKind> fit =
      ask.kind == ReadingKind::offset   ? std::pair(gauge, tape)
      : ask.kind == ReadingKind::angle  ? std::pair(square, square)
      : ask.kind == ReadingKind::across ? std::pair(tape, distance_meter)
                                        : std::pair(distance_meter, tape);
  for (const InstrumentKind kind : {fit.first, fit.second})
    for (Index i = 0; i < survey.instruments.size(); ++i)
      if (survey.instruments[i].kind == kind) return i;
  return std::nullopt;
}

double reading_sd(const Survey& survey, const Ask& ask, std::optional<Index> instrument) {
  const Instrument by = instrument ? survey.instruments[*instrument] : Instrument{};
  return ask.kind == ReadingKind::angle ? by.sd_deg.value_or(default_angle_sd) : by.sd;
}

Json book_patch(const Json& document, const Ask& ask, double value,
                const std::optional<std::string>& instrument) {
  Json patch = Json::array();
  const auto operation = [&](const char* op, std::string path, Json with) {
    patch.push_back({{"op", op}, {"path", std::move(path)}, {"value", std::move(with)}});
  };
  const auto has = [&](const std::string& path) {
    return document.contains(Json::json_pointer(path));
  };
  if (ask.entry.is_null()) {
    // A service may stand by its wall and along, or by a place that holds both.
    std::string path = ask.at;
    const std::string owner = path.substr(0, path.rfind('/'));
    if (ask.field == "along" && has(owner + "/place")) path = owner + "/place/along";
    operation(has(path) ? "replace" : "add", path, number(value));
    return patch;
  }
  if (ask.booked) {
    operation("replace", *ask.booked, number(value));
    if (instrument && names_instrument(ask))
      operation("add", ask.booked->substr(0, ask.booked->rfind('/')) + "/instrument", *instrument);
    return patch;
  }
  const std::string list = ask.at.substr(0, ask.at.size() - 2);
  if (const std::string parent = list.substr(0, list.rfind('/')); !parent.empty() && !has(parent))
    operation("add", parent, Json::object());
  if (!has(list)) operation("add", list, Json::array());
  Json entry = ask.entry;
  entry[ask.field] = number(value);
  if (instrument && names_instrument(ask)) entry["instrument"] = *instrument;
  operation("add", ask.at, std::move(entry));
  return patch;
}

Json skip_patch(const Json& document, const Ask& ask, const std::string& why) {
  Json patch = Json::array();
  const std::string list = pointer(ask.room) + "/skipped";
  if (!document.contains(Json::json_pointer(list)))
    patch.push_back({{"op", "add"}, {"path", list}, {"value", Json::array()}});
  patch.push_back(
      {{"op", "add"}, {"path", list + "/-"}, {"value", {{"what", ask.name}, {"why", why}}}});
  return patch;
}

}  // namespace levelrun
