// The index page: jobs on this machine by state, a new one, a file opened, the practice job.
#include <algorithm>

#include "app/jobs/all_jobs.h"
#include "app/jobs/new_job.h"
#include "app/jobs/revisions.h"
#include "app/screens/app.h"
#include "app/screens/screens.h"
#include "app/touch/words_field.h"
#include "survey/parse_json.h"

namespace levelrun {
namespace {

constexpr float row_least = 84, bottom_key = 60;

// What a job stands under; one that cannot be read has a heading of its own.
const char* title_of(const JobLine& job) {
  if (!job.trouble.empty()) return "Cannot be read";
  constexpr const char* titles[] = {"To survey", "In the office", "To fit", "Handed over"};
  return titles[int(job.state)];
}

bool together(const JobLine& a, const JobLine& b) {
  return a.state == b.state && a.trouble.empty() == b.trouble.empty();
}

const char* order_words(JobOrder order) {
  return order == JobOrder::oldest  ? "Oldest first"
         : order == JobOrder::holds ? "Holds first"
                                    : "By name";
}

JobOrder next(JobOrder order) { return JobOrder((int(order) + 1) % 3); }

// How far it is, in a few words.
std::string note_of(const JobLine& job) {
  const int left = job.asked - job.booked;
  if (job.booked == 0) return "nothing booked yet";
  if (job.state == JobState::handed_over) return "";
  if (job.state == JobState::to_fit) return "undersides set";
  if (left > 0) return std::to_string(left) + " open";
  if (job.queries > 0) return std::to_string(job.queries) + " without a name";
  return "";
}

// Writes a new job's file; its path, or empty (said).
std::string put_new(ScreenContext& c, const Json& document, std::string& said) {
  const std::string path = put_new_job(c.files, c.platform, c.settings.jobs_folder, document);
  if (path.empty()) said = "The new job could not be written. " + c.platform.write_trouble();
  return path;
}

constexpr std::size_t most_alike = 5;  // jobs that a new one may be like
constexpr std::size_t few = 6;         // jobs that one sees at a glance

std::string today(ScreenContext& c) { return c.platform.now().substr(0, 10); }

void draw_marks(Sheet& s, Box row, const JobLine& job) {
  float x = row.x;
  const auto mark = [&](Severity severity, bool answered, int count) {
    if (count == 0) return;
    severity_mark(s, {x, row.y + (row.h - mark_side) / 2}, severity, answered);
    const std::string text = std::to_string(count);
    s.text({x + mark_side + 6, row.y, 40, row.h}, text, {TextSize::body, Ink::ink, true});
    x += mark_side + s.width(text, TextSize::body, true) + 26;
  };
  mark(Severity::hold, false, job.holds);
  mark(Severity::query, false, job.queries);
  mark(Severity::query, true, job.answered);
  mark(Severity::note, false, job.notes);
}

bool draw_job(Sheet& s, Box row, const JobLine& job) {
  const bool tapped = s.row_target(row, job.path);
  s.rule_under(row);
  Box in = row.inset(margin, 8);
  const Ink soft = s.look.inks == InkSet::sun ? Ink::ink : Ink::soft;
  Box first = in.take_top(s.row(TextSize::title));
  if (!job.trouble.empty()) {
    s.text(first, job.path.substr(job.path.rfind('/') + 1), {TextSize::body, Ink::ink, true});
    s.text(in, job.trouble, {TextSize::caption, Ink::crayon});
    return tapped;
  }
  const std::string when = job.state == JobState::to_survey || job.day.empty()
                               ? job.day
                               : "rev " + std::to_string(job.revision);
  s.text(first.take_right(s.width(when, TextSize::caption) + 4), when,
         {TextSize::caption, soft, false, Align::right});
  const float wide = std::min(first.w * 0.6f, s.width(job.reference, TextSize::title, true) + 2);
  s.text(first.take_left(wide), job.reference, {TextSize::title, Ink::ink, true});
  first.take_left(12);
  s.text(first, job.rooms, {});
  const float high = 15;
  staff_marks(s, {in.x + 3, in.y + (in.h - high) / 2, 66, high}, job.booked, std::max(1, job.asked),
              Ink::ink);
  in.take_left(96);
  const std::string note = note_of(job);
  s.text(in.take_right(s.width(note, TextSize::caption) + 4), note,
         {TextSize::caption, soft, false, Align::right});
  if (job.booked > 0) draw_marks(s, in, job);
  return tapped;
}

void begin(ScreenContext& c, JobsScreen& screen, const Json& document) {
  const std::string path = put_new(c, document, screen.said);
  screen.choosing = false;
  screen.listed = false;
  screen.outline = {};
  if (!path.empty()) c.app.open(path);
}

// The job that the new one takes instruments and furniture from; null: the usual ones.
const JobLine* like_which(const JobsScreen& screen) {
  std::size_t n = 0;
  for (const JobLine& job : screen.jobs)
    if (job.trouble.empty() && ++n == screen.like) return &job;
  return nullptr;
}

void begin_with(ScreenContext& c, JobsScreen& screen, const RoomStart& room) {
  Json like;
  std::string text;
  if (const JobLine* job = like_which(screen))
    if (!c.files.read(job->path, most_text, text))
      if (auto read = read_survey(text); read.ok()) like = std::move(read.value().document);
  const Json document = new_job(screen.reference, c.settings.author, today(c), room, like);
  screen.like = 0;
  screen.reference.clear();
  begin(c, screen, document);
}

void draw_start(ScreenContext& c, Box page, JobsScreen& screen) {
  Sheet& s = c.sheet;
  if (screen.outline.open) {
    if (const auto room = draw_outline_page(c, page, Job{}, screen.outline))
      begin_with(c, screen, *room);
    return;
  }
  const bool lying = !s.portrait() && s.narrow();  // a phone: two keys in a row, no title
  const std::size_t across = lying ? 2 : 1, keys = usual_rooms().size() + 4;
  const float high = std::max(56.f, s.row() + (lying ? 16 : 24));
  const float title = lying ? 0 : s.row(TextSize::title) + 8;
  const float asked = (lying ? 1 : 2) * s.row() + 8;
  const float content = 2 * margin + title + words_field_height(s) + gap + asked +
                        float((keys + across - 1) / across) * (high + gap);
  const float offset = s.touch.scroll("a new job", page, content);
  s.push_clip(page);
  Box in = Box{page.x, page.y - offset, page.w, content}.inset(margin, margin);
  if (!lying) in.w = std::min(in.w, 560.f);
  s.text(in.take_top(title), lying ? "" : "A new job", {TextSize::title, Ink::ink, true});
  words_field(s, in.take_top(words_field_height(s)), "Reference", "reference", screen.reference,
              "such as K-0417");
  in.take_top(gap);
  const bool named = !screen.reference.empty();
  s.paragraph(
      in.take_top(asked),
      named ? "How many corners has the room?" : "First a reference: the job is filed under it.",
      {TextSize::body, named ? Ink::ink : Ink::blue});
  const float wide = (in.w - gap * float(across - 1)) / float(across);
  std::size_t placed = 0;
  const auto next_key = [&] {
    const auto n = placed++;
    return Box{in.x + float(n % across) * (wide + gap), in.y + float(n / across) * (high + gap),
               wide, high};
  };
  const KeyLook look = named ? KeyLook::plain : KeyLook::not_yet;
  const RoomStart* chosen = nullptr;
  for (const UsualRoom& room : usual_rooms())
    if (s.key(next_key(), room.words, look)) chosen = &room.start;
  if (s.key(next_key(), walked_room_words, look)) {
    screen.outline = {};
    screen.outline.open = true;
  }
  const JobLine* like = like_which(screen);
  const std::string as =
      "Instruments and furniture " + (like ? "as in " + like->reference : std::string("as usual"));
  if (s.key(next_key(), as, look, {}, "Instruments and furniture")) {
    ++screen.like;
    if (screen.like > most_alike || !like_which(screen)) screen.like = 0;
  }
  const bool practice = s.key(next_key(), "Practice job, five minutes");
  if (s.key(next_key(), "Back to the jobs")) screen.choosing = false;
  s.pop_clip();
  s.scroll_mark(page, offset, content);
  if (chosen)
    begin_with(c, screen, *chosen);
  else if (practice)
    begin(c, screen, practice_job(c.settings.author, today(c)));
}

}  // namespace

void draw_jobs_screen(ScreenContext& c, Box page, JobsScreen& screen) {
  Sheet& s = c.sheet;
  if (screen.choosing) return draw_start(c, page, screen);
  if (!screen.listed) {
    screen.jobs = jobs_on(c.files, c.settings.jobs_folder, c.settings.recent);
    screen.listed = true;
  }
  Box low = page.take_bottom(std::max(bottom_key, s.row(TextSize::title) + 24) + 2 * margin)
                .inset(margin, margin);
  if (low.w > 640) low = {low.x + (low.w - 640) / 2, low.y, 640, low.h};
  const Box open_key = low.take_left((low.w - gap) / 2);
  low.take_left(gap);
  if (s.key(open_key, "Open a file") && !c.platform.ask_for_file())
    screen.opening = !screen.opening;
  if (s.key(low, "New job", KeyLook::solid)) screen.choosing = true;
  if (screen.opening) {
    Box field = page.take_bottom(words_field_height(s) + 8).inset(margin, 4);
    if (words_field(s, field, "Path of a survey, *.levelrun.json", "path", screen.path) &&
        !screen.path.empty()) {
      screen.opening = false;
      if (c.app.open(screen.path)) return;
    }
  }
  float said_high = 0;
  std::string said = screen.said;
  if (!screen.problems.empty()) {
    const Problem& p = screen.problems.front();
    said = screen.problem_path + " was not opened: " + (p.at.empty() ? "" : p.at + ": ") +
           "found " + p.found + ", expected " + p.expected + ".";
  }
  s.touch.say(said.empty() ? "Jobs" : said);
  if (!said.empty()) {
    said_high = s.paragraph_height(page.w - 2 * margin - 32, said, {TextSize::body}) + 16;
    Box b = page.take_top(said_high).inset(margin, 8);
    const bool done = said.starts_with(taken_in);
    if (!done) severity_mark(s, {b.x, b.y + (s.row() - mark_side) / 2}, Severity::query, false);
    b.take_left(32);
    s.paragraph(b, said, {TextSize::body, done ? Ink::blue : Ink::crayon});
  }
  if (screen.jobs.empty()) {
    Box in = page.inset(margin, margin);
    s.paragraph(in,
                "No job on this device yet. Begin with New job: it asks for a reference and the "
                "number of corners. To try it first, take the practice job there.",
                {});
    return;
  }
  if (screen.jobs.size() > few) {
    Box bar = page.take_top(words_field_height(s) + 4).inset(margin, 2);
    // As high as a finger is wide, beside the field's line and not its caption.
    Box key = bar.take_right(std::min(bar.w * 0.45f, s.grown(150)));
    key = key.take_bottom(std::max(least_target, s.row() + 16));
    bar.take_right(gap);
    if (s.key(key, order_words(screen.order), KeyLook::plain, {}, "Order of the jobs"))
      screen.order = next(screen.order);
    words_field(s, bar, "Search", "search", screen.search);
  }
  std::vector<JobLine> jobs = jobs_that_say(screen.jobs, screen.search);
  sort_jobs(jobs, screen.order);
  if (jobs.empty()) {
    s.paragraph(page.inset(margin), "No job says “" + screen.search + "”.");
    return;
  }
  const float high = std::max(row_least, s.row(TextSize::title) + s.row() + 26);
  const float head = s.row() + 20;
  float content = 0;
  for (std::size_t i = 0; i < jobs.size(); ++i)
    content += high + (i == 0 || !together(jobs[i], jobs[i - 1]) ? head : 0);
  const float foot = s.row(TextSize::caption) + 40;
  const float offset = s.touch.scroll("jobs", page, content + foot);
  s.push_clip(page);
  float y = page.y - offset;
  std::string chosen;
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    const JobLine& job = jobs[i];
    if (i == 0 || !together(job, jobs[i - 1])) {
      Box b{page.x, y, page.w, head};
      Box in = b.inset(margin, 0);
      const auto n = std::count_if(jobs.begin(), jobs.end(),
                                   [&](const JobLine& j) { return together(j, job); });
      s.text(in, title_of(job), {TextSize::caption, Ink::ink, true});
      s.text(in, std::to_string(n), {TextSize::caption, Ink::soft, false, Align::right});
      s.rule_under(b, Ink::ink, 2);
      y += head;
    }
    if (draw_job(s, {page.x, y, page.w, high}, job)) chosen = job.path;
    y += high;
  }
  s.text({page.x + margin, y + 20, page.w - 2 * margin, s.row(TextSize::caption)},
         "Kept on this device. Nothing waits to be sent.", {TextSize::caption, Ink::soft});
  s.pop_clip();
  s.scroll_mark(page, offset, content + foot);
  if (!chosen.empty()) c.app.open(chosen);
}

}  // namespace levelrun
