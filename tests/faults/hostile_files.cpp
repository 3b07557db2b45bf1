// Files made to cost much: each is refused or solved within stated time and memory, in a process of
// its own that the system ends when it takes more. Prints what each took.
//
//   hostile_files [seconds] [megabytes]    limits of one file; 30 and 1500
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "checks/results_json.h"
#include "checks/solve.h"
#include "survey/survey_file.h"

using namespace levelrun;

namespace {

std::string number(int i) { return std::to_string(i); }

std::string list_of(int count, const std::function<std::string(int)>& item) {
  std::string text;
  for (int i = 0; i < count; ++i) text += (i ? "," : "") + item(i);
  return "[" + text + "]";
}

// A room of 6 by 4 m with whatever else is said of it.
std::string room_text(const std::string& more, const std::string& id = "R") {
  return R"({"id":")" + id +
         R"(","corners":[{"id":"A"},{"id":"B"},{"id":"C"},{"id":"D"}],"walls":[)"
         R"({"id":"W","from":"A","to":"B","lengths":[{"height":900,"length":6000}]},)"
         R"({"id":"X","from":"B","to":"C","lengths":[{"height":900,"length":4000}]},)"
         R"({"id":"Y","from":"C","to":"D","lengths":[{"height":900,"length":6000}]},)"
         R"({"id":"Z","from":"D","to":"A","lengths":[{"height":900,"length":4000}]}])" +
         more + "}";
}

std::string survey_text(const std::string& rooms, const std::string& more = "") {
  return R"({"format":"levelrun-survey","version":1,"job":{"reference":"H"},)"
         R"("furniture":{"legs":[{"id":"M","min":90,"max":220}]})" +
         more + R"(,"rooms":[)" + rooms + "]}";
}

std::string one_room(const std::string& more) { return survey_text(room_text("," + more)); }

// `points` floor points spread or all in one spot, read in turn from `setups`.
std::string levels(int readings, int setups, bool one_spot = false) {
  std::string points = R"({"id":"BM","off_floor":true})";
  std::vector<std::string> staff(std::size_t(setups), R"({"point":"BM","staff":1000})");
  for (int i = 0; i < readings; ++i) {
    const std::string id = "P" + number(one_spot ? 0 : i);
    if (!one_spot || i == 0)
      points += R"(,{"id":")" + id + R"(","place":{"x":)" + number(i * 37 % 6000) + R"(,"y":-)" +
                number(i * 53 % 4000) + "}}";
    staff[std::size_t(i % setups)] +=
        R"(,{"point":")" + id + R"(","staff":)" + number(1200 + i * 7 % 23) + "}";
  }
  return R"("levels":{"benchmark":{"point":"BM"},"points":[)" + points + R"(],"setups":)" +
         list_of(setups,
                 [&](int s) {
                   return R"({"id":"S)" + number(s) + R"(","readings":[)" + staff[std::size_t(s)] +
                          "]}";
                 }) +
         "}";
}

// On a wall if it fits there, else free-standing runs one behind the other.
std::string runs(int count, int units, const char* unit, int first = 0) {
  return R"("runs":)" + list_of(count, [&](int r) {
           return R"({"id":"N)" + number(first + r) + R"(","origin":{"x":300,"y":-)" +
                  number(300 + 30 * r) + R"(},"bearing":0,"units":)" +
                  list_of(units,
                          [&](int u) {
                            return R"({"id":"U)" + number((first + r) * units + u) + "\"," + unit +
                                   "}";
                          }) +
                  "}";
         });
}

std::string openings(int count) {
  return R"("openings":)" + list_of(count, [](int i) {
           return R"({"id":"O)" + number(i) + R"(","wall":"W","left":)" + number(i * 7) +
                  R"(,"width":900,"height":2000})";
         });
}

std::string services(int count) {
  return R"("services":)" + list_of(count, [](int i) {
           return R"({"id":"V)" + number(i) + R"(","kind":")" + (i % 2 ? "gas" : "socket") +
                  R"(","wall":"W","along":)" + number(i * 11) + R"(,"height":300})";
         });
}

