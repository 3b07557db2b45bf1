#include "app/touch/keypad.h"

#include <imgui.h>

#include <array>

namespace levelrun {
namespace {

constexpr float tablet_key_width = 88, tablet_key_height = 72, phone_key_height = 60;
constexpr std::string_view rub_out_key = "rub out";

// A UTF-8 character is rubbed out whole.
void rub_out(std::string& typed) {
  while (!typed.empty()) {
    const bool tail = (static_cast<unsigned char>(typed.back()) & 0xC0) == 0x80;
    typed.pop_back();
    if (!tail) break;
  }
}

void turn_sign(std::string& typed) {
  if (typed.starts_with("-"))
    typed.erase(0, 1);
  else
    typed.insert(0, "-");
}

void add(std::string& typed, char c) {
  if (typed.size() < most_typed) typed += c;
}

void draw_rub_out(Sheet& s, Box b) {
  const Spot c = b.middle();
  const ImVec2 outline[] = {{c.x - 17, c.y},
                            {c.x - 9, c.y - 10},
                            {c.x + 17, c.y - 10},
                            {c.x + 17, c.y + 10},
                            {c.x - 9, c.y + 10}};
  s.list.AddPolyline(outline, 5, s.colour(Ink::ink), ImDrawFlags_Closed, 1.8f * s.line_scale());
  s.line({c.x - 2, c.y - 4}, {c.x + 6, c.y + 4}, Ink::ink, 1.8f);
  s.line({c.x - 2, c.y + 4}, {c.x + 6, c.y - 4}, Ink::ink, 1.8f);
}

}  // namespace

float keypad_height(const Sheet& s) {
  return 4 * (s.narrow() ? phone_key_height : tablet_key_height) + 3 * gap;
}

float keypad_width(const Sheet& s, float available) {
  return s.narrow() ? available : std::min(available, 4 * tablet_key_width + 3 * gap);
}

bool keypad(Sheet& s, Box box, std::string& typed, const KeypadKeys& keys) {
  const float w = (box.w - 3 * gap) / 4, h = (box.h - 3 * gap) / 4;
  // A left hand holds the other corner: Book's column lies at the left.
  const auto cell = [&](int column, int row, int rows = 1) {
    const int c = s.look.left_hand ? (column == 3 ? 0 : column + 1) : column;
    return Box{box.x + float(c) * (w + gap), box.y + float(row) * (h + gap), w,
               h * float(rows) + gap * float(rows - 1)};
  };
  bool booked = false;
  for (int row = 0; row < 3; ++row)
    for (int column = 0; column < 3; ++column) {
      const int r = s.look.seven_on_top ? 2 - row : row;
      const char digit = char('1' + 3 * r + column);
      if (s.key(cell(column, row), std::string_view(&digit, 1))) add(typed, digit);
    }
  if (s.key(cell(0, 3), "±")) turn_sign(typed);
  if (s.key(cell(1, 3), "0")) add(typed, '0');
  const std::string_view point(&keys.decimal, 1);
  if (s.key(cell(2, 3), point)) add(typed, keys.decimal);
  const Box rub = cell(3, 0);
  if (s.key(rub, "", KeyLook::plain, {}, rub_out_key)) rub_out(typed);
  draw_rub_out(s, rub);
  if (s.key(cell(3, 1), "+")) add(typed, '+');
  booked = s.key(cell(3, 2, 2), keys.book, keys.can_book ? KeyLook::solid : KeyLook::not_yet,
                 keys.value, "Book");
  return booked;
}

bool typed_keys(std::string& typed) {
  ImGuiIO& io = ImGui::GetIO();
  if (io.WantTextInput) return false;
  bool enter = false;
  for (const ImWchar c : io.InputQueueCharacters) {
    if (c == '\n' || c == '\r')
      enter = true;
    else if (c == 0x2212)
      add(typed, '-');
    else if (c > 32 && c < 127 &&
             std::string_view("0123456789.,+-/\"'mc").find(char(c)) != std::string_view::npos)
      add(typed, char(c));
    else if (c == ' ' && !typed.empty())
      add(typed, ' ');
  }
  if (ImGui::IsKeyPressed(ImGuiKey_Backspace)) rub_out(typed);
  return enter || ImGui::IsKeyPressed(ImGuiKey_Enter, false) ||
         ImGui::IsKeyPressed(ImGuiKey_KeypadEnter, false);
}

}  // namespace levelrun
