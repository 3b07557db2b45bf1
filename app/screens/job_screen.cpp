// Job: who and where, instruments with their deviations, furniture and legs, tolerance table,
// flooring.
#include "app/jobs/hand_out.h"
#include "app/jobs/new_job.h"
#include "app/screens/app.h"
#include "app/screens/form_fields.h"
#include "app/screens/job_fields.h"
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

}  // namespace

void draw_job_screen(ScreenContext& c, Box page, Session& session, JobScreen& screen) {
  if (session.room < session.survey().rooms.size() &&
      draw_photo_page(c, page, session, screen.photos))
    return;
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
  draw_form(c, page, session, fields, screen.form, "job");
}

}  // namespace levelrun
