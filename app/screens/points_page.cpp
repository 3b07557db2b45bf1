#include "app/screens/points_page.h"

#include <algorithm>
#include <cmath>

#include "app/entry/propose_points.h"
#include "app/entry/typed_number.h"
#include "app/entry/wall_edits.h"
#include "app/place_words.h"
#include "app/screens/booking_page.h"
#include "app/screens/form_fields.h"
#include "app/screens/form_parts.h"
#include "app/screens/key_page.h"
#include "app/screens/place_fields.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"
#include "app/touch/marks.h"

namespace levelrun {
namespace {

using Adding = PointsEntry::Adding;

constexpr const char* done_key = "Done";
constexpr double farthest = 100000;      // mm from the room's first corner; our choice
constexpr double worst_sd = 1000;        // mm; a place known no better is none; our choice
constexpr std::size_t numbers_each = 2;  // x and y, or along and out

std::string mm(double value) { return shown_short(value, 1, '.'); }

class PointsPage {
 public:
  PointsPage(ScreenContext& c, Session& session, PointsEntry& e)
      : c_(c),
        s_(c.sheet),
        session_(session),
        e_(e),
        room_(session.survey().rooms[session.room]),
        at_("/rooms/" + std::to_string(session.room) + "/levels") {}

  void draw(Box page, const std::function<DrawingView(Box)>& draw_plan) {
    if (e_.areas.open) return draw_floor_areas_page(c_, page, session_, e_.areas);
    if (e_.services.open) return draw_floor_services_page(c_, page, session_, e_.services);
    if (e_.adding == Adding::choosing_wall) return choose_wall(page);
    if (e_.adding == Adding::points) return type(page, draw_plan);
    if (e_.chosen && *e_.chosen >= room_.levels.points.size()) e_.chosen.reset();
    // The title goes first where there is no room.
    const bool leaves = draw_form_head(c_, page, session_, e_.form, "Points and set-ups", "Points",
                                       "Back to the readings");
    draw_form(c_, page, session_, fields(), e_.form, "points and set-ups");
    if (leaves) e_ = {};
  }

 private:
  std::vector<FormField> fields() {
    std::vector<FormField> out;
    const Json& document = session_.document();
    out.push_back(form_heading("Add points"));
    const auto begin = [this](Adding adding) {
      e_.adding = adding;
      e_.wall.reset();
      e_.sd.reset();
      e_.numbers.clear();
      e_.typed.clear();
      e_.added = 0;
    };
    out.push_back(form_page_key("By x and y", [begin] { begin(Adding::points); }));
    out.push_back(form_page_key("Along a wall", [begin] { begin(Adding::choosing_wall); }));
    Json mark = new_setup_patch(document, session_.survey(), session_.room);
    mark.erase(mark.size() - 1);  // what levels need at all, without the set-up
    mark.push_back(
        {{"op", "add"},
         {"path", at_ + "/points/-"},
         {"value", {{"id", free_id_in(document, at_ + "/points", "M")}, {"off_floor", true}}}});
    out.push_back(form_key("A mark off the floor", mark, "mark off the floor"));
    out.push_back(form_heading("The floor"));
    out.push_back(form_page_key("Floor areas", [this] {
      e_.areas = {};
      e_.areas.open = true;
    }));
    out.push_back(form_page_key("Services in the floor", [this] {
      e_.services = {};
      e_.services.open = true;
    }));
    out.push_back(form_heading("Set-ups"));
    setup_fields(out);
    out.push_back(form_key(
        "New set-up", new_setup_patch(document, session_.survey(), session_.room), "new set-up"));
    benchmark_fields(out);
    out.push_back(form_heading("Points, " + std::to_string(room_.levels.points.size())));
    for (Index p = 0; p < room_.levels.points.size(); ++p) point_fields(out, p);
    return out;
  }

  void setup_fields(std::vector<FormField>& out) {
    std::vector<std::string> levels = {"not said"};
    std::vector<Json> ids = {Json()};
    for (const Instrument& one : session_.survey().instruments)
      if (one.kind == InstrumentKind::laser_level || one.kind == InstrumentKind::optical_level) {
        levels.push_back(one.id);
        ids.push_back(one.id);
      }
    for (Index i = 0; i < room_.levels.setups.size(); ++i) {
      const std::string setup = at_ + "/setups/" + std::to_string(i);
      const std::string n = std::to_string(i + 1), id = room_.levels.setups[i].id;
      out.push_back(form_name(session_, setup, "Set-up " + n));
      out.push_back(form_choice(setup + "/instrument", "Set-up " + n + " by", levels, ids));
      out.push_back(form_number(setup + "/collimation",
                                "Set-up " + n + ": line of sight rises, mm a metre", "0"));
      out.push_back(
          form_key("Take out set-up " + n, remove_patch(setup), "set-up " + id + " taken out"));
    }
  }

