// What a frame costs, an edit from the tap to the results, and an idle minute; printed, never timed
// as a test.
#include <chrono>
#include <cstdio>
#include <iterator>

#include "tests/screens/driven_app.h"

using namespace levelrun;

namespace {

double milliseconds(const std::function<void()>& deed, int times) {
  const auto begin = std::chrono::steady_clock::now();
  for (int i = 0; i < times; ++i) deed();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin)
             .count() /
         times;
}

}  // namespace

int main() {
  const char* pages[] = {"jobs",    "settings", "job",      "walk",     "levels",
                         "walls",   "runs",     "findings", "release",  "arrival",
                         "setting", "legs",     "plinths",  "hand-over"};
  static_assert(std::size(pages) == std::size_t(last_page) + 1);
  double worst = 0;
  for (const auto& [w, h] :
       {std::pair{390.f, 844.f}, std::pair{1280.f, 800.f}, std::pair{1920.f, 1080.f}}) {
    DrivenApp d(w, h);
    if (!d.open(file_text(std::string(SAMPLES) + "/u-shape-island.levelrun.json"))) return 1;
    for (int page = int(Page::job); page <= int(last_page); ++page) {
      d.show(Page(page));
      const double cost = milliseconds([&] { d.window.frame(d.app); }, 100);
      worst = std::max(worst, cost);
      std::printf("%5.0f x %4.0f  %-9s %6.3f ms a frame\n", double(w), double(h), pages[page],
                  cost);
    }
  }
  std::printf("dearest frame %.3f ms (at most 2: %s)\n", worst, worst <= 2 ? "met" : "not met");
  DrivenApp d;
  d.open(file_text(std::string(SAMPLES) + "/u-shape-island.levelrun.json"));
  int n = 0;
  const double edit = milliseconds(
      [&] {
        d.app.session()->apply(Json::array({{{"op", "replace"},
                                             {"path", "/rooms/0/walls/0/lengths/0/length"},
                                             {"value", 3600 + ++n % 2}}}),
                               "length");
        d.window.frame(d.app);
      },
      50);
  std::printf("an edit, safe on disk, solved and drawn: %.2f ms\n", edit);
  int frames = 0;
  for (; frames < 100 && d.app.wants_frame(); ++frames) d.window.frame(d.app);
  std::printf("frames wanted while nothing happens: %s\n", d.app.wants_frame() ? "some" : "none");
}
