// Flooring on the page Job: the layers there are and those to come, and the section through them.
#include "app/entry/wall_edits.h"
#include "app/screens/form_fields.h"
#include "app/screens/job_fields.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

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

// Where a layer lies, in a room with a step in its floor.
void area_field(std::vector<FormField>& out, const Room& room, const std::string& at,
                const std::string& layer) {
  if (room.floor_areas.empty()) return;
  std::vector<std::string> names = {"whole room"};
  std::vector<Json> values = {Json()};
  for (const FloorArea& area : room.floor_areas) {
    names.push_back(area.id);
    values.push_back(area.id);
  }
  out.push_back(form_choice(at + "/area", layer + ": in floor area", names, values));
}

}  // namespace

void flooring_fields(std::vector<FormField>& out, const Session& session) {
  const Room& room = session.survey().rooms[session.room];
  const std::string base = "/rooms/" + std::to_string(session.room) + "/flooring/";
  out.push_back(form_heading("Flooring, from the top down"));
  FormField section;
  section.kind = FormField::Kind::drawing;
  section.height = 40 + 26 * float(room.flooring.laid.size() + room.flooring.existing.size());
  // By value: an edit may replace the survey before the form is drawn to its end.
  section.draw = [flooring = room.flooring](Sheet& s, Box b) { draw_section(s, b, flooring); };
  out.push_back(section);
  for (Index i = room.flooring.laid.size(); i-- > 0;) {
    const std::string at = base + "laid/" + std::to_string(i);
    const std::string name = room.flooring.laid[i].name;
    out.push_back(form_words(at + "/name", "New layer " + std::to_string(i + 1)));
    out.push_back(form_number(at + "/thickness", name + ": thickness"));
    out.push_back(form_choice(at + "/to", name + ": laid to", {"wall", "front legs", "plinth face"},
                              {"wall", "front_legs", "plinth_face"}));
    out.push_back(form_choice(at + "/into_niches", name + ": under appliances", {"yes", "no"},
                              {true, false}));
    out.push_back(form_choice(at + "/floating", name + ": fixed how", {"stuck down", "floating"},
                              {false, true}));
    area_field(out, room, at, name);
    out.push_back(form_number(at + "/sd", name + ": sd of its thickness", "0.5"));
    out.push_back(form_key("Take out new layer " + std::to_string(i + 1), remove_patch(at),
                           name + " taken out"));
  }
  for (Index i = 0; i < room.flooring.existing.size(); ++i) {
    const std::string at = base + "existing/" + std::to_string(i);
    const std::string name = room.flooring.existing[i].name;
    out.push_back(form_words(at + "/name", "Layer there now " + std::to_string(i + 1)));
    out.push_back(form_number(at + "/thickness", name + ": thickness"));
    out.push_back(form_choice(at + "/strip", name + ": stripped before fitting",
                              {"stripped", "stays"}, {true, false}));
    area_field(out, room, at, name);
    out.push_back(form_number(at + "/sd", name + ": sd of its thickness", "0.5"));
    out.push_back(form_key("Take out layer there " + std::to_string(i + 1), remove_patch(at),
                           name + " taken out"));
  }
  out.push_back(form_key("Add a new layer",
                         add_to_list(session.document(), base + "laid",
                                     {{"name", "new floor"}, {"thickness", 15}, {"to", "wall"}}),
                         "new floor layer"));
  out.push_back(form_key("Add a layer that is there",
                         add_to_list(session.document(), base + "existing",
                                     {{"name", "old floor"}, {"thickness", 5}, {"strip", true}}),
                         "old floor layer"));
}

}  // namespace levelrun
