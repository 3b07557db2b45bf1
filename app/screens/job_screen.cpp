// Job: who and where, instruments with their deviations, furniture and legs, tolerance table,
// flooring.
#include <algorithm>

#include "app/jobs/hand_out.h"
#include "app/jobs/new_job.h"
#include "app/screens/app.h"
#include "app/screens/form_fields.h"
#include "app/screens/form_parts.h"
#include "app/screens/job_fields.h"
#include "app/screens/key_page.h"
#include "app/screens/screens.h"

namespace levelrun {
namespace {

// The room's photos, and the key that adds another one.
void photo_fields(std::vector<FormField>& out, ScreenContext& c, Session& session,
                  JobScreen& screen) {
  out.push_back(form_heading("Photos of this room"));
  for (Index i = 0; i < session.survey().rooms[session.room].photos.size(); ++i) {
    FormField row;
    row.kind = FormField::Kind::drawing;
    row.tall = [&session, i](const Sheet& s, float w) {
      return photo_row_height(s, w, session, i);
    };
    row.draw = [&c, &session, &screen, i](Sheet&, Box b) {
      draw_photo_row(c, b, session, i, screen.photos);
    };
    out.push_back(row);
  }
  FormField add;
  add.kind = FormField::Kind::drawing;
  add.tall = [&c, &screen](const Sheet&, float w) {
    return photo_adder_height(c, w, screen.photos, "");
  };
  add.draw = [&c, &session, &screen](Sheet&, Box b) {
    if (draw_photo_adder(c, b, screen.photos, "")) give_photo(c, session, screen.photos, "");
  };
  out.push_back(add);
}

// Which outline the room to be added has; then the room is there.
void draw_adding_room(ScreenContext& c, Box page, Session& session, JobScreen& screen) {
  std::optional<RoomStart> room;
  if (screen.outline.open) {
    room = draw_outline_page(c, page, session.survey().job, screen.outline);
  } else {
    std::vector<RunKey> keys;
    for (const UsualRoom& usual : usual_rooms()) keys.push_back({usual.words});
    keys.push_back({walked_room_words});
    const int tapped = draw_key_page(c.sheet, page, "How many corners has the room to be added?",
                                     keys, "Back to the job");
    if (tapped == key_page_back) screen.adding_room = false;
    if (tapped == int(usual_rooms().size())) screen.outline.open = true;
    if (tapped >= 0 && tapped < int(usual_rooms().size()))
      room = usual_rooms()[std::size_t(tapped)].start;
  }
  if (!room) return;
  screen.adding_room = false;
  if (session.apply(room_patch(session.document(), *room), "another room"))
    screen.said = "Another room is there: the room key in the title strip goes to it.";
}

void draw_walking_again(ScreenContext& c, Box page, Session& session, JobScreen& screen) {
  const auto room = draw_outline_page(c, page, session.survey().job, screen.outline);
  if (!room) return;
  const Json patch = outline_patch(session.document(), session.room, *room);
  const std::size_t walls = session.survey().rooms[session.room].walls.size();
  if (patch.empty())
    screen.said = "This room has readings on its " + std::to_string(walls) +
                  " walls, and the new outline has " + std::to_string(room->corners.size()) +
                  ": nothing was changed. Add it as another room.";
  else if (session.apply(patch, "outline walked again"))
    screen.said = "The outline is as walked. What was booked on its walls stays.";
}

}  // namespace

void draw_job_screen(ScreenContext& c, Box page, Session& session, JobScreen& screen) {
  if (session.room < session.survey().rooms.size() &&
      draw_photo_page(c, page, session, screen.photos))
    return;
  if (screen.adding_room) return draw_adding_room(c, page, session, screen);
  if (screen.outline.open) return draw_walking_again(c, page, session, screen);
  Sheet& s = c.sheet;
  // Five keys in a row, or three by three where their words are too wide for that.
  const bool in_row = page.w > 450 * s.fonts.text_scale();
  const float high = std::max(56.f, s.row() + 24);
  Box low = page.take_bottom((in_row ? high : 2 * high + gap) + 2 * gap).inset(margin, gap);
  s.line({page.x, low.y - gap}, {page.right(), low.y - gap}, Ink::rule);
  const auto place = [&](int n) {
    const int across = in_row ? 5 : 3;
    const float w = (low.w - gap * float(across - 1)) / float(across);
    return Box{low.x + float(n % across) * (w + gap), low.y + float(n / across) * (high + gap), w,
               high};
  };
  const auto undo = session.undo_says(), redo = session.redo_says();
  const std::string no_words;
  if (s.key(place(0), "Undo", undo.empty() ? KeyLook::not_yet : KeyLook::plain,
            s.narrow() ? no_words : undo))
    session.undo();
  if (s.key(place(1), "Redo", redo.empty() ? KeyLook::not_yet : KeyLook::plain,
            s.narrow() ? no_words : redo))
    session.redo();
  if (s.key(place(2), "New revision")) {
    const Json next = next_revision(session.document());
    screen.said = "Revision " + std::to_string(session.survey().job.revision + 1) + " " +
                  c.platform.give_file(job_file_name(next), write_survey(next)) + ".";
  }
  if (s.key(place(3), "Copy out"))
    screen.said =
        "A copy " +
        c.platform.give_file(job_file_name(session.document()), write_survey(session.document())) +
        ".";
  if (s.key(place(4), "Job pack")) screen.said = hand_out(c.platform, session, Sheets::job_pack);
  std::string said = screen.said;
  for (const std::string& notice : session.notices()) said += (said.empty() ? "" : " ") + notice;
  if (!session.trouble().empty()) said = session.trouble();
  if (!said.empty()) {
    const float tall = s.paragraph_height(page.w - 2 * margin, said, {TextSize::body}) + 12;
    Box b = page.take_top(tall).inset(margin, 6);
    s.paragraph(b, said, {TextSize::body, session.trouble().empty() ? Ink::blue : Ink::crayon});
    if (s.touch.tap("what was said", {b.x, b.y, b.w, tall})) {
      screen.said.clear();
      session.dismiss_notices();
    }
  }
  std::vector<FormField> fields = job_fields(session);
  for (const Room& room : session.survey().rooms)
    if (!room.runs.empty()) {  // something to fit
      FormField day;
      day.kind = FormField::Kind::drawing;
      day.height = 68;
      day.draw = [&c](Sheet& sheet, Box b) {
        if (sheet.key(b.inset(0, 8), "Install day")) c.app.show(Page::arrival);
      };
      fields.insert(fields.begin(), day);
      break;
    }
  if (session.room < session.survey().rooms.size()) photo_fields(fields, c, session, screen);
  fields.push_back(form_heading("This job"));
  if (session.room < session.survey().rooms.size())
    fields.push_back(form_page_key("Walk this room’s outline again", [&screen] {
      screen.outline = {};
      screen.outline.open = true;
    }));
  fields.push_back(form_page_key("Add a room", [&screen] { screen.adding_room = true; }));
  draw_form(c, page, session, fields, screen.form, "job");
}

}  // namespace levelrun
