#include "app/screens/run_entry.h"

#include "app/entry/run_lines.h"
#include "app/entry/set_patch.h"
#include "app/entry/typed_number.h"
#include "app/entry/unit_edits.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

using Field = RunsScreen::Field;

// What a number may be, mm; our own, to catch slips. A longer front is made of several units.
constexpr double widest_unit = 6000, farthest = 100000, tallest_niche = 3000, tallest_unit = 6000;
constexpr double lowest_worktop = 300, highest_worktop = 1500;

const Run& run_of(const Session& session, const RunsScreen& screen) {
  return session.survey().rooms[session.room].runs[screen.run];
}

bool next_units(const RunsScreen& screen) { return screen.field == Field::width && !screen.unit; }

// Where a number of the run's own stands in it; empty: it is not the run's.
std::string place_in_run(Field field) {
  switch (field) {
    case Field::starts_at:
      return "/from_along";
    case Field::x:
      return "/origin/x";
    case Field::y:
      return "/origin/y";
    case Field::turned:
      return "/bearing";
    default:
      return {};
  }
}

// A number of the unit's own, by its name in the file; empty: it is none.
std::string member_of_unit(Field field) {
  return field == Field::height   ? "height"
         : field == Field::depth  ? "depth"
         : field == Field::bottom ? "bottom"
                                  : "";
}

}  // namespace

RunNumber run_number(const Session& session, const RunsScreen& screen) {
  const Run& run = run_of(session, screen);
  const std::string name = "Run " + run.id;
  switch (screen.field) {
    case Field::starts_at:
      return {name + " starts at", run.from_along, 0, farthest, false, true};
    case Field::x:
      return {name + " at x", run.origin_x, -farthest, farthest, false, true};
    case Field::y:
      return {name + " at y", run.origin_y, -farthest, farthest, false, true};
    case Field::turned:
      return {name + " turned by", run.bearing, -360, 360, true, true};
    case Field::worktop: {
      RunNumber out{"Worktop, above floor", {}, lowest_worktop, highest_worktop, false, false};
      for (const LevelGroup& group : session.survey().rooms[session.room].level_groups)
        if (group.id == run.level_group) out.now = group.asked_height;
      return out;
    }
    case Field::niche_least:
    case Field::niche_most: {
      const Unit& unit = run.units[*screen.unit];
      const bool most = screen.field == Field::niche_most;
      RunNumber out{
          unit.id + (most ? " niche to" : " niche from"), {}, 1, tallest_niche, false, false};
      if (unit.niche) out.now = most ? unit.niche->max_height : unit.niche->min_height;
      return out;
    }
    case Field::height:
    case Field::depth:
    case Field::bottom: {
      const Unit& unit = run.units[*screen.unit];
      const std::string field = member_of_unit(screen.field);
      return {unit.id + " " + field,
              screen.field == Field::height  ? unit.height
              : screen.field == Field::depth ? unit.depth
                                             : unit.bottom,
              screen.field == Field::bottom ? 0.0 : 1.0,
              tallest_unit,
              false,
              false};
    }
    case Field::width:
      break;
  }
  if (screen.unit)
    return {run.units[*screen.unit].id + " width",
            run.units[*screen.unit].width,
            1,
            widest_unit,
            false,
            false};
  return {unit_kind_labels[std::size_t(screen.kind)] + ", next of run " + run.id,
          {},
          1,
          widest_unit,
          false,
          false};
}

std::string shown_number(double value, const RunNumber& number, const Job& job) {
  return number.degrees ? shown_short(value, 2, job.decimal) + "°" : shown_length(value, job);
}

TypedRunNumbers typed_run_numbers(const Session& session, const RunsScreen& screen) {
  if (screen.typed.empty()) return {};
  const Job& job = session.survey().job;
  const RunNumber number = run_number(session, screen);
  const TypedNumbers typed =
      typed_numbers(screen.typed, number.degrees ? TypedUnit::degrees : typed_unit(job));
  if (!typed.problem.empty()) return {{}, typed.problem};
  if (typed.values.size() > 1 && !next_units(screen)) return {{}, "One number is asked for."};
  for (const double v : typed.values)
    if (v < number.least || v > number.most)
      return {{},
              "It must be " + shown_number(number.least, number, job) + " to " +
                  shown_number(number.most, number, job) + "."};
  return {typed.values, {}};
}

RunDeed booked_numbers(const Session& session, const RunsScreen& screen,
                       const std::vector<double>& values) {
  RunDeed deed;
  if (values.empty()) return deed;
  const Job& job = session.survey().job;
  const RunNumber number = run_number(session, screen);
  const Index room = session.room, r = screen.run;
  const double v = values.front();
  deed.says = number.name + " " + shown_number(v, number, job);
  if (next_units(screen)) {
    const std::size_t kind = std::size_t(screen.kind);
    deed.patch = add_units_patch(session.survey(), room, r, unit_kinds()[kind], values);
    deed.says = values.size() > 1 ? std::to_string(values.size()) + " units"
                                  : kind_words(UnitKind(kind)) + " " + shown_length(v, job);
  } else if (screen.field == Field::width) {
    // The next width is asked again: a unit stays chosen only for its other numbers.
    deed.patch =
        unit_patch(session.document(), room, r, *screen.unit, "width", number_as_written(v));
  } else if (screen.field == Field::niche_least || screen.field == Field::niche_most) {
    deed.patch = niche_patch(session.document(), session.survey(), room, r, *screen.unit,
                             screen.field == Field::niche_most, v);
    deed.unit = screen.unit;
  } else if (const std::string member = member_of_unit(screen.field); !member.empty()) {
    deed.patch =
        unit_patch(session.document(), room, r, *screen.unit, member, number_as_written(v));
    deed.unit = screen.unit;
  } else if (screen.field == Field::worktop) {
    deed.patch = asked_height_patch(session.document(), session.survey(), room,
                                    run_of(session, screen).level_group, v);
  } else {
    deed.patch = set_patch(session.document(), run_pointer(room, r) + place_in_run(screen.field),
                           number_as_written(v));
  }
  return deed;
}

RunsScreen::Field next_run_field(const Session& session, const RunsScreen& screen) {
  if (!run_of(session, screen).units.empty()) return Field::width;
  return screen.field == Field::x   ? Field::y
         : screen.field == Field::y ? Field::turned
                                    : Field::width;
}

}  // namespace levelrun
