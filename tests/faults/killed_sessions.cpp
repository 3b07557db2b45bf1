// A session that is killed at a random instant, again and again: every edit that was confirmed is
// there when the job is opened, and the clock may jump as it likes.
//
// A child books readings, undoes, redoes and saves on the real disk; before each deed it tells what
// the survey will be, after it that it was done. The parent ends it with SIGKILL, opens the job and
// compares. Every so often a new job is begun, and what was undone to the last is the first survey.
//
//   killed_sessions [times] [seed]
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "survey/crc32.h"
#include "survey/json_patch.h"
#include "survey/open_job.h"
#include "tests/simulate/random.h"
#include "tests/unit/survey_texts.h"

using namespace levelrun;

namespace {

constexpr int killed_a_job = 20;        // times before a new one is begun
constexpr double longest_life = 12000;  // µs, opening included

struct Told {  // through the pipe, whole or not at all
  std::uint32_t crc = 0;
  bool done = false;
};

std::uint32_t state_of(const Json& document) { return crc32(write_survey(document)); }

By by(Random& random) {  // a clock that stands, jumps back and forth
  const auto year = [&] { return std::to_string(1970 + random.below(120)); };
  return {"t.v.", year() + "-03-12T14:32:08+00:00"};
}

void tell(int pipe, std::uint32_t crc, bool done) {
  const Told told{crc, done};
  if (write(pipe, &told, sizeof told) != sizeof told) _exit(3);
}

// Books until it is killed. Never returns.
[[noreturn]] void session(const std::string& path, int pipe, std::uint64_t seed) {
  Random random(seed);
  DiskFiles files;
  auto opened = open_job(path, journal_path_beside(path), files);
  if (!opened.ok() || !opened.value().only_looks().empty()) _exit(4);
  EditedJob& job = opened.value();
  tell(pipe, state_of(job.document()), true);
  std::vector<std::uint32_t> states{state_of(job.document())};  // of this session; now is the last
  for (;;) {
    const std::size_t deed = random.below(12);
    if (deed == 0) {
      tell(pipe, states.back(), false);
      if (!job.save_snapshot(by(random)).empty()) _exit(5);
    } else if (deed <= 2 && states.size() > 1) {
      const std::uint32_t undone = states.back();
      states.pop_back();
      tell(pipe, states.back(), false);
      if (!job.undo(by(random)).empty()) _exit(6);
      tell(pipe, states.back(), true);
      if (random.below(2) == 0) continue;
      tell(pipe, undone, false);
      if (!job.redo(by(random)).empty()) _exit(7);
      states.push_back(undone);
    } else {
      const double staff = std::floor(random.uniform(900, 1500));
      const Json patch =
          Json::array({{{"op", "replace"},
                        {"path", "/rooms/0/levels/setups/0/readings/" +
                                     std::to_string(random.below(2)) + "/staff"},
                        {"value", staff}},
                       {{"op", "add"}, {"path", "/job/notes"}, {"value", std::to_string(staff)}}});
      Json next = job.document();
      if (!apply_patch(next, patch).empty()) _exit(8);
      states.push_back(state_of(next));
      tell(pipe, states.back(), false);
      if (!job.apply(patch, "staff", by(random)).empty()) _exit(9);
    }
    tell(pipe, states.back(), true);
  }
}

struct Round {
  int deeds = 0;  // confirmed
  bool good = false;
};

// One life and death; `state`: as the last round left the job.
Round kill_once(const std::string& path, std::uint32_t& state, Random& random) {
  int ends[2];
  if (pipe(ends) != 0) std::exit(1);
  const pid_t child = fork();
  if (child < 0) std::exit(1);
  if (child == 0) {
    close(ends[0]);
    session(path, ends[1], std::uint64_t(random.uniform(0, 1e15)));
  }
  close(ends[1]);
  usleep(useconds_t(random.uniform(0, longest_life)));
  kill(child, SIGKILL);
  int status = 0;
  waitpid(child, &status, 0);

  Round round;
  std::set<std::uint32_t> may_be{state};
  for (Told told; read(ends[0], &told, sizeof told) == sizeof told;) {
    if (told.done) may_be.clear();
    may_be.insert(told.crc);
    round.deeds += told.done;
  }
  close(ends[0]);
  if (!WIFSIGNALED(status)) {
    std::printf("the session ended by itself: %d\n", WEXITSTATUS(status));
    return round;
  }
  DiskFiles files;
  auto again = open_job(path, journal_path_beside(path), files);
  if (!again.ok() || !again.value().only_looks().empty()) return round;
  state = state_of(again.value().document());
  round.good = may_be.count(state) > 0;
  return round;
}

// Everything ever done to the job can be taken back.
bool undone_to_the_first(const std::string& path, std::uint32_t first, Random& random) {
  DiskFiles files;
  auto job = open_job(path, journal_path_beside(path), files);
  if (!job.ok()) return false;
  while (job.value().undo_says())
    if (!job.value().undo(by(random)).empty()) return false;
  return state_of(job.value().document()) == first;
}

}  // namespace

int main(int words, char** word) {
  const int times = words > 1 ? std::atoi(word[1]) : 1000;
  const std::uint64_t seed = words > 2 ? std::strtoull(word[2], nullptr, 10) : 1;
  Random random(seed);
  std::string folder = (std::filesystem::temp_directory_path() / "levelrun-XXXXXX").string();
  if (!mkdtemp(folder.data())) return 1;

  const std::uint32_t first = state_of(document_of(small_job));
  std::uint32_t state = first;
  std::string path;
  int lost = 0, deeds = 0, jobs = 0;
  const auto finish = [&] { lost += !path.empty() && !undone_to_the_first(path, first, random); };
  for (int i = 0; i < times; ++i) {
    if (i % killed_a_job == 0) {
      finish();
      path = folder + "/job-" + std::to_string(++jobs) + ".levelrun.json";
      std::ofstream(path) << small_job;
      state = first;
    }
    const Round round = kill_once(path, state, random);
    deeds += round.deeds;
    if (round.good) continue;
    ++lost;
    std::printf("lost in %s at kill %d\n", path.c_str(), i + 1);
  }
  finish();
  std::printf("killed %d times in %d jobs after %d confirmed deeds: %d lost\n", times, jobs, deeds,
              lost);
  if (lost == 0) std::filesystem::remove_all(folder);
  return lost == 0 && deeds > times ? 0 : 1;
}
