// The command line: reads the words, calls one command, returns its exit code.

#include <CLI/CLI.hpp>
#include <csignal>
#include <iostream>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "app/commands/check.h"
#include "app/commands/compare.h"
#include "app/commands/draw.h"
#include "app/commands/legs.h"
#include "app/commands/plinths.h"
#include "app/commands/quantities.h"
#include "app/commands/report.h"
#include "app/commands/solve.h"
#include "app/commands/tasks.h"
#include "app/display_text.h"
#include "survey/near_word.h"
#ifdef LEVELRUN_HAS_WINDOW
#include "app/windows/run_window.h"
#endif

using namespace levelrun;

static constexpr int option_columns = 22;  // of the 80 that help has
static constexpr int usage_error = 2;

static constexpr const char* file_help = "a survey, *.levelrun.json; - is standard input";

// Without the type and the exclusions that stand beside every option: the words say enough.
class PlainHelp : public CLI::Formatter {
 public:
  PlainHelp() {
    column_width(option_columns);
    label("SUBCOMMAND", "COMMAND");
    label("Positionals", "What");
  }
  std::string make_option_opts(const CLI::Option*) const override { return ""; }
};

static void usage_complaint(const std::string& what) {
  print_error(paragraph("levelrun: ", printable(what)) + "See levelrun --help.");
}

// No command was recognised: which one is near to the first word, else which there are.
static std::string no_command_words(const CLI::App& app, const std::string& first) {
  constexpr std::size_t enough_to_begin = 3;  // letters
  std::string all;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    const std::string& name = command->get_name();
    if ((first.size() >= enough_to_begin && name.starts_with(first)) || is_slip_of(first, name))
      return "there is no command " + first + ": " + name + "?";
    all += (all.empty() ? "" : ", ") + name;
  }
  return "wants a command before FILE: one of " + all + ".";
}

