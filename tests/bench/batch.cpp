// A thousand surveys read, solved and written on two threads: seconds, and whether memory stays
// flat. Surveys are made beforehand, each of its own seed, into a folder of its own.
//
//   bench_batch [count]
#include <sys/resource.h>

#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>
#include <vector>

#include "checks/results_json.h"
#include "checks/solve.h"
#include "survey/survey_file.h"
#include "tests/bench/kitchen.h"

using namespace levelrun;

namespace {

long peak_kilobytes() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

}  // namespace

int main(int words, char** word) {
  const int count = words > 1 ? std::atoi(word[1]) : 1000;
  const auto folder = std::filesystem::temp_directory_path() /
                      ("levelrun-batch-" + std::to_string(std::random_device{}()));
  std::filesystem::create_directory(folder);
  const auto file = [&](int i, const char* ending) {
    return (folder / (std::to_string(i) + ending)).string();
  };
  for (int i = 0; i < count; ++i)
    std::ofstream(file(i, ".levelrun.json")) << kitchen_text({}, std::uint64_t(i) + 1);

  std::atomic<int> next{0}, failed{0};
  std::vector<std::pair<int, long>> peaks;  // only the first thread writes
  const auto start = std::chrono::steady_clock::now();
  const auto work = [&](bool first) {
    for (int i; (i = next++) < count;) {
      const auto survey = load_survey(file(i, ".levelrun.json"));
      if (!survey.ok() ||
          !save_text(file(i, ".results.json"), results_json(solve(survey.value().survey))).empty())
        ++failed;
      if (first && (peaks.empty() || i >= 2 * peaks.back().first))
        peaks.push_back({i + 1, peak_kilobytes()});
    }
  };
  std::thread other(work, false);
  work(true);
  other.join();
  const double seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  peaks.push_back({count, peak_kilobytes()});
  std::filesystem::remove_all(folder);

  std::printf("%d surveys read, solved, written on 2 threads: %.2f s (%d failed)\n", count, seconds,
              failed.load());
  for (const auto& [done, kilobytes] : peaks)
    if (done >= count / 10 || done == count)
      std::printf("  peak memory after %4d: %.1f MB\n", done, double(kilobytes) / 1024);
  return failed == 0 ? 0 : 1;
}
