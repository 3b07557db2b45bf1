// The program as people call it, by any words and on any survey: it ends with one of its exit
// codes, and what it prints steers neither a terminal nor a spreadsheet, nor is it markup that a
// name made.
//
// The input: words, a line each, then the survey, from its first brace. Without words the survey's
// checksum says which command. The program is app/main.cpp itself, its main() renamed; it works in
// a folder of its own and its words name no other.
#include <sanitizer/common_interface_defs.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "app/display_text.h"
#include "survey/crc32.h"
#include "tests/fuzz/json_mutator.h"
#include "tests/fuzz/must.h"
#include "tests/simulate/random.h"

int levelrun_main(int, char**);

using namespace levelrun;

namespace {

using Words = std::vector<std::string>;
const char* const file_name = "s.levelrun.json";

struct Input {
  Words words;
  std::string survey;
};

const std::vector<Words>& commands() {
  static const std::vector<Words> all{{"solve", file_name},
                                      {"check", file_name},
                                      {"check", "--all", file_name},
                                      {"check", "--json", "."},
                                      {"legs", file_name},
                                      {"legs", "--csv", file_name},
                                      {"legs", "--json", file_name},
                                      {"plinths", file_name},
                                      {"plinths", "--csv", file_name},
                                      {"plinths", "--csv", "--boards", file_name},
                                      {"plinths", "--json", file_name},
                                      {"tasks", file_name},
                                      {"tasks", "--json", file_name},
                                      {"quantities", file_name},
                                      {"quantities", "--csv", file_name},
                                      {"quantities", "--json", file_name},
                                      {"compare", file_name, file_name},
                                      {"compare", "--json", "old.levelrun.json", file_name},
                                      {"compare", "old.levelrun.json", file_name},
                                      {"report", file_name, "-o", "pack.pdf"},
                                      {"as-built", "--letter", file_name, "-o", "pack.pdf"},
                                      {"draw", "--plan", file_name},
                                      {"draw", "--floor", file_name},
                                      {"draw", "--wall", "W1", file_name}};
  return all;
}

// The whole input is text; a survey begins at a line with a brace.
Input input_of(std::string_view bytes) {
  Input in;
  while (!bytes.empty() && bytes.front() != '{') {
    const std::size_t end = std::min(bytes.find('\n'), bytes.size());
    in.words.emplace_back(bytes.substr(0, end));
    bytes.remove_prefix(std::min(end + 1, bytes.size()));
  }
  in.survey = bytes;
  if (in.words.empty()) in.words = commands()[crc32(in.survey) % commands().size()];
  // Nothing outside the folder is named.
  for (std::string& word : in.words) {
    for (char& c : word)
      if (c == '/' || c == '\0') c = '_';
    if (word == "..") word = ".";
  }
  constexpr std::size_t most_words = 12;
  if (in.words.size() > most_words) in.words.resize(most_words);
  return in;
}

// A folder that is gone when the fuzzer ends, with the survey to compare with.
class Folder {
 public:
  Folder() : path_(std::filesystem::temp_directory_path() / "levelrun-commands-XXXXXX") {
    std::string name = path_.string();
    must(mkdtemp(name.data()) != nullptr, "there is a folder for the files");
    path_ = name;
    std::filesystem::current_path(path_);
    must(std::freopen("/dev/null", "r", stdin) != nullptr, "nobody types");
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path_); }

  void put(const std::string& survey) const {
    for (const auto& entry : std::filesystem::directory_iterator(path_))
      if (entry.path().filename() != "old.levelrun.json") std::filesystem::remove_all(entry);
    std::ofstream(path_ / file_name, std::ios::binary) << survey;
    if (!std::filesystem::exists("old.levelrun.json"))
      std::filesystem::copy_file(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json",
                                 "old.levelrun.json");
  }

 private:
  std::filesystem::path path_;
};

// What is written to a file descriptor from here to text(). Reports of sanitisers go where they
// went before.
class Caught {
 public:
  explicit Caught(int file)
      : file_(file), before_(dup(file)), memory_(memfd_create("caught", MFD_CLOEXEC)) {
    must(before_ >= 0 && memory_ >= 0 && dup2(memory_, file_) == file_, "output can be caught");
    if (file == STDERR_FILENO)
      __sanitizer_set_report_fd(reinterpret_cast<void*>(std::intptr_t(before_)));
  }
  Caught(const Caught&) = delete;
  Caught& operator=(const Caught&) = delete;
  ~Caught() { close(memory_); }

  std::string text() {
    dup2(before_, file_);
    if (file_ == STDERR_FILENO)
      __sanitizer_set_report_fd(reinterpret_cast<void*>(std::intptr_t(STDERR_FILENO)));
    close(before_);
    std::string all;
    lseek(memory_, 0, SEEK_SET);
    char part[4096];
    for (ssize_t n; (n = read(memory_, part, sizeof part)) > 0;) all.append(part, std::size_t(n));
    return all;
  }

 private:
  int file_, before_, memory_;
};

