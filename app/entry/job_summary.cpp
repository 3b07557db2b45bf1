#include "app/entry/job_summary.h"

#include "app/entry/asks.h"

namespace levelrun {

const char* word(JobState state) {
  constexpr const char* words[] = {"to survey", "in the office", "to fit", "handed over"};
  return words[int(state)];
}

JobSummary job_summary(const Survey& survey, const Results& results) {
  JobSummary out;
  out.reference = survey.job.reference;
  out.client = survey.job.client;
  out.revision = survey.job.revision;
  out.day = survey.job.surveyed_on;
  for (Index r = 0; r < survey.rooms.size(); ++r) {
    const Room& room = survey.rooms[r];
    out.rooms += (r ? ", " : "") + (room.name.empty() ? room.id : room.name);
    for (const auto& asks : {walk_asks(survey, r), level_asks(survey, r)})
      for (const Ask& ask : asks) {
        ++out.asked;
        out.booked += ask.booked.has_value();
      }
  }
  for (const Finding& f : results.findings) {
    if (f.answered)
      ++out.answered;
    else if (f.severity == Severity::hold)
      ++out.holds;
    else if (f.severity == Severity::query)
      ++out.queries;
    else
      ++out.notes;
  }
  bool any = false, all = true;
  for (const RoomResult& room : results.rooms)
    for (const GroupResult& group : room.groups) {
      any = true;
      all = all && group.set;
    }
  out.state = survey.install.sign_off                    ? JobState::handed_over
              : any && all                               ? JobState::to_fit
              : out.asked > 0 && out.booked == out.asked ? JobState::in_the_office
                                                         : JobState::to_survey;
  return out;
}

bool older(const JobSummary& a, const JobSummary& b) {
  if (a.day.empty() != b.day.empty()) return b.day.empty();
  return a.day != b.day ? a.day < b.day : a.reference < b.reference;
}

}  // namespace levelrun
