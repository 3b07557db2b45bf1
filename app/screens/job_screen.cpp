// Job: who and where, instruments with their deviations, furniture and legs, tolerance table,
// flooring.
#include "app/entry/set_patch.h"
#include "app/jobs/hand_out.h"
#include "app/jobs/new_job.h"
#include "app/screens/app.h"
#include "app/screens/form.h"
#include "app/screens/screens.h"
#include "app/text_number.h"
#include "app/touch/words_field.h"
#include "checks/tolerance_table.h"
#include "survey/survey_file.h"

namespace levelrun {
namespace {

using Kind = FormField::Kind;

FormField field(Kind kind, std::string at, std::string caption) {
  FormField out;
  out.kind = kind;
  out.at = std::move(at);
  out.caption = std::move(caption);
  return out;
}

FormField heading(std::string text) { return field(Kind::heading, "", std::move(text)); }

FormField words(std::string at, std::string caption, std::string hint = "", bool half = false) {
  FormField out = field(Kind::words, std::move(at), std::move(caption));
  out.unset = std::move(hint);
  out.half = half;
  return out;
}

FormField number(std::string at, std::string caption, std::string unset = "") {
  FormField out = field(Kind::number, std::move(at), std::move(caption));
  out.unset = std::move(unset);
  return out;
}

// unset: the value that holds while the file does not say; empty: the first.
FormField choice(std::string at, std::string caption, std::vector<std::string> choices,
                 std::vector<Json> values, std::string unset = "") {
  FormField out = field(Kind::choice, std::move(at), std::move(caption));
  out.choices = std::move(choices);
  out.values = std::move(values);
  out.unset = std::move(unset);
  return out;
}

FormField key(std::string caption, Json patch, std::string says) {
  FormField out = field(Kind::key, "", std::move(caption));
  out.patch = std::move(patch);
  out.says = std::move(says);
  return out;
}

Json add_to(const Json& document, const std::string& list, Json value) {
  if (value_at(document, list))
    return Json::array({{{"op", "add"}, {"path", list + "/-"}, {"value", std::move(value)}}});
  return set_patch(document, list, Json::array({std::move(value)}));
}

std::string mm(double value) { return shown_short(value, 1, '.'); }

// The floor cut through: layers as bands from the top down, their sums beside them, the wall at the
// left and the plinth face where a layer may stop.
void draw_section(Sheet& s, Box b, const Room::Flooring& flooring) {
  struct Band {
    std::string words;
    bool stripped, laid;
    float reach;  // share of the width from the wall that it stops short by
  };
  std::vector<Band> bands;
  for (Index i = flooring.laid.size(); i-- > 0;) {
    const LaidLayer& layer = flooring.laid[i];
    const float stop = layer.to == LaidTo::wall         ? 0.f
                       : layer.to == LaidTo::front_legs ? 0.25f
                                                        : 0.35f;
    bands.push_back({layer.name + " " + mm(layer.thickness), false, true, stop});
  }
  for (const ExistingLayer& layer : flooring.existing)
    bands.push_back({layer.name + " " + mm(layer.thickness) + (layer.strip ? ", stripped" : ""),
                     layer.strip, false, 0});
  bands.push_back({"bare floor", false, false, 0});
  const float high = std::min(s.row() + 6, (b.h - 12) / float(bands.size()));
  Box in = b.inset(4, 6);
  s.line({in.x, in.y}, {in.x, in.y + high * float(bands.size())}, Ink::ink, 4);
  for (const Band& band : bands) {
    Box row = in.take_top(high);
    Box body{row.x + row.w * band.reach, row.y, row.w * (1 - band.reach), row.h};
    const Ink ink = band.laid ? Ink::blue : band.stripped ? Ink::rule : Ink::ink;
    if (band.stripped) {
      s.dotted({body.x, body.y}, {body.right(), body.y}, ink, 1, 6, 4);
      s.line({body.x, body.bottom()}, {body.right(), body.y}, Ink::rule, 1);
    } else {
      s.line({body.x, body.y}, {body.right(), body.y}, ink, band.laid ? 2.f : 4.f);
    }
    if (band.reach > 0) s.line({body.x, body.y}, {body.x, body.bottom()}, ink, 2);
    s.text({body.x + 10, body.y, body.w - 14, body.h}, band.words,
           {TextSize::caption, band.laid ? Ink::blue : Ink::ink});
  }
}

void flooring_fields(std::vector<FormField>& out, const Session& session, const Room& room) {
  const std::string base = "/rooms/" + std::to_string(session.room) + "/flooring/";
  out.push_back(heading("Flooring, from the top down"));
  FormField section;
  section.kind = Kind::drawing;
  section.height = 40 + 26 * float(room.flooring.laid.size() + room.flooring.existing.size());
  // By value: an edit may replace the survey before the form is drawn to its end.
  section.draw = [flooring = room.flooring](Sheet& s, Box b) { draw_section(s, b, flooring); };
  out.push_back(section);
  for (Index i = room.flooring.laid.size(); i-- > 0;) {
    const std::string at = base + "laid/" + std::to_string(i);
    const std::string name = room.flooring.laid[i].name;
    out.push_back(words(at + "/name", "New layer " + std::to_string(i + 1)));
    out.push_back(number(at + "/thickness", name + ": thickness"));
    out.push_back(choice(at + "/to", name + ": laid to", {"wall", "front legs", "plinth face"},
                         {"wall", "front_legs", "plinth_face"}));
    out.push_back(
        choice(at + "/into_niches", name + ": under appliances", {"yes", "no"}, {true, false}));
  }
  for (Index i = 0; i < room.flooring.existing.size(); ++i) {
    const std::string at = base + "existing/" + std::to_string(i);
    const std::string name = room.flooring.existing[i].name;
    out.push_back(words(at + "/name", "Layer there now"));
    out.push_back(number(at + "/thickness", name + ": thickness"));
    out.push_back(choice(at + "/strip", name + ": stripped before fitting", {"stripped", "stays"},
                         {true, false}));
  }
  out.push_back(key("Add a new layer",
                    add_to(session.document(), base + "laid",
                           {{"name", "new floor"}, {"thickness", 15}, {"to", "wall"}}),
                    "new floor layer"));
  out.push_back(key("Add a layer that is there",
                    add_to(session.document(), base + "existing",
                           {{"name", "old floor"}, {"thickness", 5}, {"strip", true}}),
                    "old floor layer"));
}

std::vector<FormField> fields_of(const Session& session) {
  const Survey& survey = session.survey();
  const Json& document = session.document();
  std::vector<FormField> out;
  out.push_back(heading("Who and where"));
  out.push_back(words("/job/reference", "Reference", "", true));
  out.push_back(words("/job/client", "Client"));
  out.push_back(words("/job/site", "Site"));
  out.push_back(words("/job/surveyor", "Surveyor", "", true));
  out.push_back(words("/job/surveyed_on", "Surveyed on", "2026-01-31"));
  out.push_back(words("/job/notes", "Notes"));
  out.push_back(
      choice("/job/new_build", "Building", {"existing house", "new build"}, {false, true}));
  std::vector<std::string> tables;
  std::vector<Json> names;
  for (const ToleranceTable& table : tolerance_tables()) {
    std::string shown = table.name;
    for (char& c : shown) c = char(c >= 'a' && c <= 'z' ? c - 32 : c);
    tables.push_back(shown);
    names.push_back(table.name);
  }
  out.push_back(
      choice("/job/tolerance_table", "Tolerance table", tables, names, survey.job.tolerance_table));
  out.push_back(choice("/job/show/units", "Lengths shown in", {"mm", "inch"}, {"mm", "inch"}));
  out.push_back(choice("/job/show/decimal", "Decimal sign", {"point .", "comma ,"}, {".", ","}));

  if (session.room < survey.rooms.size()) flooring_fields(out, session, survey.rooms[session.room]);

  const Furniture& f = survey.furniture;
  out.push_back(heading("Furniture"));
  out.push_back(number("/furniture/base_height", "Base carcass height", mm(f.base_height)));
  out.push_back(number("/furniture/base_depth", "Base carcass depth", mm(f.base_depth)));
  out.push_back(choice("/furniture/back", "Carcass back", {"recessed", "standing off"},
                       {"recessed", "standing_off"}));
  out.push_back(number("/furniture/void_depth", "Service void behind the back", mm(f.void_depth)));
  out.push_back(
      number("/furniture/worktop/thickness", "Worktop thickness", mm(f.worktop.thickness)));
  out.push_back(number("/furniture/worktop/depth", "Worktop depth", mm(f.worktop.depth)));
  out.push_back(number("/furniture/plinth/height", "Plinth board height", mm(f.plinth.height)));
  out.push_back(
      number("/furniture/plinth/stock_length", "Plinth board length", mm(f.plinth.stock_length)));
  out.push_back(number("/furniture/plinth/setback", "Plinth setback", mm(f.plinth.setback)));
  for (Index g = 0;
       session.room < survey.rooms.size() && g < survey.rooms[session.room].level_groups.size();
       ++g)
    out.push_back(
        number("/rooms/" + std::to_string(session.room) + "/level_groups/" + std::to_string(g) +
                   "/asked_height",
               "Worktop height asked, level group " + survey.rooms[session.room].level_groups[g].id,
               "as it comes"));

  out.push_back(heading("Legs in stock"));
  for (Index i = 0; i < f.legs.size(); ++i) {
    const std::string at = "/furniture/legs/" + std::to_string(i), name = f.legs[i].id;
    out.push_back(number(at + "/min", name + ": shortest"));
    out.push_back(number(at + "/max", name + ": longest"));
    out.push_back(number(at + "/supplied", name + ": as delivered", "not said"));
    out.push_back(number(at + "/pitch", name + ": mm a turn", "not said"));
  }
  out.push_back(
      key("Add a leg type",
          add_to(document, "/furniture/legs",
                 {{"id", "leg " + std::to_string(f.legs.size() + 1)}, {"min", 100}, {"max", 150}}),
          "leg type"));

  out.push_back(heading("Instruments, sd of one reading"));
  for (Index i = 0; i < survey.instruments.size(); ++i)
    out.push_back(
        number("/instruments/" + std::to_string(i) + "/sd", survey.instruments[i].id, "not said"));

  out.push_back(heading("This job"));
  out.push_back(
      key("Add a room of 4 corners", room_patch(document, {90, 90, 90, 90}), "another room"));
  return out;
}

// The room's photos, and the key that adds another one.
void photo_fields(std::vector<FormField>& out, ScreenContext& c, Session& session,
                  JobScreen& screen) {
  out.push_back(heading("Photos of this room"));
  for (Index i = 0; i < session.survey().rooms[session.room].photos.size(); ++i) {
    FormField row;
    row.kind = Kind::drawing;
    row.tall = [&session, i](const Sheet& s, float w) {
      return photo_row_height(s, w, session, i);
    };
    row.draw = [&c, &session, &screen, i](Sheet&, Box b) {
      draw_photo_row(c, b, session, i, screen.photos);
    };
    out.push_back(row);
  }
  FormField add;
  add.kind = Kind::drawing;
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
  std::vector<FormField> fields = fields_of(session);
  for (const Room& room : session.survey().rooms)
    if (!room.runs.empty()) {  // something to fit
      FormField day;
      day.kind = Kind::drawing;
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
