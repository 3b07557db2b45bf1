#include "app/screens/form_parts.h"

#include <algorithm>

namespace levelrun {

bool draw_form_head(ScreenContext& c, Box& page, const Session& session, const FormState& form,
                    const std::string& title, const std::string& short_title,
                    const std::string& back) {
  Sheet& s = c.sheet;
  Box head = page.take_top(std::max(56.f, s.row(TextSize::title) + 16)).inset(margin, 4);
  const bool leaves = s.key(head.take_right(s.width(back, TextSize::body) + 28), back);
  head.take_right(gap);
  for (const std::string& words : {title, short_title}) {
    if (head.w <= s.width(words, TextSize::title, true)) continue;
    s.text(head, words, {TextSize::title, Ink::ink, true});
    break;
  }
  if (!session.trouble().empty() && form.refused.empty()) {
    const float tall = s.paragraph_height(page.w - 2 * margin, session.trouble());
    s.paragraph(page.take_top(tall + 8).inset(margin, 4), session.trouble(),
                {TextSize::body, Ink::crayon});
  }
  return leaves;
}

FormField form_page_key(std::string words, std::function<void()> deed) {
  FormField out;
  out.kind = FormField::Kind::drawing;
  out.tall = [](const Sheet& s, float) { return std::max(56.f, s.row() + 24) + 12; };
  out.draw = [words = std::move(words), deed = std::move(deed)](Sheet& s, Box b) {
    if (s.key({b.x, b.y + 6, b.w, b.h - 12}, words)) deed();
  };
  return out;
}

FormField form_paragraph(std::string words, Ink ink) {
  FormField out;
  out.kind = FormField::Kind::drawing;
  out.tall = [words](const Sheet& s, float wide) { return s.paragraph_height(wide, words) + 16; };
  out.draw = [words, ink](Sheet& s, Box b) {
    s.paragraph({b.x, b.y + 8, b.w, b.h - 8}, words,
                {TextSize::body, s.look.inks == InkSet::sun ? Ink::ink : ink});
  };
  return out;
}

FormField form_row(std::string label, std::string name, std::string words, bool chosen,
                   std::function<void()> deed) {
  const auto named = [name](const Sheet& s) {
    return std::max(s.grown(56), s.width(name, TextSize::body, true) + 10);
  };
  const auto below = [named, words](const Sheet& s, float wide) {
    return named(s) + s.width(words, TextSize::body) > wide - 12;
  };
  FormField out;
  out.kind = FormField::Kind::drawing;
  out.tall = [below, words](const Sheet& s, float wide) {
    const float more = below(s, wide) ? s.paragraph_height(wide - 12, words) : 0.f;
    return std::max(least_target, s.row() + more + 16);
  };
  out.draw = [label, name, words, chosen, named, below, deed](Sheet& s, Box b) {
    if (s.row_target(b, label, chosen)) deed();
    s.rule_under(b);
    Box in = b.inset(6, 0);
    const Pen soft{TextSize::body, s.look.inks == InkSet::sun ? Ink::ink : Ink::soft};
    if (below(s, b.w)) {
      in.take_top(6);
      s.text(in.take_top(s.row()), name, {TextSize::body, Ink::ink, true});
      s.paragraph(in, words, soft);
    } else {
      s.text(in.take_left(named(s)), name, {TextSize::body, Ink::ink, true});
      s.text(in, words, soft);
    }
  };
  return out;
}

}  // namespace levelrun