  void benchmark_fields(std::vector<FormField>& out) {
    if (!room_.levels.benchmark) return;
    out.push_back(form_heading("Benchmark"));
    std::vector<std::string> names;
    std::vector<Json> ids;
    const auto add = [&](const LevelPoint& point) {
      names.push_back(point.id);
      ids.push_back(point.id);
    };
    const Index now = room_.levels.benchmark->point;
    for (Index p = 0; p < room_.levels.points.size(); ++p)
      if (room_.levels.points[p].off_floor || p == now || e_.chosen == p)
        add(room_.levels.points[p]);
    out.push_back(form_choice(at_ + "/benchmark/point", "Benchmark is", names, ids));
    out.push_back(form_number(at_ + "/benchmark/height", "Its height", "0"));
  }

  std::string words_of(const LevelPoint& point) const {
    if (!point.place) return "off the floor";
    const Place& p = *point.place;
    const Job& job = session_.survey().job;
    const std::string where = p.wall
                                  ? room_.walls[*p.wall].id + ", " + shown_length(p.along, job) +
                                        " along, " + shown_length(p.out, job) + " out"
                                  : "x " + shown_length(p.x, job) + ", y " + shown_length(p.y, job);
    return where + ", sd " + shown_length(p.sd, job);
  }

  // A line; below it, when it is chosen, all there is to change of it.
  void point_fields(std::vector<FormField>& out, Index i) {
    const LevelPoint& point = room_.levels.points[i];
    FormField row;
    row.kind = FormField::Kind::drawing;
    row.tall = [](const Sheet& s, float) { return std::max(least_target, s.row() + 16); };
    // By value: an edit may replace the survey before the form is drawn to its end.
    row.draw = [this, i, id = point.id, words = words_of(point)](Sheet& s, Box b) {
      if (s.row_target(b, "Point " + id, e_.chosen == i)) {
        if (e_.chosen == i)
          e_.chosen.reset();
        else
          e_.chosen = i;
        e_.form.editing.clear();
      }
      s.rule_under(b);
      Box in = b.inset(6, 0);
      s.text(in.take_left(std::max(s.grown(56), s.width(id, TextSize::body, true) + 10)), id,
             {TextSize::body, Ink::ink, true});
      s.text(in, words, {TextSize::body, Ink::soft});
    };
    out.push_back(row);
    if (e_.chosen != i) return;
    const std::string at = at_ + "/points/" + std::to_string(i), of = point.id + ": ";
    out.push_back(form_name(session_, at, "Name of point " + std::to_string(i + 1)));
    if (point.place) place_fields(out, session_, at + "/place", of, *point.place);
    if (!room_.flooring.existing.empty() && !point.off_floor) {
      std::vector<std::string> names = {"top layer"};
      std::vector<Json> values = {Json()};
      for (const ExistingLayer& layer : room_.flooring.existing) {
        names.push_back(layer.name);
        values.push_back(layer.name);
      }
      out.push_back(form_choice(at + "/on", of + "staff stands on", names, values));
    }
    if (!room_.floor_areas.empty() && !point.off_floor) {
      std::vector<std::string> names = {"where it lies"};
      std::vector<Json> values = {Json()};
      for (const FloorArea& area : room_.floor_areas) {
        names.push_back(area.id);
        values.push_back(area.id);
      }
      out.push_back(form_choice(at + "/area", of + "in floor area", names, values));
    }
    out.push_back(form_key("Take out point " + point.id, remove_patch(at),
                           "point " + point.id + " taken out"));
  }

  void choose_wall(Box page) {
    std::vector<RunKey> keys;
    for (const Wall& wall : room_.walls) keys.push_back({wall.id});
    const int tapped = draw_key_page(s_, page, "Along which wall?", keys, "Back to the points");
    if (tapped == key_page_back) e_.adding = Adding::none;
    if (tapped < 0) return;
    e_.wall = Index(tapped);
    e_.adding = Adding::points;
  }

  std::string next_id() const { return free_id_in(session_.document(), at_ + "/points", "P"); }

