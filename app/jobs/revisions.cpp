#include "app/jobs/revisions.h"

#include <algorithm>
#include <vector>

#include "app/jobs/new_job.h"
#include "checks/solve.h"
#include "survey/attached_survey.h"
#include "survey/parse_json.h"

namespace levelrun {
namespace {

constexpr std::string_view ending = ".levelrun.json";
constexpr std::size_t most_pack = 64U << 20;  // bytes of a job pack that is read

// Every other survey in the folder of `path` and among the jobs that can be read and names `words`
// somewhere, which is quicker to find out than to read it.
template <typename Take>
void surveys_beside(FileLayer& files, const std::string& path, const std::string& jobs_folder,
                    const std::string& words, const Take& take) {
  std::vector<std::string> folders = {path.substr(0, path.rfind('/') + 1)};
  if (!jobs_folder.empty() && jobs_folder + "/" != folders.front())
    folders.push_back(jobs_folder + "/");
  for (const std::string& folder : folders) {
    std::vector<std::string> names;
    if (files.list(folder.empty() ? "." : folder, names)) continue;
    std::sort(names.begin(), names.end());
    for (const std::string& name : names) {
      const std::string one = folder + name;
      std::string text;
      if (!name.ends_with(ending) || one == path || files.read(one, most_text, text) ||
          text.find(words) == std::string::npos)
        continue;
      if (auto read = read_survey(text); read.ok()) take(one, read.value());
    }
  }
}

}  // namespace

std::string put_new_job(FileLayer& files, Platform& platform, const std::string& folder,
                        const Json& document) {
  std::string name = job_file_name(document);
  std::vector<std::string> names;
  files.list(folder, names);
  const std::string stem = name.substr(0, name.find(ending));
  for (int n = 2; std::find(names.begin(), names.end(), name) != names.end(); ++n)
    name = stem + "-" + std::to_string(n) + std::string(ending);
  return platform.put_job(name, write_survey(document));
}

std::optional<EarlierRevision> earlier_revision(FileLayer& files, const std::string& path,
                                                const std::string& jobs_folder,
                                                const std::string& reference, int revision) {
  std::optional<EarlierRevision> best;
  if (reference.empty() || revision < 2) return best;
  surveys_beside(
      files, path, jobs_folder, reference, [&](const std::string& one, SurveyFile& read) {
        const Job& job = read.survey.job;
        if (job.reference != reference || job.revision >= revision ||
            (best && job.revision <= best->revision))
          return;
        best = EarlierRevision{one, job.revision, std::move(read.document), solve(read.survey)};
      });
  return best;
}

std::vector<RevisionFile> other_surveys(FileLayer& files, const std::string& path,
                                        const std::string& jobs_folder,
                                        const std::string& reference) {
  std::vector<RevisionFile> out;
  surveys_beside(files, path, jobs_folder, "", [&](const std::string& one, SurveyFile& read) {
    const Job& job = read.survey.job;
    out.push_back({one, job.reference, job.surveyed_on, job.revision});
  });
  std::stable_sort(out.begin(), out.end(), [&](const RevisionFile& a, const RevisionFile& b) {
    const bool a_same = a.reference == reference, b_same = b.reference == reference;
    if (a_same != b_same) return a_same;
    if (a.reference != b.reference) return a.reference < b.reference;
    return a.revision > b.revision;
  });
  return out;
}

std::optional<EarlierRevision> read_revision(FileLayer& files, const std::string& path,
                                             std::string& why) {
  std::string text;
  const bool pack = path.ends_with(".pdf");
  if (const auto error = files.read(path, pack ? most_pack : most_text, text)) {
    why = error.message();
    return std::nullopt;
  }
  if (pack) {
    auto inside = attached_survey(text, most_text);
    if (!inside) {
      why = "a PDF without a survey inside";
      return std::nullopt;
    }
    text = std::move(*inside);
  }
  auto read = read_survey(text);
  if (!read.ok()) {
    why =
        "found " + read.problems().front().found + ", expected " + read.problems().front().expected;
    return std::nullopt;
  }
  const int revision = read.value().survey.job.revision;
  Results results = solve(read.value().survey);
  return EarlierRevision{path, revision, std::move(read.value().document), std::move(results)};
}

}  // namespace levelrun