int main(int argc, char** argv) {
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe is then an error of write(), told to Output
  Output out;
  int code = exit_ok;

  CLI::App app{"Survey, levels, legs and plinths for fitted furniture."};
  app.name("levelrun");
  app.formatter(std::make_shared<PlainHelp>());
  app.set_help_flag("-h,--help", "this help");
  app.set_version_flag("--version", "levelrun " LEVELRUN_VERSION, "the version");
  app.require_subcommand(1);
  const auto add_command = [&](const char* name, const char* question) {
    auto* cmd = app.add_subcommand(name, question);
    cmd->group("Commands");
    cmd->footer("Exit code: 0 done; 2 wrong usage, or a file that could not be used.");
    return cmd;
  };

  std::string file;
  auto* solve_cmd = add_command("solve", "all results, as JSON");
  solve_cmd->add_option("FILE", file, file_help)->required();
  solve_cmd->callback([&] { code = solve_command(file, out); });

  std::vector<std::string> paths;
  bool json = false;
  auto* check_cmd = add_command("check", "what must be asked, or bars manufacture");
  check_cmd->add_option("FILE", paths, "surveys, or folders of them; - is standard input")
      ->required();
  bool all = false;
  auto* in_full = check_cmd->add_flag("--all", all, "notes in full, and each limit's source");
  check_cmd->add_flag("--json", json, "as JSON")->excludes(in_full);
  check_cmd->footer(
      "Exit code: 0 no hold; 1 a hold that no answer has released; 2 wrong usage, or a\n"
      "file that could not be used.");
  check_cmd->callback([&] { code = check_command(paths, all, json, out); });

  bool csv = false;
  const auto add_formats = [&](CLI::App* cmd) {
    auto* as_csv = cmd->add_flag("--csv", csv, "as comma-separated values");
    cmd->add_flag("--json", json, "as JSON")->excludes(as_csv);
  };
  const auto format = [&] {
    return csv ? TableFormat::csv : json ? TableFormat::json : TableFormat::page;
  };

  auto* legs_cmd = add_command("legs", "the height of every leg");
  legs_cmd->add_option("FILE", file, file_help)->required();
  add_formats(legs_cmd);
  legs_cmd->callback([&] { code = legs_command(file, format(), out); });

  bool boards = false;
  auto* plinths_cmd = add_command("plinths", "the cut of every plinth, and the boards");
  plinths_cmd->add_option("FILE", file, file_help)->required();
  add_formats(plinths_cmd);
  plinths_cmd->add_flag("--boards", boards, "the boards alone");
  plinths_cmd->callback([&] {
    code = plinths_command(file, format(), boards ? PlinthLists::boards : PlinthLists::all, out);
  });

  auto* tasks_cmd = add_command("tasks", "the checklist of the install day, with cautions");
  tasks_cmd->add_option("FILE", file, file_help)->required();
  tasks_cmd->add_flag("--json", json, "as JSON");
  tasks_cmd->callback([&] { code = tasks_command(file, json, out); });

  auto* quantities_cmd = add_command("quantities", "what the workshop orders and cuts");
  quantities_cmd->add_option("FILE", file, file_help)->required();
  add_formats(quantities_cmd);
  quantities_cmd->callback([&] { code = quantities_command(file, format(), out); });

  std::string old_file, new_file;
  auto* compare_cmd = add_command("compare", "what changed between two revisions");
  compare_cmd->add_option("OLD", old_file, "the earlier revision")->required();
  compare_cmd->add_option("NEW", new_file, "the later one")->required();
  std::string to;
  bool letter = false;
  const auto paper = [&] { return letter ? PaperSize::letter : PaperSize::a4; };
  auto* compare_json = compare_cmd->add_flag("--json", json, "as JSON");
  auto* compare_to =
      compare_cmd->add_option("-o,--pdf", to, "print it: the PDF to write; - is standard output");
  compare_to->excludes(compare_json);
  compare_cmd->add_flag("--letter", letter, "on US Letter instead of A4")->needs(compare_to);
  compare_cmd->callback([&] {
    code = to.empty() ? compare_command(old_file, new_file, json, out)
                      : compare_print_command(old_file, new_file, to, paper(), out);
  });

  auto* report_cmd = add_command("report", "the printed job pack, a PDF");
  report_cmd->add_option("FILE", file, file_help)->required();
  report_cmd->add_option("-o", to, "file to write; - is standard output")->required();
  report_cmd->add_flag("--letter", letter, "on US Letter instead of A4");
  report_cmd->callback([&] { code = report_command(file, to, paper(), out); });

  auto* built_cmd = add_command("as-built", "what was laid, set and signed, a PDF");
  built_cmd->add_option("FILE", file, file_help)->required();
  built_cmd->add_option("-o", to, "file to write; - is standard output")->required();
  built_cmd->add_flag("--letter", letter, "on US Letter instead of A4");
  built_cmd->callback([&] { code = as_built_command(file, to, paper(), out); });

  DrawWhat drawing;
  bool plan = false, floor = false;
  auto* draw_cmd = add_command("draw", "plan, elevation or floor map, as SVG to scale");
  draw_cmd->add_option("FILE", file, file_help)->required();
  auto* as_plan = draw_cmd->add_flag("--plan", plan, "the plan with its dimensions");
  auto* as_floor = draw_cmd->add_flag("--floor", floor, "the floor: contours and readings");
  auto* as_wall = draw_cmd->add_option("--wall", drawing.wall, "the elevation of a wall, its id");
  as_plan->excludes(as_floor)->excludes(as_wall);
  as_floor->excludes(as_wall);
  draw_cmd->add_option("--room", drawing.room, "which room, by its id");
  draw_cmd->add_option("-o", drawing.to, "file to write; else standard output");
  draw_cmd->callback([&] {
    if (!plan && !floor && drawing.wall.empty())
      throw CLI::RequiredError("One of --plan, --floor and --wall");
    drawing.kind = plan    ? DrawWhat::Kind::plan
                   : floor ? DrawWhat::Kind::floor
                           : DrawWhat::Kind::wall;
    code = draw_command(file, drawing, out);
  });

  app.footer(
#ifdef LEVELRUN_HAS_WINDOW
      "Without a command: the touch app; levelrun FILE opens a survey in it.\n"
#endif
      "Exit code: 0 done; 1 check found a hold; 2 wrong usage, or a file that could\n"
      "not be used. levelrun COMMAND --help says more.");

#ifdef LEVELRUN_HAS_WINDOW
  // Without a command it is the touch app: levelrun, or levelrun FILE.
  const std::string_view only = argc == 2 ? argv[1] : "";
  if (argc < 2 || only.ends_with(".levelrun.json") || only.ends_with(".pdf")) {
    const int done = run_window(argc < 2 ? "" : argv[1]);
    if (done != exit_ok) print_error(app.help());  // no display: the commands are still there
    return done;
  }
#else
  if (argc < 2) {
    print_error(app.help());
    return usage_error;
  }
#endif
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& asked) {  // --help, --version
    app.exit(asked);
    return std::cout.flush() ? exit_ok : usage_error;
  } catch (const CLI::ParseError& e) {
    usage_complaint(app.get_subcommands().empty() ? no_command_words(app, argv[1]) : e.what());
    return usage_error;
  }
  return out.exit_code(code);
}
