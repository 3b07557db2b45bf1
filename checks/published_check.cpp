#include "checks/published_check.h"

#include "checks/published_limits.h"
#include "checks/words.h"

namespace levelrun {

void add_published(Clearances& out, PublishedCheck check) {
  const PublishedLimit& limit = published_limit(check.limit);
  const Verdict verdict = verdict_of(check.clear, limit.value, check.most);
  ClearanceResult entry;
  entry.what = std::move(check.what);
  entry.at = check.at;
  entry.clear = check.clear.value;
  entry.sd = check.clear.sd;
  entry.needed = limit.value;
  entry.most = check.most;
  if (check.holds) entry.verdict = verdict;
  entry.source = limit.source;
  entry.sum = std::move(check.sum);
  out.clearances.push_back(std::move(entry));
  if (verdict == Verdict::within) return;

  Finding finding;
  finding.code = std::move(check.code);
  finding.severity = check.holds ? Severity::query : Severity::note;
  finding.id = std::move(check.id);
  finding.at = std::move(check.at);
  finding.measured = check.clear.value;
  finding.limit = limit.value;
  finding.unit = limit.unit;
  finding.source = limit.source;
  finding.safety = check.safety;
  finding.says = check.says + ": " + decimal(check.clear.value) +
                 (check.clear.sd > 0 ? " ±" + decimal(band95 * check.clear.sd) : "") +
                 "; published at " + (check.most ? "most " : "least ") + millimetres(limit.value) +
                 ".";
  finding.remedy = (verdict == Verdict::doubtful ? "Measure it closer, or: " : "") + check.remedy;
  out.findings.push_back(std::move(finding));
}

}  // namespace levelrun
