#include "app/jobs/job_list.h"

#include <algorithm>

#include "app/entry/asks.h"
#include "checks/solve.h"
#include "survey/parse_json.h"
#include "survey/survey_file.h"

namespace levelrun {
namespace {

constexpr std::string_view ending = ".levelrun.json";

JobLine line_of(FileLayer& files, const std::string& path) {
  JobLine out;
  out.path = path;
  std::string text;
  if (const auto error = files.read(path, most_text, text)) {
    out.trouble = error.message();
    return out;
  }
  const auto read = read_survey(text);
  if (!read.ok()) {
    out.trouble = "not a survey: " + read.problems().front().found;
    return out;
  }
  const Survey& survey = read.value().survey;
  out.reference = survey.job.reference;
  out.client = survey.job.client;
  out.revision = survey.job.revision;
  out.day = survey.job.surveyed_on;
  bool set = false, any_group = false;
  for (Index r = 0; r < survey.rooms.size(); ++r) {
    const Room& room = survey.rooms[r];
    out.rooms += (r ? ", " : "") + (room.name.empty() ? room.id : room.name);
    for (const auto& asks : {walk_asks(survey, r), level_asks(survey, r)})
      for (const Ask& ask : asks) {
        ++out.asked;
        out.booked += ask.booked.has_value();
      }
    for (const LevelGroup& group : room.level_groups) {
      set = (any_group ? set : true) && group.underside_set.has_value();
      any_group = true;
    }
  }
  const Results results = solve(survey);
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
  out.state = set                                        ? JobState::to_fit
              : out.asked > 0 && out.booked == out.asked ? JobState::in_the_office
                                                         : JobState::to_survey;
  return out;
}

}  // namespace

std::vector<JobLine> jobs_on(FileLayer& files, const std::string& folder,
                             const std::vector<std::string>& recent) {
  std::vector<std::string> paths;
  std::vector<std::string> names;
  if (!folder.empty() && !files.list(folder, names)) {
    std::sort(names.begin(), names.end());
    for (const std::string& name : names)
      if (name.ends_with(ending)) paths.push_back(folder + "/" + name);
  }
  for (const std::string& path : recent)
    if (std::find(paths.begin(), paths.end(), path) == paths.end()) {
      std::size_t bytes = 0;
      if (!files.size(path, bytes)) paths.push_back(path);
    }
  std::vector<JobLine> out;
  for (const std::string& path : paths) out.push_back(line_of(files, path));
  std::stable_sort(out.begin(), out.end(), [](const JobLine& a, const JobLine& b) {
    return a.state != b.state ? a.state < b.state : a.reference < b.reference;
  });
  return out;
}

}  // namespace levelrun
