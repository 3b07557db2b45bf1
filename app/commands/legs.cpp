// The page answers in the order in which a fitter asks: which job, may I start, how high is the
// underside, how far do I wind each leg, which one first, and why that figure.

#include "app/commands/legs.h"

#include <algorithm>
#include <set>
#include <vector>

#include "app/csv.h"
#include "app/display_text.h"
#include "app/place_words.h"
#include "app/solved_file.h"
#include "app/table.h"
#include "app/terminal.h"
#include "app/text_number.h"
#include "checks/group_bounds.h"
#include "checks/words.h"
#include "survey/estimate.h"

namespace levelrun {

using LegList = std::vector<const LegResult*>;

// The legs of one run, in the order of its units.
static LegList legs_of(const Run& run, const RoomResult& result) {
  LegList legs;
  for (const Unit& unit : run.units)
    for (const LegResult& leg : result.legs)
      if (leg.unit == unit.id) legs.push_back(&leg);
  return legs;
}

static const Room* room_of(const Survey& survey, const std::string& id) {
  for (const Room& room : survey.rooms)
    if (room.id == id) return &room;
  return nullptr;
}

static Unknown half_band(const LegResult& leg) {
  return leg.sd ? Unknown(band95 * *leg.sd) : std::nullopt;
}

static std::string verdict_word(const LegResult& leg) {
  return leg.verdict ? std::string(word(*leg.verdict)) : "not known";
}

static std::string group_lines(const GroupResult& group, const Job& job) {
  const auto mm = [&](Unknown v) { return shown(v, 1, job.decimal); };
  std::string text = "Level group " + group.id + ": underside U " + mm(group.underside);
  if (job.show_inch) text += " (" + inches(group.underside) + ")";
  if (group.set) text += ", set";
  const WorktopAboveFloor& top = group.worktop_above_floor;
  if (top.at) text += "; worktop top " + mm(top.at) + " above the finished floor";
  if (top.least && top.greatest) text += ", from " + mm(top.least) + " to " + mm(top.greatest);
  std::string lines = paragraph("", printable(text));
  const std::string indent(4, ' ');
  if (!group.sum.empty())
    lines += paragraph(indent, printable(with_decimal_sign(group.sum, job.decimal)));
  for (const LevelLine& line : group.level_lines)
    lines += paragraph(indent, printable(mm(line.down) + " down from the level line of set-up " +
                                         line.setup + " as surveyed, ±" + mm(band95 * line.sd)));
  if (group.conflict) {
    const Conflict& c = *group.conflict;
    const auto words = [&](const std::string& name, bool lower) {
      for (const Bound& b : group.bounds)
        if (b.lower == lower && named(b) == name) return phrase(b);
      return name;
    };
    lines += paragraph(
        indent, printable("No underside suits all: " + words(c.lower, true) + " against " +
                          words(c.upper, false) + ", by " + mm(c.by) + " ±" + mm(band95 * c.sd)));
  }
  return lines;
}

// Columns that nothing on the page would fill are left out.
struct Shown {
  bool type = false, inch = false, turns = false, foot = false;
};

static Shown columns_needed(const Results& results, const Job& job) {
  Shown columns;
  std::set<std::string> types;
  for (const RoomResult& room : results.rooms)
    for (const LegResult& leg : room.legs) {
      types.insert(leg.type);
      columns.turns |= leg.turns.has_value();
      columns.foot |= leg.foot_clear.has_value();
    }
  columns.type = types.size() > 1;
  columns.inch = job.show_inch;
  return columns;
}

static std::string run_table(const LegList& legs, const Shown& columns, char decimal, bool styled) {
  using enum Table::Kind;
  std::vector<Table::Column> headings = {{"Unit", text}, {"Leg", text}};
  if (columns.type) headings.push_back({"Type", text});
  headings.push_back({"Height", number});
  if (columns.inch) headings.push_back({"Inch", number});
  headings.push_back({"±", number});
  if (columns.turns) headings.push_back({"Turns", number});
  headings.push_back({"Verdict", text});
  if (columns.foot) headings.push_back({"Foot clear", number});
  headings.push_back({"Set", number});

  Table table(headings);
  for (const LegResult* leg : legs) {
    std::vector<std::string> cells = {leg->unit, spaced(leg->position)};
    if (columns.type) cells.push_back(leg->type);
    cells.push_back(shown(leg->height, 1, decimal));
    if (columns.inch) cells.push_back(inches(leg->height));
    cells.push_back(shown(half_band(*leg), 1, decimal));
    if (columns.turns) cells.push_back(leg->turns ? shown_change(leg->turns, 1, decimal) : "");
    cells.push_back(verdict_word(*leg));
    if (columns.foot) cells.push_back(leg->foot_clear ? shown(leg->foot_clear, 0, decimal) : "");
    cells.push_back(leg->order > 0 ? std::to_string(leg->order) : "");
    table.row(std::move(cells), leg->verdict != Verdict::within);
  }
  return table.text(styled);
}

static std::string sums_table(const LegList& legs, char decimal, bool styled) {
  Table table({{"Unit"}, {"Leg"}, {"Sum"}});
  for (const LegResult* leg : legs)
    table.row({leg->unit, spaced(leg->position), with_decimal_sign(leg->sum, decimal)});
  return table.text(styled);
}

static std::string page(const SolvedFile& solved, bool styled) {
  const Survey& survey = solved.file.survey;
  const char decimal = survey.job.decimal;
  const Shown columns = columns_needed(solved.results, survey.job);

  std::string out = heading("Leg heights: " + reference_line(solved.results), styled);
  out += hold_warning(solved.results, styled);
  std::string how = "Lengths in mm. ± is half the 95 % band. Set: the order of setting.";
  if (columns.turns) how += " Turns from as supplied, + winds out.";
  out += paragraph("", how);
  for (const RoomResult& result : solved.results.rooms) {
    const Room* room = room_of(survey, result.id);
    if (!room) continue;
    out += "\n" + heading("Room " + room_words(survey, result.id), styled);
    if (room->levels.benchmark) {
      const Levels::Benchmark& b = *room->levels.benchmark;
      if (b.point < room->levels.points.size())
        out += paragraph(
            "", printable("Heights count up from benchmark " + room->levels.points[b.point].id +
                          " (" + shown(b.height, 1, decimal) + ")."));
    }
    for (const GroupResult& group : result.groups) out += group_lines(group, survey.job);
    std::string sums;
    for (const Run& run : room->runs) {
      const LegList legs = legs_of(run, result);
      if (legs.empty()) continue;
      const std::string title = "Run " + run.id;
      out += "\n" + heading(title + ", level group " + run.level_group, styled);
      out += run_table(legs, columns, decimal, styled);
      sums += "\n" + heading(title + ", the sums", styled) + sums_table(legs, decimal, styled);
    }
    if (result.legs.empty()) out += "\nNo unit of this room stands on legs.\n";
    out += sums;
  }
  return out;
}

static std::string csv(const SolvedFile& solved) {
  Csv out;
  for (const char* heading : {"room", "run", "unit", "position", "type", "x", "y", "bearing_floor",
                              "height", "sd", "turns", "verdict", "foot_clear", "order", "sum"})
    out.text(heading);
  out.end_row();
  for (const RoomResult& result : solved.results.rooms) {
    const Room* room = room_of(solved.file.survey, result.id);
    if (!room) continue;
    for (const Run& run : room->runs)
      for (const LegResult* leg : legs_of(run, result)) {
        out.text(result.id).text(run.id).text(leg->unit).text(leg->position).text(leg->type);
        out.number(leg->x).number(leg->y).number(leg->bearing_floor).number(leg->height);
        out.number(leg->sd).number(leg->turns);
        out.text(leg->verdict ? word(*leg->verdict) : "").number(leg->foot_clear);
        out.count(leg->order).text(leg->sum).end_row();
      }
  }
  return out.file();
}

int legs_command(const std::string& file, TableFormat format, Output& out) {
  const auto solved = load_and_solve(file, out);
  if (!solved) return exit_unusable;
  switch (format) {
    case TableFormat::page:
      out.print(page(*solved, output_is_styled()));
      break;
    case TableFormat::csv:
      out.print(csv(*solved));
      break;
    case TableFormat::json:
      out.print(json_text(results_part("levelrun-legs", solved->results, {"groups", "legs"})));
      break;
  }
  return exit_ok;
}

}  // namespace levelrun
