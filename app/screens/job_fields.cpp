#include "app/screens/job_fields.h"

#include "app/entry/rename.h"
#include "app/entry/wall_edits.h"
#include "app/screens/form_fields.h"
#include "app/text_number.h"
#include "checks/tolerance_table.h"
#include "checks/words.h"
#include "survey/words.h"

namespace levelrun {
namespace {

// As in the format: what holds while the file does not say.
constexpr const char* usual_sd_per_m = "0";

std::string mm(double value) { return shown_short(value, 1, '.'); }

void who_and_where(std::vector<FormField>& out, const Session& session) {
  out.push_back(form_heading("Who and where"));
  out.push_back(form_words("/job/reference", "Reference", "", true));
  out.push_back(form_words("/job/client", "Client"));
  out.push_back(form_words("/job/site", "Site"));
  out.push_back(form_words("/job/surveyor", "Surveyor", "", true));
  out.push_back(form_words("/job/surveyed_on", "Surveyed on", "2026-01-31"));
  out.push_back(form_words("/job/notes", "Notes"));
  out.push_back(
      form_choice("/job/new_build", "Building", {"existing house", "new build"}, {false, true}));
  std::vector<std::string> tables;
  std::vector<Json> names;
  for (const ToleranceTable& table : tolerance_tables()) {
    std::string shown = table.name;
    for (char& c : shown) c = char(c >= 'a' && c <= 'z' ? c - 32 : c);
    tables.push_back(shown);
    names.push_back(table.name);
  }
  out.push_back(form_choice("/job/tolerance_table", "Tolerance table", tables, names,
                            session.survey().job.tolerance_table));
  out.push_back(form_choice("/job/show/units", "Lengths shown in", {"mm", "inch"}, {"mm", "inch"}));
  out.push_back(
      form_choice("/job/show/decimal", "Decimal sign", {"point .", "comma ,"}, {".", ","}));
}

void room_fields(std::vector<FormField>& out, const Session& session) {
  const Room& room = session.survey().rooms[session.room];
  const std::string at = "/rooms/" + std::to_string(session.room);
  out.push_back(form_heading("Room"));
  out.push_back(form_words(at + "/name", "Room’s name", "", true));
  out.push_back(form_name(session, at, "Room’s short name"));
  for (Index g = 0; g < room.level_groups.size(); ++g) {
    const std::string group = at + "/level_groups/" + std::to_string(g);
    const std::string of = ", level group " + room.level_groups[g].id;
    out.push_back(form_number(group + "/asked_height", "Worktop height asked" + of, "as it comes"));
    out.push_back(
        form_number(group + "/tolerance", "Give or take" + of, mm(LevelGroup{}.tolerance)));
  }
}

void furniture_fields(std::vector<FormField>& out, const Session& session) {
  const Furniture& f = session.survey().furniture;
  const std::string at = "/furniture/";
  const auto number = [&](const std::string& field, const char* caption, double now) {
    out.push_back(form_number(at + field, caption, mm(now)));
  };
  const auto maybe = [&](const std::string& field, const char* caption, std::optional<double> now) {
    out.push_back(form_number(at + field, caption, now ? mm(*now) : "not said"));
  };
  out.push_back(form_heading("Furniture"));
  number("base_height", "Base carcass height", f.base_height);
  number("base_depth", "Base carcass depth", f.base_depth);
  number("front_thickness", "Front thickness", f.front_thickness);
  number("handle", "Handle, out from the front", f.handle);
  out.push_back(form_choice(at + "back", "Carcass back", {"recessed", "standing off"},
                            {"recessed", "standing_off"}));
  number("back_thickness", "Back panel thickness", f.back_thickness);
  number("void_depth", "Service void behind the back", f.void_depth);
  maybe("tall_height", "Tall carcass height", f.tall_height);
  number("wall_unit/height", "Wall unit height", f.wall_unit.height);
  number("wall_unit/depth", "Wall unit depth", f.wall_unit.depth);
  number("wall_unit/above_worktop", "Wall unit above the worktop", f.wall_unit.above_worktop);
  maybe("wall_unit/rail_drop", "Wall unit’s rail below its top", f.wall_unit.rail_drop);
  number("cornice", "Cornice above wall and tall units", f.cornice);
  number("infill/min", "Infill, least", f.infill.min);
  number("infill/max", "Infill, greatest", f.infill.max);

  out.push_back(form_heading("Worktop"));
  number("worktop/thickness", "Worktop thickness", f.worktop.thickness);
  number("worktop/depth", "Worktop depth", f.worktop.depth);
  number("worktop/overhang", "Worktop overhang in front", f.worktop.overhang);
  out.push_back(form_words(at + "worktop/material", "Worktop material"));
  form_numbers(out, at + "worktop/upstand",
               {{"height", "Upstand height"}, {"thickness", "Upstand thickness"}});
  maybe("worktop/stock_length", "Worktop stock length", f.worktop.stock_length);

  out.push_back(form_heading("Plinth"));
  const Plinth& p = f.plinth;
  number("plinth/height", "Plinth board height", p.height);
  const std::string others = at + "plinth/other_heights";
  for (Index i = 0; i < p.other_heights.size(); ++i)
    out.push_back(form_number(others + "/" + std::to_string(i),
                              "Other board height " + std::to_string(i + 1), mm(p.height)));
  out.push_back(form_key("Add a board height",
                         add_to_list(session.document(), others, number_as_written(p.height)),
                         "another board height"));
  number("plinth/thickness", "Plinth board thickness", p.thickness);
  number("plinth/stock_length", "Plinth board length", p.stock_length);
  number("plinth/setback", "Plinth setback", p.setback);
  number("plinth/top_gap_min", "Gap above the plinth, least", p.top_gap_min);
  number("plinth/top_gap_max", "Gap above the plinth, greatest", p.top_gap_max);
  number("plinth/floor_gap_max", "Gap below the plinth, greatest", p.floor_gap_max);
  number("plinth/kerf", "Saw kerf", p.kerf);
  out.push_back(form_choice(at + "plinth/sealed_edges", "Plinth’s sealed edges",
                            {"long edges", "all", "none"}, {"long", "all", "none"}));
}

void leg_fields(std::vector<FormField>& out, const Session& session) {
  const Furniture& f = session.survey().furniture;
  const std::string list = "/furniture/legs";
  out.push_back(form_heading("Legs in stock"));
  for (Index i = 0; i < f.legs.size(); ++i) {
    const LegType& leg = f.legs[i];
    const std::string at = list + "/" + std::to_string(i), name = leg.id;
    out.push_back(form_name(session, at, "Leg type " + std::to_string(i + 1)));
    out.push_back(form_number(at + "/min", name + ": shortest"));
    out.push_back(form_number(at + "/max", name + ": longest"));
    out.push_back(form_number(at + "/supplied", name + ": as delivered", "not said"));
    out.push_back(form_number(at + "/pitch", name + ": mm a turn", "not said"));
    out.push_back(form_number(at + "/foot_radius", name + ": foot radius", mm(leg.foot_radius)));
    out.push_back(form_number(at + "/front_inset", name + ": in from front", mm(leg.front_inset)));
    out.push_back(form_number(at + "/back_inset", name + ": in from back", mm(leg.back_inset)));
    out.push_back(form_number(at + "/side_inset", name + ": in from sides", mm(leg.side_inset)));
    out.push_back(form_number(at + "/span", name + ": widest unit on four", mm(leg.span)));
    out.push_back(form_key("Take out leg type " + std::to_string(i + 1), remove_patch(at),
                           "leg type " + name + " taken out"));
  }
  out.push_back(form_key(
      "Add a leg type",
      add_to_list(
          session.document(), list,
          {{"id", free_id_in(session.document(), list, "leg ")}, {"min", 100}, {"max", 150}}),
      "leg type"));
}

void instrument_fields(std::vector<FormField>& out, const Session& session) {
  const std::string list = "/instruments";
  std::vector<std::string> kinds;
  std::vector<Json> values;
  for (const std::string_view kind : instrument_words) {
    kinds.push_back(spaced(kind));
    values.push_back(std::string(kind));
  }
  out.push_back(form_heading("Instruments"));
  const std::vector<Instrument>& instruments = session.survey().instruments;
  for (Index i = 0; i < instruments.size(); ++i) {
    const std::string at = list + "/" + std::to_string(i), name = instruments[i].id;
    out.push_back(form_name(session, at, "Instrument " + std::to_string(i + 1)));
    out.push_back(form_choice(at + "/kind", name + " is a", kinds, values));
    out.push_back(form_number(at + "/sd", name + ": sd of one reading"));
    if (instruments[i].kind == InstrumentKind::square)
      out.push_back(form_number(at + "/sd_deg", name + ": sd in degrees", "not said"));
    else
      out.push_back(
          form_number(at + "/sd_per_m", name + ": sd of its scale, mm a metre", usual_sd_per_m));
    out.push_back(form_key("Take out instrument " + std::to_string(i + 1), remove_patch(at),
                           "instrument " + name + " taken out"));
  }
  out.push_back(form_key("Add an instrument",
                         add_to_list(session.document(), list,
                                     {{"id", free_id_in(session.document(), list, "instrument ")},
                                      {"kind", "tape"},
                                      {"sd", Instrument{}.sd}}),
                         "instrument"));
}

}  // namespace

std::vector<FormField> job_fields(const Session& session) {
  std::vector<FormField> out;
  const bool has_room = session.room < session.survey().rooms.size();
  who_and_where(out, session);
  if (has_room) {
    flooring_fields(out, session);
    room_fields(out, session);
  }
  instrument_fields(out, session);
  leg_fields(out, session);
  furniture_fields(out, session);
  return out;
}

}  // namespace levelrun
