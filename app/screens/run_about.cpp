#include "app/screens/run_about.h"

#include "app/entry/unit_edits.h"
#include "app/screens/form_fields.h"
#include "app/screens/form_parts.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

std::string mm(double value) { return shown_short(value, 1, '.'); }

void group_fields(std::vector<FormField>& out, const Session& session, Index r) {
  const Room& room = session.survey().rooms[session.room];
  const Run& run = room.runs[r];
  out.push_back(form_heading("Level group"));
  out.push_back(form_paragraph("Runs of one group have their worktops at one height."));
  const std::vector<std::string> groups = level_groups_of(room);
  std::vector<Json> ids;
  for (const std::string& id : groups) ids.push_back(id);
  out.push_back(form_choice(run_pointer(session.room, r) + "/level_group", "Levelled with group",
                            groups, ids, Run{}.level_group));
  out.push_back(
      form_key("A level group of its own",
               own_level_group_patch(session.document(), session.survey(), session.room, r),
               "run " + run.id + " on a level of its own"));
  for (Index g = 0; g < room.level_groups.size(); ++g) {
    if (room.level_groups[g].id != run.level_group) continue;
    const std::string at =
        "/rooms/" + std::to_string(session.room) + "/level_groups/" + std::to_string(g);
    out.push_back(form_name(session, at, "Name of the group"));
    out.push_back(
        form_number(at + "/asked_height", "Worktop, above the finished floor", "as it comes"));
    out.push_back(form_number(at + "/tolerance", "Give or take", mm(LevelGroup{}.tolerance)));
    return;
  }
  out.push_back(
      form_key("Ask a worktop height of group " + run.level_group,
               list_level_groups_patch(session.document(), session.survey(), session.room),
               "level group " + run.level_group));
}

void furniture_fields(std::vector<FormField>& out, const Session& session, Index r) {
  const Furniture& job = session.survey().furniture;
  const std::string at = run_pointer(session.room, r) + "/furniture/";
  out.push_back(form_heading("This run’s own furniture"));
  out.push_back(form_paragraph("What is taken out is as the job says."));
  out.push_back(form_number(at + "base_height", "Base carcass height", mm(job.base_height)));
  out.push_back(form_number(at + "base_depth", "Base carcass depth", mm(job.base_depth)));
  out.push_back(form_number(at + "plinth/height", "Plinth board height", mm(job.plinth.height)));
  out.push_back(form_number(at + "plinth/setback", "Plinth setback", mm(job.plinth.setback)));
  out.push_back(
      form_number(at + "worktop/thickness", "Worktop thickness", mm(job.worktop.thickness)));
}

}  // namespace

void draw_run_about(ScreenContext& c, Box page, Session& session, RunsScreen& screen) {
  const Run& run = session.survey().rooms[session.room].runs[screen.run];
  const bool leaves =
      draw_form_head(c, page, session, screen.form, "Run " + run.id, run.id, "Back to the runs");
  std::vector<FormField> fields;
  fields.push_back(form_heading("The run"));
  fields.push_back(form_name(session, run_pointer(session.room, screen.run), "Its name"));
  group_fields(fields, session, screen.run);
  furniture_fields(fields, session, screen.run);
  draw_form(c, page, session, fields, screen.form, "about the run");
  if (leaves) {
    screen.about = false;
    screen.form = {};
  }
}

}  // namespace levelrun
