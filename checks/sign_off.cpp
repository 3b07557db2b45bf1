#include "checks/sign_off.h"

#include <string_view>
#include <tuple>

namespace levelrun {
namespace {

std::string counted(std::size_t n, const char* one, const char* many) {
  return std::to_string(n) + " " + (n == 1 ? one : many);
}

}  // namespace

SignOffState sign_off_state(const Survey& survey, const Results& results,
                            const InstallTasks& tasks) {
  using Kind = SignOffBar::Kind;
  SignOffState out;
  for (const Severity severity : {Severity::hold, Severity::query})
    for (const Finding& f : results.findings)
      if (f.severity == severity && !f.answered)
        out.bars.push_back({severity == Severity::hold ? Kind::hold : Kind::query, f.id, f.says});
  for (const InstallTask& task : tasks.tasks)
    if (task.state == TaskState::open)
      out.bars.push_back({Kind::task, task.id,
                          task.says + (task.trouble.empty() ? "" : " (" + task.trouble + ")")});
  for (const Snag& snag : survey.install.snags)
    if (snag.closed.empty()) out.bars.push_back({Kind::snag, snag.id, snag.text});
  if (results.install)
    for (const UnitLevelResult& unit : results.install->unit_levels)
      if (!unit.level) out.bars.push_back({Kind::level, unit.unit, unit.says});

  out.signed_off = is_read_only(survey);
  out.may_sign = !out.signed_off && out.bars.empty();
  if (out.signed_off) {
    const SignOff& by = *survey.install.sign_off;
    out.says = "Signed off by " + by.by + (by.role.empty() ? "" : ", " + by.role) +
               "; reopen it, with a reason, to change anything.";
  } else if (out.may_sign) {
    out.says = "Nothing bars signing off.";
  } else {
    std::string parts;
    for (const auto& [kind, one, many] :
         {std::tuple(Kind::hold, "open hold", "open holds"),
          std::tuple(Kind::query, "open query", "open queries"),
          std::tuple(Kind::task, "open task", "open tasks"),
          std::tuple(Kind::snag, "open snag", "open snags"),
          std::tuple(Kind::level, "cabinet not level", "cabinets not level")}) {
      std::size_t n = 0;
      for (const SignOffBar& bar : out.bars) n += bar.kind == kind;
      if (n > 0) parts += (parts.empty() ? "" : ", ") + counted(n, one, many);
    }
    out.says = "Not to be signed off yet: " + parts + ".";
  }
  return out;
}

bool is_read_only(const Survey& survey) { return survey.install.sign_off.has_value(); }

std::string_view word(SignOffBar::Kind kind) {
  constexpr std::string_view words[] = {"hold", "query", "task", "snag", "level"};
  return words[int(kind)];
}

}  // namespace levelrun
