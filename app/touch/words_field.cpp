#include "app/touch/words_field.h"

#include <imgui.h>

namespace levelrun {
namespace {

int grow(ImGuiInputTextCallbackData* data) {
  if (data->EventFlag == ImGuiInputTextFlags_CallbackResize) {
    auto& text = *static_cast<std::string*>(data->UserData);
    text.resize(std::size_t(data->BufTextLen));
    data->Buf = text.data();
  }
  return 0;
}

ImVec4 rgba(const Sheet& s, Ink ink) { return ImGui::ColorConvertU32ToFloat4(s.colour(ink)); }

// The machine lays a field of its own over ours while words are typed.
bool external_field(Sheet& s, Box b, const char* id, std::string& text, const char* hint) {
  Touch::Words& words = s.touch.words;
  bool done = false;
  if (s.touch.tap(id, b) && words.id != id) words = {true, id, text, b, false};
  const bool active = words.id == id;
  if (active) {
    done = words.done && text != words.text;
    text = words.text;
    words.box = b;
    if (words.done) words = {true, "", "", {}, false};
  } else {
    s.text(b.inset(2, 0), text.empty() ? hint : text.c_str(),
           {TextSize::body, text.empty() ? Ink::soft : Ink::ink});
  }
  s.rule_under(b, active ? Ink::blue : Ink::rule, active ? 2.f : 1.f);
  return done;
}

}  // namespace

float words_field_height(const Sheet& s) {
  return s.row(TextSize::caption) + std::max(least_target, s.row() + 16);
}

bool words_field(Sheet& s, Box b, const char* caption, const char* id, std::string& text,
                 const char* hint) {
  s.text(b.take_top(s.row(TextSize::caption)), caption,
         {TextSize::caption, s.look.inks == InkSet::sun ? Ink::ink : Ink::soft});
  if (s.touch.words.external) return external_field(s, b, id, text, hint);
  const float size = s.fonts.size(TextSize::body);
  const float pad = std::max(0.f, (b.h - size) / 2);
  ImGui::SetCursorScreenPos({b.x, b.y});
  ImGui::PushFont(s.fonts.font(TextSize::body, false));
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {2, pad});
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0);
  ImGui::PushStyleColor(ImGuiCol_FrameBg, ImVec4{0, 0, 0, 0});
  ImGui::PushStyleColor(ImGuiCol_Text, rgba(s, Ink::ink));
  ImGui::PushStyleColor(ImGuiCol_TextDisabled, rgba(s, Ink::soft));
  ImGui::PushStyleColor(ImGuiCol_TextSelectedBg, rgba(s, Ink::wash));
  ImGui::PushItemWidth(b.w);
  const std::string label = std::string("##") + id;
  ImGui::InputTextWithHint(label.c_str(), hint, text.data(), text.capacity() + 1,
                           ImGuiInputTextFlags_CallbackResize, grow, &text);
  const bool done = ImGui::IsItemDeactivatedAfterEdit();
  const bool active = ImGui::IsItemActive();
  ImGui::PopItemWidth();
  ImGui::PopStyleColor(4);
  ImGui::PopStyleVar(2);
  ImGui::PopFont();
  s.touch.tap(id, b);
  s.rule_under(b, active ? Ink::blue : Ink::rule, active ? 2.f : 1.f);
  return done;
}

}  // namespace levelrun
