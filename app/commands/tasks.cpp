// Stage by stage in working order: a box that is open, filled or struck, what to do, who ticked it.
// A caution stands once, below the first task that it concerns.
#include "app/commands/tasks.h"

#include <algorithm>
#include <set>
#include <vector>

#include "app/display_text.h"
#include "app/sign_off_seal.h"
#include "app/solved_file.h"
#include "app/table.h"
#include "app/terminal.h"
#include "checks/install_tasks.h"
#include "checks/sign_off.h"

namespace levelrun {

static constexpr int most_bars = 12;  // lines before the rest is counted

static std::string box(TaskState state) {
  return state == TaskState::done ? "▣" : state == TaskState::not_needed ? "–" : "□";
}

// "k.r. 2026-04-01", and why it is not needed or what is wrong with its tick.
static std::string tick_words(const InstallTask& task) {
  std::string out;
  const auto add = [&](const std::string& some) {
    if (!some.empty()) out += (out.empty() ? "" : " ") + some;
  };
  if (task.state != TaskState::open) {
    add(task.by);
    add(task.at.substr(0, 10));
  }
  add(task.trouble.empty() ? task.note : task.trouble);
  return out;
}

static std::string count_line(const InstallTasks& tasks) {
  return std::to_string(tasks.done) + " done, " + std::to_string(tasks.not_needed) +
         " not needed, " + std::to_string(tasks.open) + " open of " +
         std::to_string(tasks.tasks.size()) + ".";
}

static std::string stage_table(const std::vector<InstallTask>& tasks, std::size_t& i,
                               std::set<std::string>& said, bool styled) {
  const TaskStage stage = tasks[i].stage;
  const std::string room = tasks[i].room;
  Table table({{""}, {"Task"}, {"What"}, {"Ticked"}});
  for (; i < tasks.size() && tasks[i].stage == stage && tasks[i].room == room; ++i) {
    const InstallTask& task = tasks[i];
    table.row({box(task.state), task.id, task.says, tick_words(task)},
              task.state == TaskState::open && !task.trouble.empty());
    for (const std::string& caution : task.cautions)
      if (said.insert(caution).second) table.note("! " + caution);
  }
  return table.text(styled);
}

static std::string page(const SolvedFile& solved, const InstallTasks& tasks,
                        const SignOffState& state, bool styled) {
  std::string out = heading("Tasks: " + reference_line(solved.results), styled);
  out += hold_warning(solved.results, styled);
  out += paragraph("", count_line(tasks) + " " + state.says);
  if (changed_since_signed(solved.file.document)) out += paragraph("", changed_since_signed_says);
  std::set<std::string> said;
  for (std::size_t i = 0; i < tasks.tasks.size();) {
    const InstallTask& first = tasks.tasks[i];
    std::string title(word(first.stage));
    if (solved.results.rooms.size() > 1) title += ", " + first.room;
    title[0] = char(title[0] - 'a' + 'A');
    out += "\n" + heading(title, styled) + stage_table(tasks.tasks, i, said, styled);
  }
  if (!tasks.unmatched.empty()) {
    out += "\n" + heading("Ticked, but no longer part of this job", styled);
    for (const Task& tick : tasks.unmatched)
      out += paragraph("  ", printable(tick.id + ": " + tick.state + " " + tick.by + " " +
                                       tick.at.substr(0, 10) + " " + tick.note));
  }
  const auto is_task = [](const SignOffBar& bar) { return bar.kind == SignOffBar::Kind::task; };
  std::vector<const SignOffBar*> bars;
  for (const SignOffBar& bar : state.bars)
    if (!is_task(bar)) bars.push_back(&bar);
  if (!bars.empty()) {
    out += "\n" + heading("Besides open tasks, this bars signing off", styled);
    for (std::size_t i = 0; i < bars.size() && i < most_bars; ++i)
      out += paragraph(std::string(word(bars[i]->kind)) + "  ", printable(bars[i]->says));
    if (bars.size() > most_bars)
      out += "… and " + std::to_string(bars.size() - most_bars) + " more: levelrun check.\n";
  }
  return out;
}

static Json json_of(const SolvedFile& solved, const InstallTasks& tasks,
                    const SignOffState& state) {
  Json out = results_part("levelrun-tasks", solved.results, {});
  out.erase("rooms");
  out["done"] = tasks.done;
  out["not_needed"] = tasks.not_needed;
  out["open"] = tasks.open;
  out["tasks"] = Json::array();
  for (const InstallTask& task : tasks.tasks)
    out["tasks"].push_back({{"id", task.id},
                            {"stage", word(task.stage)},
                            {"room", task.room},
                            {"about", task.about},
                            {"says", task.says},
                            {"cautions", task.cautions},
                            {"state", word(task.state)},
                            {"at", task.at},
                            {"by", task.by},
                            {"note", task.note},
                            {"trouble", task.trouble}});
  out["unmatched"] = Json::array();
  for (const Task& tick : tasks.unmatched) out["unmatched"].push_back(tick.id);
  Json bars = Json::array();
  for (const SignOffBar& bar : state.bars)
    bars.push_back({{"kind", word(bar.kind)}, {"id", bar.id}, {"says", bar.says}});
  out["sign_off"] = {{"signed_off", state.signed_off},
                     {"may_sign", state.may_sign},
                     {"changed_since", changed_since_signed(solved.file.document)},
                     {"says", state.says},
                     {"bars", bars}};
  return out;
}

int tasks_command(const std::string& file, bool json, Output& out) {
  const auto solved = load_and_solve(file, out);
  if (!solved) return exit_unusable;
  const InstallTasks tasks = install_tasks(solved->file.survey, solved->results);
  const SignOffState state = sign_off_state(solved->file.survey, solved->results, tasks);
  out.print(json ? json_text(json_of(*solved, tasks, state))
                 : page(*solved, tasks, state, output_is_styled()));
  return exit_ok;
}

}  // namespace levelrun
