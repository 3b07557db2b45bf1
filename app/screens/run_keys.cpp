#include "app/screens/run_keys.h"

#include <algorithm>

#include "app/entry/run_lines.h"
#include "app/entry/set_patch.h"
#include "app/entry/unit_edits.h"

namespace levelrun {

const std::vector<std::string> unit_kind_labels = {
    "Base", "Tall", "Wall", "Appliance", "Infill", "Corner post", "End panel", "Space"};

namespace {

using Field = RunsScreen::Field;

constexpr const char* housed[] = {"sink", "hob", "oven", "dishwasher", "fridge"};
constexpr const char* housed_labels[] = {"Sink", "Hob", "Oven", "Dishwasher", "Fridge"};
constexpr const char* ends[] = {"wall", "corner", "open", "end_panel"};

class RunKeys {
 public:
  RunKeys(Sheet& s, Box box, const Session& session, RunsScreen& screen, RunDeed* deed)
      : s_(s),
        box_(box),
        y_(box.y),
        session_(session),
        screen_(screen),
        room_(session.survey().rooms[session.room]),
        run_(room_.runs[screen.run]),
        deed_(deed) {}

  float draw() {
    if (screen_.unit)
      of_unit(*screen_.unit);
    else if (screen_.about_run)
      of_run();
    else
      next_kind();
    return y_ - box_.y - gap;
  }

 private:
  int grid(const std::vector<RunKey>& keys, const std::string& prefix = "") {
    return run_key_grid(s_, box_, y_, deed_ != nullptr, keys, prefix);
  }
  void caption(const std::string& words) {
    const float high = s_.row(TextSize::caption);
    if (deed_) s_.text({box_.x, y_, box_.w, high}, words, {TextSize::caption, Ink::soft});
    y_ += high + 2;
  }
  // The unit stays chosen unless `leaves` it.
  void ask(Json patch, std::string says, bool leaves = false) {
    deed_->patch = std::move(patch);
    deed_->says = std::move(says);
    if (!leaves) deed_->unit = screen_.unit;
  }
  void type(Field field) {
    screen_.field = screen_.field == field ? Field::width : field;
    screen_.typed.clear();
    screen_.refused.clear();
  }
  RunKey field_key(const char* label, Field field) const { return {label, screen_.field == field}; }

  void next_kind() {
    std::vector<RunKey> keys;
    for (std::size_t k = 0; k < unit_kind_labels.size(); ++k)
      keys.push_back({unit_kind_labels[k], screen_.kind == int(k)});
    if (const int t = grid(keys, "Kind "); t >= 0) screen_.kind = t;
    if (s_.narrow() && grid({{"The run"}}) == 0) turn_run_keys(screen_, true);
  }

  void of_unit(Index u) {
    const Unit& unit = run_.units[u];
    const Index room = session_.room, r = screen_.run;
    const auto set = [&](const char* field, const Json& value, const std::string& says) {
      ask(unit_patch(session_.document(), room, r, u, field, value), unit.id + " " + says);
    };
    std::vector<RunKey> keys = {{"To left"}, {"To right"}, {"Delete"}};
    if (s_.narrow()) keys.push_back({"Next unit"});
    const int place = grid(keys);
    if (place == 0 || place == 1) {
      ask(move_unit_patch(session_.survey(), room, r, u, place == 1),
          unit.id + (place == 1 ? " to the right" : " to the left"));
      deed_->unit = place == 1 ? std::min(u + 1, run_.units.size() - 1) : (u > 0 ? u - 1 : 0);
    }
    if (place == 2) ask(delete_unit_patch(room, r, u), unit.id + " deleted", true);
    if (place == 3) return turn_run_keys(screen_, false);

    const bool left = unit.hinge == Hinge::left, right = unit.hinge == Hinge::right;
    keys = {field_key("Width", Field::width),
            {"Drawers", unit.drawers},
            {"Hinge left", left},
            {"Hinge right", right}};
    if (unit.kind == UnitKind::appliance) {
      keys.push_back(field_key("Niche from", Field::niche_least));
      keys.push_back(field_key("Niche to", Field::niche_most));
    }
    switch (grid(keys)) {
      case 0:
        type(Field::width);
        break;
      case 1:
        set("drawers", unit.drawers ? Json() : Json(true), unit.drawers ? "no drawers" : "drawers");
        break;
      case 2:
        set("hinge", left ? Json() : Json("left"), left ? "no hinge" : "hinge left");
        break;
      case 3:
        set("hinge", right ? Json() : Json("right"), right ? "no hinge" : "hinge right");
        break;
      case 4:
        type(Field::niche_least);
        break;
      case 5:
        type(Field::niche_most);
        break;
      default:
        break;
    }

    keys.clear();
    for (std::size_t i = 0; i < std::size(housed); ++i)
      keys.push_back({housed_labels[i], unit.houses == housed[i]});
    if (const int t = grid(keys, "Houses "); t >= 0) {
      const bool was = unit.houses == housed[t];
      set("houses", was ? Json() : Json(housed[t]), was ? "houses nothing" : housed[t]);
    }

    if (run_.furniture.legs.size() > 1) {
      keys.clear();
      for (std::size_t i = 0; i < run_.furniture.legs.size(); ++i)
        keys.push_back({"Leg " + run_.furniture.legs[i].id, unit.leg == i});
      if (const int t = grid(keys); t >= 0) {
        const bool was = unit.leg == Index(t);
        const std::string& leg = run_.furniture.legs[Index(t)].id;
        set("leg", was ? Json() : Json(leg), was ? "any leg" : "leg " + leg);
      }
    }

    caption("It is a");
    keys.clear();
    for (std::size_t k = 0; k < unit_kind_labels.size(); ++k)
      keys.push_back({unit_kind_labels[k], std::size_t(unit.kind) == k});
    if (const int t = grid(keys, "Is "); t >= 0)
      set("kind", unit_kinds()[std::size_t(t)], kind_words(UnitKind(t)));

    caption("Other than its kind usually is");
    constexpr Field own[] = {Field::height, Field::depth, Field::bottom};
    const int t = grid(
        {field_key("Height", own[0]), field_key("Depth", own[1]), field_key("Bottom", own[2])});
    if (t >= 0) type(own[t]);
  }

