#include "app/jobs/revisions.h"

#include <algorithm>
#include <vector>

#include "app/jobs/new_job.h"
#include "checks/solve.h"
#include "survey/parse_json.h"

namespace levelrun {
namespace {

constexpr std::string_view ending = ".levelrun.json";

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
      // Only what names the reference is worth reading as a survey.
      if (!name.ends_with(ending) || one == path || files.read(one, most_text, text) ||
          text.find(reference) == std::string::npos)
        continue;
      auto read = read_survey(text);
      if (!read.ok()) continue;
      const Job& job = read.value().survey.job;
      if (job.reference != reference || job.revision >= revision ||
          (best && job.revision <= best->revision))
        continue;
      best = EarlierRevision{one, job.revision, std::move(read.value().document),
                             solve(read.value().survey)};
    }
  }
  return best;
}

}  // namespace levelrun
