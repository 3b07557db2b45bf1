#include "app/jobs/job_list.h"

#include <algorithm>

#ifndef __EMSCRIPTEN__
#include <thread>

#include "app/in_order.h"
#endif
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
  static_cast<JobSummary&>(out) = job_summary(survey, solve(survey));
  return out;
}

std::string lower(std::string text) {
  for (char& c : text) c = char(c >= 'A' && c <= 'Z' ? c + 32 : c);
  return text;
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
  std::vector<JobLine> out(paths.size());
#ifdef __EMSCRIPTEN__
  for (std::size_t i = 0; i < paths.size(); ++i) out[i] = line_of(files, paths[i]);
#else
  in_order(
      paths.size(), std::thread::hardware_concurrency(),
      [&](std::size_t i) { return line_of(files, paths[i]); },
      [&](std::size_t i, JobLine line) { out[i] = std::move(line); });
#endif
  sort_jobs(out, JobOrder::name);
  return out;
}

void sort_jobs(std::vector<JobLine>& jobs, JobOrder order) {
  std::stable_sort(jobs.begin(), jobs.end(), [&](const JobLine& a, const JobLine& b) {
    if (a.trouble.empty() != b.trouble.empty()) return a.trouble.empty();
    if (a.state != b.state) return a.state < b.state;
    if (order == JobOrder::holds && a.holds != b.holds) return a.holds > b.holds;
    if (order == JobOrder::holds && a.queries != b.queries) return a.queries > b.queries;
    if (order == JobOrder::name && a.reference != b.reference) return a.reference < b.reference;
    return order == JobOrder::name ? a.path < b.path : older(a, b);
  });
}

std::vector<JobLine> jobs_that_say(const std::vector<JobLine>& jobs, const std::string& words) {
  if (words.empty()) return jobs;
  const std::string wanted = lower(words);
  std::vector<JobLine> out;
  for (const JobLine& job : jobs)
    if (lower(job.reference + "\n" + job.rooms + "\n" + job.client + "\n" + job.path)
            .find(wanted) != std::string::npos)
      out.push_back(job);
  return out;
}

}  // namespace levelrun
