// A picture of every page at every size: screenshots FOLDER. Paper at all sizes; Dark, Sun and
// large text on the phone and the tablet.
#include <cstdio>

#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

int main(int argc, char** argv) {
  if (argc != 2) return std::fputs("usage: screenshots FOLDER\n", stderr), 2;
  const std::string out = argv[1];
  std::filesystem::create_directories(out);
  const char* pages[] = {"jobs", "settings", "job",     "walk",    "levels", "walls",
                         "runs", "findings", "release", "arrival", "legs",   "plinths"};
  int pictures = 0;
  const auto take = [&](const ScreenSize& size, float text, InkSet inks, const std::string& kind) {
    DrivenApp d(size.w, size.h, text, inks);
    for (const char* name :
         {"small-l-kitchen", "knocked-through", "u-shape-island", "full-of-trouble"})
      d.open(file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json"),
             std::string(name) + ".levelrun.json");
    for (int page = int(Page::settings); page <= int(last_page) + 1; ++page) {
      const bool index = page > int(last_page);
      if (page == int(first_of_day)) d.app.open(d.folder + "/small-l-kitchen.levelrun.json");
      if (index)
        d.app.close();
      else
        d.show(Page(page));
      if (page == int(Page::walk)) {  // measured again, and wrong
        for (const char* key : {"3", "6", "9", "1"}) d.tap(key);
      }
      if (page == int(Page::arrival)) d.window.type(d.app, "17\n180");
      if (page == int(Page::legs))
        for (int n = 0; n < 5; ++n) d.tap("Set");
      if (page == int(Page::plinths)) {
        d.tap("Cut");
        if (kind != "-large") d.tap("Piece S front 1");
      }
      d.window.settle(d.app);
      const std::string name =
          std::string(pages[index ? 0 : page]) + "-" + size.name + kind + ".png";
      if (!write_png(d.window.picture(d.app), out + "/" + name)) return false;
      ++pictures;
    }
    return true;
  };
  for (const ScreenSize& size : screen_sizes)
    if (!take(size, 1, InkSet::paper, "")) return 1;
  for (const ScreenSize& size : {screen_sizes[0], screen_sizes[2]}) {
    if (!take(size, 1, InkSet::dark, "-dark") || !take(size, 1, InkSet::sun, "-sun") ||
        !take(size, 2, InkSet::paper, "-large"))
      return 1;
  }
  std::printf("%d pictures in %s\n", pictures, out.c_str());
}
