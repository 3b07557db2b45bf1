#include "app/pack/as_built.h"

#include <algorithm>

#include "app/pack/pack_pages.h"
#include "app/place_words.h"
#include "app/sign_off_seal.h"
#include "app/snag_words.h"
#include "app/text_number.h"
#include "checks/sign_off.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// "2026-04-20 16:05"
std::string day_of(const std::string& at) {
  std::string day = at.substr(0, 16);
  if (day.size() > 10 && day[10] == 'T') day[10] = ' ';
  return day;
}

constexpr int most_tasks = 8;  // listed one by one: the checklist has them all

void state(Paper& paper, const PackMatter& m) {
  const Survey& survey = m.survey();
  paper.page("As built: " + survey.job.reference);
  if (!survey.job.client.empty()) paper.words("Client: " + survey.job.client);
  if (!survey.job.site.empty()) paper.words("Site: " + survey.job.site);
  const SignOffState signing = sign_off_state(survey, m.results, m.tasks);
  paper.gap(2);
  if (const auto& off = survey.install.sign_off)
    paper.words("Signed off by " + off->by + ", " + off->role + ", " + day_of(off->at) +
                    (off->note.empty() ? "." : ": " + off->note),
                {4.2f, true});
  else
    paper.words("Not signed off. " + signing.says, {4.2f, true});
  if (changed_since_signed(m.file.document)) paper.words(changed_since_signed_says, {4.2f, true});
  int tasks = 0;
  for (const SignOffBar& bar : signing.bars)
    if (bar.kind != SignOffBar::Kind::task || ++tasks <= most_tasks)
      paper.words("open " + std::string(word(bar.kind)) + ": " + bar.says, {}, 6);
  if (tasks > most_tasks)
    paper.words("and " + std::to_string(tasks - most_tasks) + " more tasks: see the checklist", {},
                6);
  for (const Reopened& again : survey.install.reopened)
    paper.words("Reopened by " + again.by + ", " + day_of(again.at) + ": " + again.why);
}

void floor_and_levels(Paper& paper, const PackMatter& m) {
  const char d = m.decimal();
  paper.heading("Floor as laid");
  std::vector<Paper::Row> rows;
  if (m.results.install)
    for (const LaidFloorResult& f : m.results.install->laid_floor)
      rows.push_back({{f.room, f.layer, shown(f.planned, 1, d),
                       f.laid ? shown(*f.laid, 1, d) + " ±" + shown(1.96 * f.sd.value_or(0), 1, d)
                              : "not known",
                       shown_change(f.difference, 1, d), std::to_string(f.readings)},
                      {},
                      false});
  if (rows.empty())
    paper.words("The laid floor was not measured: it counts as it was planned.");
  else
    paper.table({{"Room", 1.2f},
                 {"Layer", 2},
                 {"Planned", 1.2f, TextAlign::right},
                 {"Laid", 1.6f, TextAlign::right},
                 {"Change", 1.2f, TextAlign::right},
                 {"Readings", 1.2f, TextAlign::right}},
                rows);
  rows.clear();
  paper.heading("Levels reached");
  int level = 0, all = 0;
  if (m.results.install)
    for (const UnitLevelResult& u : m.results.install->unit_levels) {
      ++all;
      level += u.level;
      rows.push_back({{u.unit, u.relative ? "in itself" : shown_change(u.common, 1, d),
                       shown(u.worst, 1, d), u.level ? "level" : "not level"},
                      u.says.empty() ? std::vector<std::string>{} : std::vector{u.says},
                      false});
    }
  if (rows.empty()) {
    paper.words("No cabinet was read after it was set: whether they stand level is not known.");
    return;
  }
  paper.words(std::to_string(level) + " of " + std::to_string(all) + " cabinets read stand level.");
  paper.table({{"Unit", 1, TextAlign::left, true},
               {"Top against U", 1.6f, TextAlign::right},
               {"Worst corner off", 1.8f, TextAlign::right},
               {"", 1.4f}},
              rows);
}

void legs_set(Paper& paper, const PackMatter& m) {
  const char d = m.decimal();
  paper.heading("Legs as set");
  std::vector<Paper::Row> rows;
  int not_set = 0;
  for (const RoomResult& room : m.results.rooms)
    for (const LegResult& leg : room.legs) {
      const SetLeg* set = nullptr;
      for (const SetLeg& one : m.survey().install.set_legs)
        if (one.unit == leg.unit && one.position == leg.position && one.room == room.id) set = &one;
      if (!set) {
        ++not_set;
        continue;
      }
      rows.push_back({{leg.unit, spaced(leg.position), shown(leg.height, 1, d),
                       shown_short(set->height, 1, d), set->by, day_of(set->at)},
                      {},
                      false});
    }
  if (not_set > 0)
    paper.words(std::to_string(not_set) + (not_set == 1 ? " leg is" : " legs are") +
                " not booked as set.");
  if (!rows.empty())
    paper.table({{"Unit", 1, TextAlign::left, true},
                 {"Leg", 2},
                 {"Asked", 1.2f, TextAlign::right},
                 {"Set", 1.2f, TextAlign::right, true},
                 {"By", 2},
                 {"When", 2.8f}},
                rows);
}

