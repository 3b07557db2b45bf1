#include "app/screens/key_page.h"

#include <algorithm>

namespace levelrun {

int draw_key_page(Sheet& s, Box page, const std::string& question, const std::vector<RunKey>& keys,
                  const std::string& back) {
  Box in = page.inset(margin, 10);
  in.w = std::min(in.w, s.grown(820));
  const float high = std::max(56.f, s.row() + 20);
  // A phone on its side has more room beside the keys than below them.
  const bool lying = !s.portrait() && s.narrow();
  const float back_wide = std::min(in.w / 2, s.width(back, TextSize::body) + 32);
  Box back_key = lying ? in.take_right(back_wide) : in.take_bottom(high);
  if (lying) {
    back_key = back_key.take_bottom(high);
    in.take_right(gap);
  } else {
    in.take_bottom(gap);
    back_key.w = std::min(back_key.w, s.width(back, TextSize::body) + 32);
  }
  const Pen pen{s.narrow() ? TextSize::body : TextSize::title, Ink::ink, true};
  // As many across as the longest words allow whole.
  float widest = least_target;
  for (const RunKey& key : keys)
    widest = std::max(widest, s.width(key.label, TextSize::body, true) + 24);
  in.w -= gap;
  const auto across = std::size_t(std::clamp(int((in.w + gap) / (widest + gap)), 1,
                                             std::max(1, std::min(6, int(keys.size())))));
  const float wide = (in.w - gap * float(across - 1)) / float(across);
  // The question scrolls with its keys, so that both can be read where there is little room.
  const float asked = s.paragraph_height(in.w, question, pen) + 12;
  const float content = asked + float((keys.size() + across - 1) / across) * (high + gap);
  const float offset = s.touch.scroll(question, in, content);
  int tapped = -1;
  s.push_clip(in);
  const float top = in.y - offset;
  s.paragraph({in.x, top, in.w, asked}, question, pen);
  for (std::size_t i = 0; i < keys.size(); ++i)
    if (s.key({in.x + float(i % across) * (wide + gap),
               top + asked + float(i / across) * (high + gap), wide, high},
              keys[i].label, keys[i].in_use ? KeyLook::in_use : KeyLook::plain))
      tapped = int(i);
  s.pop_clip();
  s.scroll_mark({in.x, in.y, in.w + gap, in.h}, offset, content);
  if (s.key(back_key, back)) tapped = key_page_back;
  return tapped;
}

}  // namespace levelrun
