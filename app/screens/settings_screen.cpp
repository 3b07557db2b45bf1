// How this person wants it: name, hand, text, pad, tones. No facts of a job.
#include "app/jobs/all_jobs.h"
#include "app/screens/app.h"
#include "app/screens/screens.h"
#include "app/touch/words_field.h"

namespace levelrun {
namespace {

// What came of it, a sentence.
std::string copy_all_jobs_out(ScreenContext& c) {
  c.app.leave();
  const AllJobs all = all_jobs(c.files, c.settings.jobs_folder);
  if (all.jobs == 0) return "There is no job on this device yet.";
  const std::string did =
      c.platform.give_file("Levelrun jobs " + c.platform.now().substr(0, 10) + ".zip", all.zip);
  return counted_jobs(all.jobs, all.photos) + ": " + (did.empty() ? "handed over" : did) + ".";
}

}  // namespace

void draw_settings_screen(ScreenContext& c, Box page, SettingsScreen& screen) {
  Sheet& s = c.sheet;
  Settings& settings = c.settings;
  if (!screen.started) {
    screen.author = settings.author;
    screen.started = true;
  }
  Box in = page.inset(margin, margin);
  in.w = std::min(in.w, 640.f);
  const float high = std::max(56.f, s.row() + 24);
  const float said_high =
      screen.said.empty() ? 0
                          : s.paragraph_height(in.w, screen.said, {TextSize::body, Ink::blue}) + 8;
  const float content = words_field_height(s) + 6 * (high + s.row() + 22) + 40 + said_high;
  const float offset = s.touch.scroll("settings", in, content);
  s.push_clip(page);
  Box at{in.x, in.y - offset, in.w, content};
  if (words_field(s, at.take_top(words_field_height(s)),
                  "Your name or initials, put to what you book", "author", screen.author))
    settings.author = screen.author;
  at.take_top(16);
  // A caption, and keys of which one is in use.
  const auto choice = [&](const char* caption, std::initializer_list<const char*> words,
                          int in_use) {
    s.text(at.take_top(s.row() + 6), caption,
           {TextSize::caption, s.look.inks == InkSet::sun ? Ink::ink : Ink::soft});
    Box row = at.take_top(high);
    at.take_top(16);
    int tapped = -1, i = 0;
    const float w = (row.w - gap * float(words.size() - 1)) / float(words.size());
    for (const char* word : words) {
      if (s.key(row.take_left(w), word, i == in_use ? KeyLook::in_use : KeyLook::plain)) tapped = i;
      row.take_left(gap);
      ++i;
    }
    return tapped;
  };
  const float sizes[] = {1, 1.25f, 1.5f, 2};
  int size = 0;
  for (int i = 0; i < 4; ++i)
    if (settings.look.text >= sizes[i] - 0.01f) size = i;
  if (const int t = choice("Text", {"100 %", "125 %", "150 %", "200 %"}, size); t >= 0)
    settings.look.text = sizes[t];
  if (const int t = choice("Holding hand", {"Left", "Right"}, settings.look.left_hand ? 0 : 1);
      t >= 0)
    settings.look.left_hand = t == 0;
  if (const int t =
          choice("Top row of the pad", {"1 2 3", "7 8 9"}, settings.look.seven_on_top ? 1 : 0);
      t >= 0)
    settings.look.seven_on_top = t == 1;
  if (const int t =
          choice("Tone when a reading is booked", {"Tone", "Silent"}, settings.look.tones ? 0 : 1);
      t >= 0)
    settings.look.tones = t == 0;
  s.text(at.take_top(s.row() + 6), "All jobs with their photos, as one file",
         {TextSize::caption, s.look.inks == InkSet::sun ? Ink::ink : Ink::soft});
  if (s.key(at.take_top(high), "Copy all jobs out")) screen.said = copy_all_jobs_out(c);
  at.take_top(8);
  s.paragraph(at, screen.said, {TextSize::body, Ink::blue});
  if (!screen.said.empty()) s.touch.say(screen.said);
  s.pop_clip();
  s.scroll_mark(page, offset, content);
}

}  // namespace levelrun
