#include "app/screens/form.h"

#include <algorithm>

#include "app/entry/set_patch.h"
#include "app/entry/typed_number.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"
#include "app/touch/marks.h"
#include "app/touch/words_field.h"

namespace levelrun {
namespace {

using Kind = FormField::Kind;

std::string label_of(const FormField& f) { return f.label.empty() ? f.caption : f.label; }

std::string number_text(const Json* value, const FormField& f, const Job& job) {
  if (!value || !value->is_number()) return f.unset;
  return shown_short(value->get<double>(), 3, job.decimal);
}

// Keys of a choice side by side: as many as their words allow.
int keys_across(const Sheet& s, const FormField& f, float wide) {
  float widest = least_target;
  for (const std::string& word : f.choices)
    widest = std::max(widest, s.width(word, TextSize::body, true) + 16);
  return std::clamp(int((wide + gap) / (widest + gap)), 1, int(f.choices.size()));
}

int key_rows(const Sheet& s, const FormField& f, float wide) {
  const int across = keys_across(s, f, wide);
  return (int(f.choices.size()) + across - 1) / across;
}

float height_of(const Sheet& s, const FormField& f, float wide) {
  switch (f.kind) {
    case Kind::heading:
      return s.row() + 28;
    case Kind::words:
      return words_field_height(s) + 8;
    case Kind::choice:
      return s.row(TextSize::caption) + 12 - gap +
             float(key_rows(s, f, wide)) * (std::max(least_target, s.row() + 16) + gap);
    case Kind::key:
      return std::max(56.f, s.row() + 24) + 12;
    case Kind::drawing:
      return f.tall ? f.tall(s, wide) : s.grown(f.height);
    default:
      return std::max(least_target, s.row() + 20);
  }
}

constexpr const char* clear_key = "Take out";

// Whether the file has the number and need not.
bool can_clear(const FormField& f, const Json& document) {
  return value_at(document, f.at) && (!f.unset.empty() || !f.together.empty());
}

Json clear_patch(const FormField& f, const Json& document) {
  if (!f.object.empty()) return set_patch(document, f.object, Json());
  if (f.together.empty()) return set_patch(document, f.at, Json());
  Json patch = Json::array();
  for (const std::string& at : f.together)
    if (value_at(document, at)) patch.push_back({{"op", "remove"}, {"path", at}});
  return patch;
}

// Empty while others that belong to it are still to be typed.
Json booked_patch(const FormField& f, const Json& document,
                  const std::map<std::string, Json>& typed) {
  if (f.together.empty()) return set_patch(document, f.at, typed.at(f.at));
  const std::string parent = f.at.substr(0, f.at.rfind('/'));
  const bool there = value_at(document, parent) != nullptr;
  Json patch = Json::array(), whole = Json::object();
  for (const std::string& at : f.together) {
    const auto one = typed.find(at);
    if (one == typed.end()) {
      if (!value_at(document, at)) return Json::array();
      continue;
    }
    if (there)
      patch.push_back({{"op", "add"}, {"path", at}, {"value", one->second}});
    else
      whole[at.substr(parent.size() + 1)] = one->second;
  }
  return there ? patch : set_patch(document, parent, whole);
}

class FormDrawer {
 public:
  FormDrawer(ScreenContext& c, Session& session, FormState& state)
      : s_(c.sheet), session_(session), state_(state) {}

  void draw(Box b, const FormField& f) {
    switch (f.kind) {
      case Kind::heading:
        s_.text({b.x, b.bottom() - s_.row() - 6, b.w, s_.row()}, f.caption,
                {TextSize::body, Ink::ink, true});
        s_.rule_under(b, Ink::ink, 2);
        return;
      case Kind::words:
        return words(b, f);
      case Kind::number:
        return number(b, f);
      case Kind::choice:
        return choice(b, f);
      case Kind::key:
        if (s_.key({b.x, b.y + 6, b.w, b.h - 12}, f.caption, KeyLook::plain, {}, label_of(f)))
          session_.apply(f.patch, f.says);
        return;
      case Kind::drawing:
        return f.draw(s_, b);
    }
  }