std::string areas(int count, int places) {
  return R"("floor_areas":)" + list_of(count, [&](int i) {
           return R"({"id":"F)" + number(i) + R"(","outline":)" +
                  list_of(places,
                          [&](int k) {
                            const double turn = 6.283185307179586 * k / places;
                            return R"({"x":)" + number(int(200 * i + 90 * std::cos(turn))) +
                                   R"(,"y":)" + number(int(-2000 + 1900 * std::sin(turn))) + "}";
                          }) +
                  "}";
         });
}

std::string corners(int count) {
  std::string corner, wall;
  for (int i = 0; i < count; ++i) {
    // Fingers: out, over, back, on; and the long way home.
    const bool end = i < 2 || i + 2 > count;
    const bool inner = !end && (i % 4 == 0 || i % 4 == 3);
    corner += (i ? "," : "") + (R"({"id":"C)" + number(i) + R"(","angle":)") +
              (inner ? "270" : "90") + "}";
    wall += (i ? "," : "") + (R"({"id":"W)" + number(i) + R"(","from":"C)" + number(i)) +
            R"(","to":"C)" + number((i + 1) % count) +
            R"(","lengths":[{"height":900,"length":1001}]})";
  }
  return survey_text(R"({"id":"R","corners":[)" + corner + R"(],"walls":[)" + wall + "]}");
}

std::string rooms(int count, const std::string& more) {
  std::string text;
  for (int i = 0; i < count; ++i) text += (i ? "," : "") + room_text("," + more, "R" + number(i));
  return survey_text(text);
}

const char *const cupboard = R"("width":600)", *const hob = R"("width":600,"houses":"hob")";

struct Case {
  const char* name;
  bool accepted;
  std::function<std::string()> text;
};

