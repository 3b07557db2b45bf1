#include "app/terminal.h"

#include <unistd.h>

#include <cstdlib>

#include "app/display_text.h"

namespace levelrun {

static bool is_terminal(int file) {
  const char* terminal = std::getenv("TERM");
  return terminal && std::string_view(terminal) != "dumb" && isatty(file);
}

bool output_is_styled() {
  const char* no_color = std::getenv("NO_COLOR");
  if (no_color && *no_color) return false;
  return is_terminal(STDOUT_FILENO);
}

bool errors_go_to_a_terminal() { return is_terminal(STDERR_FILENO); }

std::string bold(std::string_view text) { return "\033[1m" + std::string(text) + "\033[0m"; }

std::string reverse(std::string_view text) { return "\033[1;7m" + std::string(text) + "\033[0m"; }

std::string heading(std::string_view text, bool styled) {
  std::string out;
  for (const std::string& line : wrap(printable(text), page_columns))
    out += (styled ? bold(line) : line) + "\n";
  return out;
}

}  // namespace levelrun