 private:
  void words(Box b, const FormField& f) {
    const Json* value = value_at(session_.document(), f.at);
    const std::string now = value && value->is_string() ? value->get<std::string>() : "";
    auto typed = state_.words.find(f.at);
    // What the file says is on show until somebody types.
    if (typed == state_.words.end()) typed = state_.words.emplace(f.at, now).first;
    if (words_field(s_, {b.x, b.y, b.w, b.h - 8}, f.caption.c_str(), label_of(f).c_str(),
                    typed->second, f.unset.c_str()) &&
        typed->second != now) {
      const Json wanted = typed->second.empty() ? Json() : Json(typed->second);
      if (session_.apply(f.edit ? f.edit(wanted) : set_patch(session_.document(), f.at, wanted),
                         f.caption + " " + typed->second))
        state_.words.erase(f.at);
    } else if (!ImGui::GetIO().WantTextInput && typed->second != now) {
      state_.words.erase(typed);
    }
  }

  void number(Box b, const FormField& f) {
    const bool editing = state_.editing == f.at;
    if (s_.row_target(b, label_of(f), editing)) {
      state_.editing = editing ? "" : f.at;
      state_.typed.clear();
      state_.refused.clear();
    }
    s_.rule_under(b);
    const Json* value = value_at(session_.document(), f.at);
    const auto waits = state_.waiting.find(f.at);
    const bool waiting = !value && waits != state_.waiting.end();
    const std::string text =
        editing && !state_.typed.empty()
            ? state_.typed
            : number_text(waiting ? &waits->second : value, f, session_.survey().job);
    Box in = b.inset(4, 0);
    const float wide = std::min(in.w * 0.5f, s_.width(text, TextSize::body, true) + 6);
    s_.text(in.take_right(wide), text,
            {TextSize::body,
             editing || waiting ? Ink::blue
             : value            ? Ink::ink
                                : Ink::soft,
             value != nullptr || editing, Align::right});
    s_.text(in, f.caption, {TextSize::body, editing ? Ink::blue : Ink::ink, editing});
  }

  void choice(Box b, const FormField& f) {
    s_.text(b.take_top(s_.row(TextSize::caption)), f.caption,
            {TextSize::caption, s_.look.inks == InkSet::sun ? Ink::ink : Ink::soft});
    b.h -= 12;
    const Json* value = value_at(session_.document(), f.at);
    if (const auto waits = state_.waiting.find(f.at); !value && waits != state_.waiting.end())
      value = &waits->second;
    // What belongs with numbers that are not there yet holds nothing by itself.
    std::size_t in_use = f.together.empty() ? 0 : f.values.size();
    for (std::size_t i = 0; i < f.values.size(); ++i)
      if (value ? *value == f.values[i] : Json(f.unset) == f.values[i]) in_use = i;
    const int across = keys_across(s_, f, b.w), rows = key_rows(s_, f, b.w);
    const float w = (b.w - gap * float(across - 1)) / float(across);
    const float h = (b.h - gap * float(rows - 1)) / float(rows);
    for (std::size_t i = 0; i < f.choices.size(); ++i) {
      const Box key{b.x + float(int(i) % across) * (w + gap),
                    b.y + float(int(i) / across) * (h + gap), w, h};
      if (s_.key(key, f.choices[i], i == in_use ? KeyLook::in_use : KeyLook::plain, {},
                 label_of(f) + ": " + f.choices[i]) &&
          (i != in_use || !value))
        choose(f, i);
    }
  }

  // A tap on what holds anyway says so in the file.
  void choose(const FormField& f, std::size_t i) {
    state_.waiting[f.at] = f.values[i];
    const Json patch = booked_patch(f, session_.document(), state_.waiting);
    if (patch.empty() && !f.together.empty()) return;
    if (!patch.empty()) session_.apply(patch, f.caption + " " + f.choices[i]);
    state_.waiting.clear();
  }

