#include "app/screens/floor_services_page.h"

#include <algorithm>

#include "app/entry/floor_edits.h"
#include "app/entry/wall_edits.h"
#include "app/screens/form_fields.h"
#include "app/screens/form_parts.h"
#include "app/screens/key_page.h"
#include "app/screens/putting_page.h"
#include "app/screens/wall_fields.h"
#include "checks/words.h"
#include "survey/words.h"

namespace levelrun {
namespace {

std::string kind_words(ServiceKind kind) {
  return kind == ServiceKind::unknown ? "service" : spaced(service_words[std::size_t(kind)]);
}

class FloorServicesPage {
 public:
  FloorServicesPage(ScreenContext& c, Session& session, FloorServicesEntry& e)
      : c_(c), session_(session), e_(e), room_(session.survey().rooms[session.room]) {}

  void draw(Box page) {
    if (e_.adding) return e_.kind.empty() ? ask_kind(page) : put(page);
    if (e_.chosen && (*e_.chosen >= room_.services.size() || room_.services[*e_.chosen].place.wall))
      e_.chosen.reset();
    const bool leaves = draw_form_head(c_, page, session_, e_.form, "Services in the floor",
                                       "In the floor", "Back to the points");
    draw_form(c_, page, session_, fields(), e_.form, "services in the floor");
    if (leaves) e_ = {};
  }

 private:
  std::vector<FormField> fields() {
    std::vector<FormField> out;
    out.push_back(form_heading("Services that stand on no wall"));
    bool none = true;
    for (Index i = 0; i < room_.services.size(); ++i) {
      const Service& service = room_.services[i];
      if (service.place.wall) continue;
      none = false;
      out.push_back(form_row(
          "Service " + service.id, service.id,
          kind_words(service.kind) + ", " + place_text(room_, service.place, session_.survey().job),
          e_.chosen == i, [this, i] {
            e_.chosen = e_.chosen == i ? std::nullopt : std::optional(i);
            e_.form = {};
          }));
    }
    if (none)
      out.push_back(
          form_paragraph("What comes up out of the floor: the waste of an island, a soil pipe, a "
                         "gully, a floor duct. What stands on a wall is put down on its wall."));
    out.push_back(form_page_key("Add a service in the floor", [this] {
      e_ = {};
      e_.open = e_.adding = true;
    }));
    if (!e_.chosen) return out;
    const std::vector<FormField> of_chosen = service_fields(session_, *e_.chosen);
    out.insert(out.end(), of_chosen.begin(), of_chosen.end());
    const std::string id = room_.services[*e_.chosen].id;
    out.push_back(form_heading("Take it out"));
    out.push_back(form_key("Take out " + id,
                           remove_patch("/rooms/" + std::to_string(session_.room) + "/services/" +
                                        std::to_string(*e_.chosen)),
                           "service " + id + " taken out"));
    return out;
  }

  void ask_kind(Box page) {
    std::vector<RunKey> keys;
    for (const KindWord& kind : service_kind_words()) keys.push_back({kind.words});
    const int tapped = draw_key_page(c_.sheet, page, "Which service comes out of the floor?", keys,
                                     "Back to the list");
    if (tapped == key_page_back) e_.adding = false;
    if (tapped >= 0) e_.kind = service_kind_words()[std::size_t(tapped)].name;
  }

  void put(Box page) {
    PlaceAsked asked;
    for (const KindWord& kind : service_kind_words())
      if (e_.kind == kind.name) asked.name = kind.words;
    asked.advice = "Tap about where.";
    const PlaceEvent e = draw_place_pad(c_, page, session_, asked, e_.pad, e_.view,
                                        [this](const DrawingView& view) { draw_others(view); });
    if (e.undo) e_.kind.clear();
    if (!e.place) return;
    const Index place = room_.services.size();
    if (session_.apply(floor_service_patch(session_.document(), session_.room, e_.kind, *e.place),
                       asked.name + " in the floor")) {
      e_ = {};
      e_.open = true;
      e_.chosen = place;
    } else {
      e_.pad.refused = session_.trouble();
    }
  }

  void draw_others(const DrawingView& view) {
    Sheet& s = c_.sheet;
    for (const Service& service : room_.services) {
      const auto at = place_on_plan(session_.drawn(), service.place);
      if (service.place.wall || !at) continue;
      const Spot spot = view.at(at->x, at->y);
      s.frame({spot.x - 6, spot.y - 6, 12, 12}, Ink::ink, 2, 6);
      s.text({spot.x + 9, spot.y - s.row(TextSize::caption) / 2,
              s.width(service.id, TextSize::caption) + 4, s.row(TextSize::caption)},
             service.id, {TextSize::caption, Ink::ink});
    }
  }

  ScreenContext& c_;
  Session& session_;
  FloorServicesEntry& e_;
  const Room& room_;
};

}  // namespace

bool FloorServicesEntry::back() {
  if (!open) return false;
  const bool to_list = adding || !form.editing.empty();
  const std::optional<Index> was = adding ? std::nullopt : chosen;
  *this = {};
  open = to_list;
  if (to_list) chosen = was;
  return true;
}

void draw_floor_services_page(ScreenContext& c, Box page, Session& session, FloorServicesEntry& e) {
  FloorServicesPage(c, session, e).draw(page);
}

}  // namespace levelrun