bool has(const Words& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

void no_control(std::string_view text) {
  for (const char c : text)
    must(c == '\n' || (static_cast<unsigned char>(c) >= 32 && c != 127), "no control character");
}

void page(std::string_view text) {
  no_control(text);
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    must(display_width(std::string(text.substr(0, end))) <= page_columns, "80 columns");
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

// RFC 4180, as a spreadsheet reads it: every row has the heading's cells, and none is a formula.
void table(std::string_view text) {
  std::size_t columns = 0, cells = 0;
  std::string cell;
  bool quoted = false;
  const auto end_cell = [&] {
    const bool formula =
        !cell.empty() && std::string_view("=+@\t\r\n").find(cell[0]) != std::string_view::npos;
    // A minus begins a number and nothing else.
    const bool text_with_minus = cell.size() > 1 && cell[0] == '-' &&
                                 cell.find_first_not_of("0123456789.", 1) != std::string::npos;
    must(!formula && !text_with_minus, "no cell is a formula");
    cell.clear();
    ++cells;
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
      cell += text[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      end_cell();
    } else if (c == '\r' && !quoted) {
      must(i + 1 < text.size() && text[i + 1] == '\n', "a row ends as RFC 4180 has it");
      end_cell();
      if (columns == 0) columns = cells;
      must(cells == columns, "every row has the heading's cells");
      cells = 0;
      ++i;
    } else {
      cell += c;
    }
  }
  must(!quoted && cells == 0 && cell.empty(), "the last row ends");
}

// Nothing but shapes and text: what names hold is not markup.
void drawing(std::string_view text) {
  must(text.find("</svg>") != text.npos, "a drawing is whole");
  static constexpr std::string_view known[] = {"?xml", "svg",     "title",    "desc",   "g",
                                               "rect", "polygon", "polyline", "circle", "text"};
  for (std::size_t at = 0; (at = text.find('<', at)) != text.npos;) {
    ++at;
    if (at < text.size() && text[at] == '/') ++at;
    const std::size_t end = std::min(text.find_first_of(" />\n", at), text.size());
    must(
        std::find(std::begin(known), std::end(known), text.substr(at, end - at)) != std::end(known),
        "no markup but a drawing's");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Folder folder;
  Input in = input_of({reinterpret_cast<const char*>(data), size});
  // Nothing at all, or a survey alone, is the touch app's.
  if (in.words.empty()) return 0;
  folder.put(in.survey);

  std::string program = "levelrun";
  std::vector<char*> argv{program.data()};
  for (std::string& word : in.words) argv.push_back(word.data());
  argv.push_back(nullptr);
  Caught out(STDOUT_FILENO), error(STDERR_FILENO);
  const int code = levelrun_main(int(argv.size()) - 1, argv.data());
  std::fflush(stdout);
  const std::string complaint = error.text(), printed = out.text();

  must(code == 0 || code == 1 || code == 2, "an exit code that is promised");
  must(code != 1 || in.words[0] == "check", "only check finds holds");
  must(code != 2 || !complaint.empty(), "what is refused is told");
  no_control(complaint);
  if (code == 2 && in.words[0] != "check")
    must(printed.empty(), "nothing printed beside a refusal");
  if (code == 2 || printed.empty()) return 0;
  if (printed[0] == '{' || printed[0] == '[')
    must(!nlohmann::json::parse(printed, nullptr, false).is_discarded(), "JSON is JSON");
  else if (has(in.words, "--csv") && printed.find('\r') != std::string::npos)  // else it is help
    table(printed);
  else if (printed[0] == '<')
    drawing(printed);
  else if (!printed.starts_with("%PDF"))
    page(printed);
  return 0;
}

// A word exchanged, doubled, dropped or changed; else the survey by its tree.
extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t*, std::size_t, std::size_t);
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  static const char* const words[] = {"solve",  "check",      "legs",    "plinths",
                                      "tasks",  "quantities", "compare", "report",
                                      "draw",   "--csv",      "--json",  "--boards",
                                      "--all",  "--plan",     "--floor", "--wall",
                                      "W1",     "W2",         "--room",  "-o",
                                      "x",      "-",          "--",      "--letter",
                                      "-h",     ".",          "--help",  "as-built",
                                      "=x\x1b", "--version",  file_name, "old.levelrun.json"};
  Random random(seed);
  Input in = input_of({reinterpret_cast<const char*>(data), size});
  std::string word(words[random.below(std::size(words))]);
  const std::size_t at = in.words.empty() ? 0 : random.below(in.words.size());
  const auto place = in.words.begin() + std::ptrdiff_t(at);
  switch (random.below(12)) {
    case 0:
      in.words = commands()[random.below(commands().size())];
      break;
    case 1:
      in.words.insert(place, word);
      break;
    case 2:
      if (!in.words.empty()) in.words.erase(place);
      break;
    case 3:
      if (!in.words.empty()) *place = word;
      break;
    case 4:
      if (!in.words.empty()) {
        std::string& changed = *place;
        const std::size_t was = changed.size();
        changed.resize(was + 8);
        changed.resize(
            LLVMFuzzerMutate(reinterpret_cast<std::uint8_t*>(changed.data()), was, changed.size()));
        std::replace(changed.begin(), changed.end(), '\n', ' ');
        if (!changed.empty() && changed[0] == '{') changed[0] = '_';
      }
      break;
    default:
      in.survey = mutated_json(in.survey, seed);
  }
  std::string text;
  for (const std::string& one : in.words) text += one + "\n";
  text += in.survey;
  if (text.size() > most) return LLVMFuzzerMutate(data, size, most);
  std::copy(text.begin(), text.end(), data);
  return text.size();
}