  void of_run() {
    std::vector<RunKey> fields;
    std::vector<Field> which;
    const auto offer = [&](const char* label, Field field) {
      fields.push_back(field_key(label, field));
      which.push_back(field);
    };
    if (run_.wall) {
      offer("Starts at", Field::starts_at);
    } else {
      offer("At x", Field::x);
      offer("At y", Field::y);
      offer("Turned", Field::turned);
    }
    offer("Worktop height", Field::worktop);
    if (const int t = grid(fields); t >= 0) type(which[std::size_t(t)]);
    end_keys("Left end stands at", "Left end ", "starts_at", run_.starts_at);
    end_keys("Right end stands at", "Right end ", "ends_at", run_.ends_at);
    std::vector<RunKey> keys = {{"About run " + run_.id}, {"Delete run " + run_.id}};
    if (s_.narrow()) keys.push_back({"Next unit"});
    const int t = grid(keys);
    if (t == 0) screen_.about = true;
    if (t == 1)
      ask(delete_run_patch(session_.room, screen_.run), "run " + run_.id + " deleted", true);
    if (t == 2) turn_run_keys(screen_, false);
  }

  void end_keys(const char* words, const std::string& prefix, const char* field, RunEnd end) {
    caption(words);
    const int t = grid({{"Wall", end == RunEnd::wall},
                        {"Corner", end == RunEnd::corner},
                        {"Open", end == RunEnd::open},
                        {"Panel", end == RunEnd::end_panel}},
                       prefix);
    if (t >= 0)
      ask(set_patch(session_.document(), run_pointer(session_.room, screen_.run) + "/" + field,
                    ends[t]),
          "run " + run_.id + ", " + prefix + ends[t]);
  }

  Sheet& s_;
  Box box_;
  float y_;
  const Session& session_;
  RunsScreen& screen_;
  const Room& room_;
  const Run& run_;
  RunDeed* deed_;
};

// Of the longest word: a label may break at spaces.
float widest_word(const Sheet& s, const std::string& label) {
  float wide = 0;
  for (std::size_t at = 0; at < label.size();) {
    const std::size_t end = std::min(label.find(' ', at), label.size());
    wide = std::max(wide, s.width(label.substr(at, end - at), TextSize::body));
    at = end + 1;
  }
  return wide;
}

}  // namespace

float run_key_height(const Sheet& s) { return std::max(least_target, s.row() * 1.5f); }

int run_key_grid(Sheet& s, Box box, float& y, bool draw, const std::vector<RunKey>& keys,
                 const std::string& prefix) {
  float least = least_target;
  // A key writes a little smaller before it cuts.
  for (const RunKey& key : keys) least = std::max(least, 0.9f * widest_word(s, key.label) + 8);
  const int count = int(keys.size());
  int across = std::clamp(int((box.w + gap) / (least + gap)), 1, std::max(1, count));
  // Rows of like length: 4 and 4, not 5 and 3.
  const int rows = (count + across - 1) / across;
  if (rows > 0) across = (count + rows - 1) / rows;
  const float wide = (box.w - gap * float(across - 1)) / float(across), high = run_key_height(s);
  int tapped = -1;
  for (int i = 0; draw && i < count; ++i) {
    const RunKey& key = keys[std::size_t(i)];
    if (s.key({box.x + float(i % across) * (wide + gap), y + float(i / across) * (high + gap), wide,
               high},
              key.label, key.in_use ? KeyLook::in_use : KeyLook::plain, {}, prefix + key.label))
      tapped = i;
  }
  y += float(rows) * (high + gap);
  return tapped;
}

void turn_run_keys(RunsScreen& screen, bool to_run) {
  screen.unit.reset();
  screen.typed.clear();
  screen.refused.clear();
  screen.field = Field::width;
  screen.about_run = to_run;
}

float run_keys(Sheet& s, Box box, const Session& session, RunsScreen& screen, RunDeed* deed) {
  return RunKeys(s, box, session, screen, deed).draw();
}

}  // namespace levelrun