  // How well the places are known, once; then place after place, two numbers each.
  void type(Box page, const std::function<DrawingView(Box)>& draw_plan) {
    const Job& job = session_.survey().job;
    const bool enter = typed_keys(e_.typed);
    const TypedNumber number = typed_number(e_.typed, typed_unit(job));
    const bool asks_sd = !e_.sd;
    const std::size_t n = e_.numbers.size();
    BookingView v;
    v.decimal = job.decimal;
    v.can_skip = false;
    v.more = done_key;
    const std::string undo = session_.undo_says();
    v.undo_says = n > 0 || asks_sd ? "the last step" : undo;
    if (asks_sd) {
      v.name = "Places are good to";
      v.caption = "sd, each way";
      v.advice = mm(Place{}.sd) + " unless you type another.";
    } else {
      v.name = next_id() + (e_.wall  ? n == 0 ? " along " + room_.walls[*e_.wall].id : " out"
                            : n == 0 ? " x"
                                     : " y");
      v.caption = e_.wall  ? n == 0 ? "from its left end" : "from the wall"
                  : n == 0 ? "along the first wall"
                           : "into the room is minus";
      if (e_.at && !e_.wall)
        v.expected = "about " + shown_length(std::round(n == 0 ? e_.at->x : e_.at->y), job, 0);
      v.advice = "Done when all are typed.";
    }
    v.typed = e_.typed;
    v.refused = e_.typed.empty() ? e_.refused : number.problem;
    if (number.value) {
      if (asks_sd && (*number.value <= 0 || *number.value > worst_sd))
        v.refused = "It must be more than 0, and at most " + mm(worst_sd) + ".";
      if (!asks_sd && std::abs(*number.value) > farthest) v.refused = "That is too far away.";
      v.book_value = shown_length(*number.value, job);
    } else if (asks_sd && e_.typed.empty()) {
      v.book_value = mm(Place{}.sd);
    }
    v.can_book = v.refused.empty() && !session_.read_only() &&
                 (number.value || (asks_sd && e_.typed.empty()));
    for (Index p = room_.levels.points.size(); p-- > 0;)
      v.rows.push_back({"Point " + room_.levels.points[p].id,
                        room_.levels.points[p].id,
                        "",
                        words_of(room_.levels.points[p]),
                        {},
                        false,
                        false});
    const BookingEvent e = draw_booking_page(s_, page, v, e_.typed, [&](Box box) {
      const DrawingView view = draw_plan(box);
      if (view.scale <= 0 || !s_.touch.tapped("plan")) return;
      const Spot tap = s_.touch.tap_spot(), m = view.box.middle();
      e_.at = Spot{float((tap.x - m.x) / view.scale + view.x),
                   float((m.y - tap.y) / view.scale + view.y)};
    });
    if (e.more) return stop();
    if (e.undo) {
      e_.typed.clear();
      if (n > 0)
        e_.numbers.pop_back();
      else if (asks_sd)
        stop();
      else
        session_.undo();
      return;
    }
    if (!(e.book || enter) || !v.can_book) return;
    e_.typed.clear();
    e_.refused.clear();
    if (asks_sd) {
      e_.sd = number.value.value_or(Place{}.sd);
      return;
    }
    e_.numbers.push_back(*number.value);
    if (e_.numbers.size() == numbers_each) put();
  }

  void put() {
    Json place;
    if (e_.wall)
      place = {{"wall", room_.walls[*e_.wall].id},
               {"along", number_as_written(e_.numbers[0])},
               {"out", number_as_written(e_.numbers[1])}};
    else
      place = {{"x", number_as_written(e_.numbers[0])}, {"y", number_as_written(e_.numbers[1])}};
    if (*e_.sd != Place{}.sd) place["sd"] = number_as_written(*e_.sd);
    Json patch = Json::array();
    if (room_.levels.points.empty()) {
      patch = new_setup_patch(session_.document(), session_.survey(), session_.room);
      if (!room_.levels.setups.empty()) patch.erase(patch.size() - 1);
    }
    const std::string id = next_id();
    patch.push_back(
        {{"op", "add"}, {"path", at_ + "/points/-"}, {"value", {{"id", id}, {"place", place}}}});
    e_.numbers.clear();
    e_.at.reset();
    if (session_.apply(patch, "point " + id))
      ++e_.added;
    else
      e_.refused = session_.trouble();
  }

  void stop() {
    e_.adding = Adding::none;
    e_.numbers.clear();
    e_.typed.clear();
    e_.refused.clear();
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  PointsEntry& e_;
  const Room& room_;
  std::string at_;
};

}  // namespace

bool PointsEntry::back() {
  if (!open) return false;
  if (areas.back() || services.back()) return true;
  const bool to_list = adding != Adding::none;
  *this = {};
  open = to_list;
  return true;
}

bool draw_points_page(ScreenContext& c, Box page, Session& session, PointsEntry& e,
                      const std::function<DrawingView(Box)>& draw_plan) {
  if (!e.open) return false;
  if (session.survey().rooms.empty()) return e.open = false;
  PointsPage(c, session, e).draw(page, draw_plan);
  return true;
}

}  // namespace levelrun