void answers_and_snags(Paper& paper, const PackMatter& m) {
  const Install& install = m.survey().install;
  paper.heading("Answers");
  if (install.answers.empty()) paper.words("None.");
  for (const Answer& a : install.answers)
    paper.words(a.finding + ": " + a.says + " (" + a.by + ", " + day_of(a.at) +
                (a.releases ? ", lets it pass" : "") + ")");
  paper.heading("Snags");
  if (install.snags.empty()) paper.words("None were noted.");
  std::vector<Paper::Row> rows;
  for (Index i = 0; i < install.snags.size(); ++i) {
    const Snag& s = install.snags[i];
    std::vector<std::string> lines;
    if (std::string place = snag_place_words(m.file.document, m.survey(), i); !place.empty())
      lines.push_back(std::move(place));
    rows.push_back(
        {{s.id, s.text, s.by, day_of(s.at), s.closed.empty() ? "OPEN" : day_of(s.closed)},
         std::move(lines),
         s.closed.empty()});
  }
  if (!rows.empty())
    paper.table({{"", 0.6f, TextAlign::left, true},
                 {"Snag", 4.4f},
                 {"By", 1.4f},
                 {"Noted", 2.3f},
                 {"Closed", 2.3f}},
                rows);
}

std::string photo_caption(const PackMatter& m, Index room, const Photo& photo) {
  const std::vector<Snag>& snags = m.survey().install.snags;
  for (Index i = 0; i < snags.size(); ++i)
    if (shows_snag(photo, i, snags[i].id)) {
      const bool own = !photo.note.empty() && photo.note != "snag " + snags[i].id;
      return snags[i].id + ": " + snags[i].text + (own ? ". " + photo.note : "");
    }
  std::string what = photo.at.empty() ? "the room" : place_words(m.file.document, photo.at);
  return m.room_prefix(room) + what + (photo.note.empty() ? "" : ": " + photo.note);
}

// Two beside each other, a caption under each; then what could not be printed.
void photo_pages(Paper& paper, const PackMatter& m, const PackOptions& options) {
  constexpr float apart = 6, most_high = 66;  // mm
  constexpr std::size_t caption_lines = 3;
  constexpr float line = caption_em * 1.3f;
  const float wide = (paper.width() - apart) / 2;
  const float cell = most_high + 2 + float(caption_lines) * line + 3;
  std::vector<std::pair<std::string, bool>> unprinted;
  bool headed = false, right = false;
  Index n = 0;
  for (Index room = 0; room < m.survey().rooms.size(); ++room)
    for (const Photo& photo : m.survey().rooms[room].photos) {
      const PrintPhoto* print = n < options.photos.size() ? &options.photos[n] : nullptr;
      ++n;
      const std::string caption = photo_caption(m, room, photo);
      if (!print || !print->picture) {
        const bool gone = print && print->missing;
        unprinted.push_back(
            {photo.file + ", " + caption + (gone ? " (MISSING: there is no such file)" : ""),
             gone});
        continue;
      }
      if (!headed) {
        paper.need(cell + 18);
        paper.heading("Photos");
        headed = true;
      }
      if (!right) paper.need(cell);
      const float scale =
          std::min(wide / float(print->picture->w), most_high / float(print->picture->h));
      const float x = paper.x() + (right ? wide + apart : 0);
      const float high = float(print->picture->h) * scale;
      if (!paper.pdf().picture(print->picture->bytes, x, paper.y(),
                               float(print->picture->w) * scale, high)) {
        unprinted.push_back({photo.file + ", " + caption, false});
        continue;
      }
      float y = paper.y() + high + 2;
      const auto lines = paper.broken(caption, wide, {caption_em});
      for (std::size_t i = 0; i < lines.size() && i < caption_lines; ++i)
        paper.pdf().text(x, y += line, lines[i], {caption_em});
      if (right) paper.gap(cell);
      right = !right;
    }
  if (right) paper.gap(cell);
  if (unprinted.empty()) return;
  paper.heading(headed ? "Photos that are not printed" : "Photos, kept beside the survey");
  for (const auto& [says, gone] : unprinted) paper.words(says, {caption_em, gone});
}

}  // namespace

std::string as_built(std::string_view text, const SurveyFile& file, const Results& results,
                     const PackOptions& options, std::string& error) {
  const PackMatter m = pack_matter(file, results, options);
  PdfFile pdf(options.paper, file.survey.job.reference + ", as built",
              file.survey.install.sign_off ? file.survey.install.sign_off->at
                                           : file.survey.job.surveyed_on);
  Paper paper(pdf, file.survey.job.reference,
              ", revision " + std::to_string(file.survey.job.revision) + ", as built", "");
  state(paper, m);
  floor_and_levels(paper, m);
  legs_set(paper, m);
  answers_and_snags(paper, m);
  photo_pages(paper, m, options);
  checklist_pages(paper, m);
  sign_off_page(paper, m);
  return finished(paper, text, options, error);
}

}  // namespace levelrun