const std::vector<Case>& cases() {
  static const std::vector<Case> all{
      {"nested 8 million deep", false, [] { return std::string(8'000'000, '['); }},
      {"nested objects", false,
       [] {
         std::string text;
         while (text.size() < 8'000'000) text += R"({"a":)";
         return text;
       }},
      {"5 million numbers in a list", false,
       [] {
         return survey_text(room_text("," + std::string(R"("x":[1)") + [] {
           std::string more;
           for (int i = 0; i < 5'000'000; ++i) more += ",1";
           return more;
         }() + "]"));
       }},
      {"a text of 15 MB", true,
       [] { return one_room(R"("name":")" + std::string(15'000'000, 'x') + "\""); }},
      {"an id of 15 MB", false,
       [] { return survey_text(room_text("", std::string(15'000'000, 'x'))); }},
      {"17 MB", false, [] { return std::string(17 << 20, ' '); }},
      {"one key 500,000 times", false,
       [] {
         std::string text = "{";
         for (int i = 0; i < 500'000; ++i) text += R"("format":1,)";
         return text + R"("a":1})";
       }},
      {"300,000 unknown keys", true,
       [] {
         std::string text;
         for (int i = 0; i < 300'000; ++i) text += R"(,"u)" + number(i) + R"(":1)";
         return survey_text("", text);
       }},
      {"200,000 problems", false,
       [] { return one_room(R"("openings":)" + list_of(200'000, [](int) { return "1"; })); }},
      {"a number of 1 MB digits", false,
       [] { return one_room(R"("name":)" + std::string(1 << 20, '9')); }},
      {"a million readings", false,
       [] {
         return one_room(R"("levels":{"setups":[{"id":"S","readings":)" +
                         list_of(1'000'000, [](int) { return "{}"; }) + "}]}");
       }},
      {"19,000 readings", true,
       [] { return one_room(levels(19'000, 1) + "," + runs(1, 9, cupboard)); }},
      {"19,000 readings of one point", true,
       [] { return one_room(levels(19'000, 1, true) + "," + runs(1, 9, cupboard)); }},
      {"200 set-ups", true,
       [] { return one_room(levels(2000, 200) + "," + runs(1, 9, cupboard)); }},
      {"500 set-ups in 3 rooms", true,
       [] {
         return survey_text(room_text("," + levels(400, 200), "A") + "," +
                            room_text("," + levels(400, 200), "B") + "," +
                            room_text("," + levels(400, 100), "C"));
       }},
      {"500 set-ups in a room", false, [] { return one_room(levels(2000, 500)); }},
      {"2,000 units", true,
       [] { return one_room(levels(200, 2) + "," + runs(100, 20, cupboard)); }},
      {"2,000 hobs", true, [] { return one_room(levels(200, 2) + "," + runs(100, 20, hob)); }},
      {"2,000 units of 50 mm in one run", true,
       [] { return one_room(levels(200, 2) + "," + runs(1, 2000, R"("width":50)")); }},
      {"10,000 units in a room", false, [] { return one_room(runs(100, 100, cupboard)); }},
      {"runs of 100 m, plinth boards of 1 mm", true,
       [] {
         return survey_text(room_text("," + levels(50, 1) + "," + runs(5, 1, R"("width":100000)")),
                            "");
       }},
      {"a run of a kilometre", false, [] { return one_room(runs(1, 10, R"("width":100000)")); }},
      {"100 openings over each other", true, [] { return one_room(openings(100)); }},
      {"1,000 openings", false, [] { return one_room(openings(1000)); }},
      {"500 openings in 5 rooms", true, [] { return rooms(5, openings(100)); }},
      {"300 gas pipes and sockets", true,
       [] { return one_room(levels(50, 1) + "," + runs(1, 9, cupboard) + "," + services(300)); }},
      {"900 in 3 rooms", true, [] { return rooms(3, services(300)); }},
      {"20 floor areas of 100 places", true,
       [] {
         return one_room(levels(500, 2) + "," + runs(100, 20, cupboard) + "," + areas(20, 100));
       }},
      {"1,000 corners", true, [] { return corners(1000); }},
      {"100 rooms, all that they may hold", true, [] {
         std::string text;
         for (int i = 0; i < 100; ++i)
           text += (i ? "," : "") +
                   room_text("," + levels(490, 5) + "," + openings(5) + "," + services(10) + "," +
                                 runs(5, 20, cupboard) + "," + areas(20, 20),
                             "R" + number(i));
         return survey_text(text);
       }}};
  return all;
}

enum Outcome { solved = 0, refused = 10, no_reason = 11 };

int use(const std::string& text) {
  const auto read = read_survey(text);
  if (!read.ok()) return read.problems().empty() ? no_reason : refused;
  const std::string results = results_json(solve(read.value().survey));
  return results.empty() ? no_reason : solved;
}

}  // namespace

int main(int words, char** word) {
  const rlim_t seconds = rlim_t(words > 1 ? std::atoi(word[1]) : 30);
  const rlim_t megabytes = rlim_t(words > 2 ? std::atoi(word[2]) : 1500);
  int failed = 0;
  for (const Case& one : cases()) {
    const std::string text = one.text();
    std::fflush(stdout);
    const pid_t child = fork();
    if (child < 0) return 1;
    if (child == 0) {
      const rlimit time{seconds, seconds + 1}, memory{megabytes << 20, megabytes << 20};
      setrlimit(RLIMIT_CPU, &time);
      setrlimit(RLIMIT_AS, &memory);
      _exit(use(text));
    }
    int status = 0;
    rusage used{};
    wait4(child, &status, 0, &used);
    const double took = double(used.ru_utime.tv_sec) + double(used.ru_utime.tv_usec) / 1e6;
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    const bool good = code == (one.accepted ? solved : refused);
    failed += !good;
    std::printf("%-40s %8.1f kB  %-8s %6.2f s %7.1f MB%s\n", one.name, double(text.size()) / 1024,
                code == solved    ? "solved"
                : code == refused ? "refused"
                                  : "ENDED",
                took, double(used.ru_maxrss) / 1024, good ? "" : "   NOT AS EXPECTED");
  }
  return failed == 0 ? 0 : 1;
}
