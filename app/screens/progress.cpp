#include "app/screens/progress.h"

#include <algorithm>

#include "app/entry/asks.h"

namespace levelrun {
namespace {

void count(StaffPage& page, const std::vector<Ask>& asks) {
  for (const Ask& ask : asks) page.done += ask.booked.has_value();
  page.all += int(asks.size());
}

void say_left(StaffPage& page) {
  if (page.all > page.done) page.left = std::to_string(page.all - page.done) + " left";
}

bool measured(const Room& room) {
  const auto read = [](const auto& list, auto number_of) {
    return std::any_of(list.begin(), list.end(), [&](const auto& one) { return number_of(one); });
  };
  return !room.diagonals.empty() || !room.angles.empty() || !room.ceilings.empty() ||
         read(room.walls, [](const Wall& w) { return !w.lengths.empty() || !w.offsets.empty(); }) ||
         read(room.levels.setups, [](const SetUp& s) { return !s.readings.empty(); });
}

}  // namespace

bool anything_measured(const Survey& survey) {
  return std::any_of(survey.rooms.begin(), survey.rooms.end(), measured);
}

bool has_floor_point(const Room& room) {
  for (Index p = 0; p < room.levels.points.size(); ++p) {
    const bool benchmark = room.levels.benchmark && room.levels.benchmark->point == p;
    if (!room.levels.points[p].off_floor && !benchmark) return true;
  }
  return false;
}

const std::vector<StaffPage>& Progress::pages(const Session& session) {
  if (session.version() == version_ && session.room == room_ && !pages_.empty()) return pages_;
  version_ = session.version();
  room_ = session.room;
  pages_ = {{"Job", "Job", 0, 5, ""},        {"Walk round", "Walk", 0, 0, ""},
            {"Levels", "Levels", 0, 0, ""},  {"Walls", "Walls", 0, 0, ""},
            {"Runs", "Runs", 0, 0, ""},      {"Findings", "Findings", 0, 0, ""},
            {"Release", "Release", 0, 1, ""}};
  const Survey& survey = session.survey();
  const Job& job = survey.job;
  StaffPage& about = pages_[0];
  about.done = !job.reference.empty() + !job.client.empty() + !job.surveyor.empty() +
               !survey.instruments.empty() + !survey.furniture.legs.empty();
  if (survey.rooms.empty()) return pages_;
  const Room& room = survey.rooms[session.room];
  count(pages_[1], walk_asks(survey, session.room));
  count(pages_[2], level_asks(survey, session.room));
  for (Index w = 0; w < room.walls.size(); ++w)
    count(pages_[3], wall_asks(survey, session.room, w));
  StaffPage& runs = pages_[4];
  for (const Run& run : room.runs) {
    runs.done += !run.units.empty();
    runs.all += 1;
  }
  // The benchmark alone is no floor.
  if (!has_floor_point(room)) pages_[2].done = pages_[2].all = 0;
  for (int page = 1; page <= 4; ++page) say_left(pages_[std::size_t(page)]);
  if (!anything_measured(survey)) {
    pages_[6].left = "not yet";
    return pages_;
  }
  StaffPage& findings = pages_[5];
  int open = 0;
  for (const Finding& f : session.results().findings) {
    if (f.severity == Severity::note) continue;
    ++findings.all;
    findings.done += f.answered;
    open += !f.answered;
  }
  if (findings.all == 0) findings.done = findings.all = 1;
  if (open > 0) findings.left = std::to_string(open) + " open";
  const auto& rooms = session.results().rooms;
  const bool to_release = std::any_of(rooms.begin(), rooms.end(),
                                      [](const RoomResult& one) { return !one.groups.empty(); });
  pages_[6].done = to_release && session.results().manufacture.open;
  if (!pages_[6].done) pages_[6].left = "not yet";
  return pages_;
}

}  // namespace levelrun
