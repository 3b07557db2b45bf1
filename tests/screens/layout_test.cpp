#include <doctest/doctest.h>

#include <random>

#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

std::string sample(const std::string& name) {
  return file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json");
}

// Words of ours (not of the job): they must never be cut.
const char* const our_words[] = {"Book", "Skip",    "Can’t reach", "Undo",  "Levels", "Walls",
                                 "Runs", "Release", "Findings",    "Paper", "Dark",   "Sun"};

}  // namespace

// WCAG 2.1, 1.4.6 (7 : 1 for text) and 1.4.11 (3 : 1 for lines), from memory; our own floors
// beyond.
TEST_CASE("inks can be read on the sheet and on the wash") {
  for (const InkSet set : {InkSet::paper, InkSet::dark, InkSet::sun}) {
    CAPTURE(word(set));
    const Rgb sheet = rgb(set, Ink::sheet);
    CHECK(contrast(rgb(set, Ink::ink), sheet) >= 14);
    CHECK(contrast(rgb(set, Ink::soft), sheet) >= 7);
    CHECK(contrast(rgb(set, Ink::blue), sheet) >= 6.9);
    CHECK(contrast(rgb(set, Ink::crayon), sheet) >= (set == InkSet::sun ? 7.6 : 5.35));
    CHECK(contrast(rgb(set, Ink::rule), sheet) >= 3.4);
    CHECK(contrast(rgb(set, Ink::crayon), rgb(set, Ink::wash)) >= 4.4);
    CHECK(contrast(rgb(set, Ink::ink), rgb(set, Ink::wash)) >= 7);
  }
}

TEST_CASE("every page at every size: nothing of ours is cut, targets are large and on the screen") {
  for (const ScreenSize& size : screen_sizes)
    for (const float text : {1.f, 1.5f, 2.f}) {
      DrivenApp d(size.w, size.h, text);
      REQUIRE(d.open(sample("full-of-trouble")));
      for (int page = 0; page <= int(Page::release); ++page) {
        if (Page(page) == Page::jobs) continue;
        d.show(Page(page));
        CAPTURE(size.name);
        CAPTURE(text);
        CAPTURE(page);
        for (const std::string& cut : d.app.touch().cut())
          for (const char* ours : our_words) CHECK(cut != ours);
        for (const Touch::Target& t : d.app.touch().targets()) {
          CAPTURE(t.label);
          CHECK(t.box.x >= -1);
          CHECK(t.box.right() <= size.w + 1);
          CHECK(t.box.y >= -1);
          CHECK(t.box.bottom() <= size.h + 1);
        }
      }
    }
}

TEST_CASE("random taps, drags and keys break nothing, and what is on the screen is on the disk") {
  std::mt19937 lot(20261125);
  for (const ScreenSize& size : screen_sizes) {
    DrivenApp d(size.w, size.h);
    REQUIRE(d.open(sample("u-shape-island")));
    const char keys[] = "0123456789.,+-/\"'m \n";
    for (int n = 0; n < RANDOM_TAPS; ++n) {
      const auto& targets = d.app.touch().targets();
      const auto spot = [&] {
        return Spot{float(lot() % unsigned(size.w)), float(lot() % unsigned(size.h))};
      };
      switch (lot() % 8) {
        case 0:
          d.window.tap_at(d.app, spot());
          break;
        case 1:
          d.window.drag(d.app, spot(), spot());
          break;
        case 2:
          d.window.type(d.app, std::string(1, keys[lot() % (sizeof keys - 1)]));
          break;
        case 3:
          if (lot() % 20 == 0)
            d.window.resize(lot() % 2 ? size.w : size.h, lot() % 2 ? size.h : size.w);
          break;
        default:
          if (!targets.empty())
            d.window.tap_at(d.app, targets[lot() % targets.size()].box.middle());
      }
      d.window.frame(d.app);
      if (!d.app.session() && lot() % 4 == 0) d.app.open(d.path);
    }
    d.app.close();
    CHECK(read_survey(file_text(d.path)).ok());
  }
}
