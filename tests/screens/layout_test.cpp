#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

std::string sample(const std::string& name) {
  return file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json");
}

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

// Machado, Oliveira and Fernandes, A Physiologically-based Model for Simulation of Color Vision
// Deficiency (2009), severity 1.0, on linear RGB: its published matrices, from memory. Lab by CIE
// 15 with D65 and sRGB's primaries (IEC 61966-2-1), difference by CIE 1976.
TEST_CASE("ink, blue and crayon stay apart for the red-, green- and blue-blind") {
  using Matrix = std::array<std::array<double, 3>, 3>;
  const std::pair<const char*, Matrix> eyes[] = {
      {"full colour", {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}},
      {"red-blind",
       {{{0.152286, 1.052583, -0.204868},
         {0.114503, 0.786281, 0.099216},
         {-0.003882, -0.048116, 1.051998}}}},
      {"green-blind",
       {{{0.367322, 0.860646, -0.227968},
         {0.280085, 0.672501, 0.047413},
         {-0.011820, 0.042940, 0.968881}}}},
      {"blue-blind",
       {{{1.255528, -0.076749, -0.178779},
         {-0.078411, 0.930809, 0.147602},
         {0.004733, 0.691367, 0.303900}}}},
  };
  const Matrix xyz = {{{0.4124564, 0.3575761, 0.1804375},
                       {0.2126729, 0.7151522, 0.0721750},
                       {0.0193339, 0.1191920, 0.9503041}}};
  const auto times = [](const Matrix& m, const std::array<double, 3>& v) {
    std::array<double, 3> out{};
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j) out[i] += m[i][j] * v[j];
    return out;
  };
  const auto lab = [&](Rgb colour, const Matrix& eye) {
    const auto linear = [](int channel) {
      const double c = channel / 255.0;
      return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    auto seen = times(eye, {linear(colour.r), linear(colour.g), linear(colour.b)});
    for (double& c : seen) c = std::clamp(c, 0.0, 1.0);
    auto f = times(xyz, seen);
    const double white[] = {0.95047, 1, 1.08883};
    for (std::size_t i = 0; i < 3; ++i) {
      const double t = f[i] / white[i];
      f[i] = t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116;
    }
    return std::array<double, 3>{116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])};
  };
  for (const InkSet set : {InkSet::paper, InkSet::dark, InkSet::sun})
    for (const auto& [eye, matrix] : eyes) {
      CAPTURE(word(set));
      CAPTURE(eye);
      const std::pair<Ink, Ink> pairs[] = {
          {Ink::ink, Ink::blue}, {Ink::ink, Ink::crayon}, {Ink::blue, Ink::crayon}};
      for (const auto& [one, other] : pairs) {
        const auto a = lab(rgb(set, one), matrix), b = lab(rgb(set, other), matrix);
        CHECK(std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) >= 30);
      }
    }
}

TEST_CASE("every page of every sample at every size: no word is cut, targets are on the screen") {
  for (const ScreenSize& size : screen_sizes)
    for (const auto& [text, name] :
         {std::pair(1.f, "full-of-trouble"), std::pair(1.f, "knocked-through"),
          std::pair(1.5f, "u-shape-island"), std::pair(2.f, "small-l-kitchen"),
          std::pair(2.f, "full-of-trouble"), std::pair(2.f, "knocked-through"),
          std::pair(2.f, "u-shape-island")}) {
      DrivenApp d(size.w, size.h, text);
      REQUIRE(d.open(sample(name)));
      for (int page = 0; page <= int(last_page); ++page) {
        if (Page(page) == Page::jobs) continue;
        d.show(Page(page));
        CAPTURE(size.name);
        CAPTURE(text);
        CAPTURE(page);
        CAPTURE(name);
        std::string cut;
        for (const std::string& words : d.app.touch().cut()) cut += words + "; ";
        CHECK(cut == "");
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