  Sheet& s_;
  Session& session_;
  FormState& state_;
};

}  // namespace

void draw_form(ScreenContext& c, Box page, Session& session, const std::vector<FormField>& fields,
               FormState& state, const char* scroll_label) {
  Sheet& s = c.sheet;
  const auto field = std::find_if(fields.begin(), fields.end(), [&](const FormField& f) {
    return f.kind == Kind::number && f.at == state.editing;
  });
  if (field == fields.end()) state.editing.clear();
  bool pad_below = false;
  if (!state.editing.empty()) {
    const bool clears = can_clear(*field, session.document());
    const float head = clears ? std::max(least_target, s.row() + 12) : s.row() + 4;
    const float high = keypad_height(s) + head + 3 * margin;
    pad_below = s.portrait();
    Box side = pad_below
                   ? page.take_bottom(std::min(high, page.h * 0.62f))
                   : (s.look.left_hand ? page.take_left(std::min(page.w / 2, 376 + 2 * margin))
                                       : page.take_right(std::min(page.w / 2, 376 + 2 * margin)));
    s.line({side.x, side.y},
           {pad_below ? side.right() : side.x, pad_below ? side.y : side.bottom()}, Ink::ink, 2);
    Box in = side.inset(margin, margin);
    Box pad = in.take_bottom(std::min(keypad_height(s), in.h - head - 8));
    const float wide = keypad_width(s, pad.w);
    pad = s.look.left_hand ? pad.take_left(wide) : pad.take_right(wide);
    const bool enter = typed_keys(state.typed);
    const TypedNumber number = typed_number(state.typed, TypedUnit::mm);
    const std::string shown =
        number.value ? shown_short(*number.value, 3, session.survey().job.decimal) : "";
    const bool book = keypad(s, pad, state.typed,
                             {"Book", shown, number.value.has_value() && !session.read_only(),
                              session.survey().job.decimal});
    Box caption = in.take_top(head);
    bool clear = false;
    if (clears) {
      clear = s.key(caption.take_right(s.width(clear_key, TextSize::body) + 28), clear_key);
      caption.take_right(gap);
    }
    const bool refused = !state.refused.empty();
    s.text(caption, refused ? state.refused : field->caption,
           {TextSize::body, refused ? Ink::crayon : Ink::blue, !refused});
    if (clear) {
      state.refused =
          session.apply(clear_patch(*field, session.document()), field->caption + " taken out")
              ? ""
              : session.trouble();
      state.typed.clear();
    } else if ((book || enter) && number.value) {
      state.waiting[field->at] = number_as_written(*number.value);
      const Json patch = booked_patch(*field, session.document(), state.waiting);
      if (patch.empty() || session.apply(patch, field->caption + " " + shown)) {
        // The next number of the form is asked for without a tap.
        const auto next = std::find_if(field + 1, fields.end(),
                                       [](const FormField& f) { return f.kind == Kind::number; });
        if (!patch.empty()) state.waiting.clear();
        state.editing = next == fields.end() ? "" : next->at;
        state.typed.clear();
        state.refused.clear();
      } else {
        state.waiting.erase(field->at);
        state.refused = session.trouble();
      }
    }
  }
  Box in = page.inset(margin, 0);
  const int columns = in.w > 900 * s.fonts.text_scale() ? 2 : 1;
  const float wide = (in.w - 32 * float(columns - 1)) / float(columns);
  float content = 0;
  std::vector<float> tops;
  // Sections go to the column that is shorter.
  std::vector<float> down(std::size_t(columns), 0.f);
  std::vector<int> column_of;
  int column = 0;
  float half_top = -1;
  const bool halves = wide > 330 * s.fonts.text_scale();  // two fields on one line
  for (const FormField& f : fields) {
    if (f.kind == Kind::heading)
      column = int(std::min_element(down.begin(), down.end()) - down.begin());
    float& y = down[std::size_t(column)];
    column_of.push_back(column);
    const float high = height_of(s, f, wide);
    if (half_top >= 0) {
      tops.push_back(half_top);
      half_top = -1;
    } else {
      tops.push_back(y);
      y += high;
      if (f.half && halves) half_top = tops.back();
    }
  }
  content = *std::max_element(down.begin(), down.end()) + 24;
  float offset = s.touch.scroll(scroll_label, page, content);
  if (state.seen != state.editing) {
    // The pad may lie over the number that was tapped.
    state.seen = state.editing;
    for (std::size_t i = 0; i < fields.size(); ++i) {
      if (fields[i].kind != Kind::number || fields[i].at != state.editing) continue;
      const float top = tops[i], end = top + height_of(s, fields[i], wide);
      if (top >= offset && end <= offset + page.h) continue;
      offset = std::clamp((top + end - page.h) / 2, 0.f, std::max(0.f, content - page.h));
      s.touch.scroll_to(scroll_label, offset);
    }
  }
  s.push_clip(page);
  FormDrawer drawer(c, session, state);
  const int version = session.version();
  bool second = false;
  for (std::size_t i = 0; i < fields.size() && session.version() == version; ++i) {
    const FormField& f = fields[i];
    Box b{in.x + float(column_of[i]) * (wide + 32), in.y - offset + tops[i], wide,
          height_of(s, f, wide)};
    if (halves && (f.half || second)) {
      const float w = (wide - 16) / 2;
      b = {second ? b.x + w + 16 : b.x, b.y, w, b.h};
    }
    second = halves && f.half && !second;
    if (b.bottom() < page.y || b.y > page.bottom()) continue;
    drawer.draw(b, f);
  }
  s.pop_clip();
  s.scroll_mark(page, offset, content);
}

}  // namespace levelrun
