#include "app/drawing/svg.h"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <string>

#include "app/drawing/contours.h"
#include "app/drawing/floor_drawing.h"
#include "app/drawing/print_scale.h"

using namespace levelrun;

namespace {

HeightGrid grid_of(double step, std::size_t n, const std::function<double(PlanPoint)>& height) {
  HeightGrid g;
  g.x = -step * double(n - 1) / 2;
  g.y = g.x;
  g.step = step;
  g.nx = g.ny = n;
  for (std::size_t k = 0; k < n; ++k)
    for (std::size_t i = 0; i < n; ++i) g.height.push_back(height(g.at(i, k)));
  g.sd.resize(n * n);
  return g;
}

std::string svg_of(Primitive primitive) {
  Drawing drawing;
  drawing.primitives.push_back(std::move(primitive));
  return svg_text(drawing, {{0, 0, 160, 160}, "A & B", ""});
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("contours of a plane are its straight lines of equal height") {
  // 3 mm/m along x, 4 along y: a fall of 5 mm/m; every point of a contour is exactly on its level.
  const auto plane = [](PlanPoint p) { return 0.003 * p.x + 0.004 * p.y + 0.25; };
  const auto lines = contours(grid_of(100, 31, plane), 1);
  REQUIRE(lines.size() == 21);  // -10.25 to 10.75: −10 … 10
  for (const Contour& line : lines)
    for (const PlanPoint& p : line.points) CHECK(std::abs(plane(p) - line.height) < 1e-9);
}

TEST_CASE(
    "contours of a hollow are rings, off its circles by no more than the grid's straightness") {
  // z = r²/k: between grid points a straight line lies above it by up to h²/(4k), which is a radius
  // smaller by that over the slope 2r/k.
  const double k = 1e5, h = 100;
  const auto lines =
      contours(grid_of(h, 41, [&](PlanPoint p) { return (p.x * p.x + p.y * p.y) / k; }), 5);
  int rings = 0;
  for (const Contour& line : lines) {
    const double r = std::sqrt(line.height * k);
    if (r == 0 || r > 1990) continue;
    ++rings;
    CHECK(line.points.front().x == line.points.back().x);
    CHECK(line.points.front().y == line.points.back().y);
    for (const PlanPoint& p : line.points) {
      const double away = std::hypot(p.x, p.y) - r;
      CHECK(away < 1e-6);
      CHECK(away > -(h * h / (4 * k)) / (2 * r / k) * 1.2);
    }
  }
  CHECK(rings == 7);  // 5, 10 … 35
}

TEST_CASE("no contour crosses from one floor area to another") {
  // A plane falling 5 mm/m along x, and 40 higher from x = 0 on: without areas, a cliff of
  // contours.
  HeightGrid g = grid_of(100, 31, [](PlanPoint p) { return 0.005 * p.x + (p.x < 0 ? 0 : 40); });
  const auto in_the_gap = [](const std::vector<Contour>& lines) {
    int n = 0;
    for (const Contour& line : lines)
      for (const PlanPoint& p : line.points) n += p.x > -100 && p.x < 0;
    return n;
  };
  CHECK(in_the_gap(contours(g, 1)) > 1000);
  CHECK(contour_interval(g, 100) == 1);
  for (std::size_t k = 0; k < g.ny; ++k)
    for (std::size_t i = 0; i < g.nx; ++i) g.area.push_back(g.at(i, k).x < 0 ? 0 : 1);
  const auto lines = contours(g, 1);
  CHECK(in_the_gap(lines) == 0);
  for (const Contour& line : lines)
    for (const PlanPoint& p : line.points)
      CHECK(std::abs(0.005 * p.x + (p.x < 0 ? 0 : 40) - line.height) < 1e-9);
  CHECK(lines.size() == 14);  // −7 to −1 and 41 to 47: 0 lies in the gap, 40 at the edge itself
}

TEST_CASE("where contours would run into a black band the finer ones are left out") {
  // At 0.1 dp a mm: 2 mm/m are 50 dp between contours at 1 mm; 60 mm/m are 1.7, and 8 between
  // fives.
  RoomToDraw room;
  room.corners = {{-1500, -1500}, {-1500, 1500}, {1500, 1500}, {1500, -1500}};
  room.floor = grid_of(
      100, 31, [](PlanPoint p) { return p.x < 1200 ? 0.002 * p.x : 2.4 + 0.06 * (p.x - 1200); });
  Drawing drawing;
  DrawingView view;
  view.box = {0, 0, 400, 400};
  view.scale = 0.1;
  DrawingPen pen(drawing, view, 1);
  floor_drawing(pen, room, 2, '.');
  int thin_on_slope = 0, thin = 0, bold_on_slope = 0;
  for (const Primitive& p : drawing.primitives)
    if (const auto* stroke = std::get_if<Stroke>(&p)) {
      const bool on_slope = stroke->points.front().x > view.at(1200, 0).x + 1;
      const bool is_thin = stroke->width == LineWidth::thin;
      thin += is_thin && !on_slope;
      thin_on_slope += is_thin && on_slope;
      bold_on_slope += !is_thin && on_slope;
    }
  CHECK(thin >= 4);
  CHECK(thin_on_slope == 0);
  CHECK(bold_on_slope >= 3);  // 5, 10, 15, 20
}

TEST_CASE("a dp is 1/160 inch of paper, and lines are 0.7, 0.35 and 0.18 mm wide") {
  const std::string line =
      svg_of(Stroke{{{0, 0}, {160, 80}}, Ink::ink, LineWidth::face, Dash::solid, false});
  CHECK(holds(line, "width=\"25.4mm\" height=\"25.4mm\" viewBox=\"0 0 25.4 25.4\""));
  CHECK(holds(line, "points=\"0,0 25.4,12.7\""));
  CHECK(holds(line, "stroke-width=\"0.7\""));
  CHECK(holds(svg_of(Stroke{{{0, 0}, {1, 0}}, Ink::crayon, LineWidth::outline}),
              "stroke=\"#000\" stroke-width=\"0.35\""));
  CHECK(holds(svg_of(Stroke{{{0, 0}, {1, 0}}, Ink::rule, LineWidth::thin}), "\"0.18\""));
  // 1,000 mm at 1 : 20 are 50 mm of paper.
  CHECK(1000 * print_scale(20) * dp_in_mm == doctest::Approx(50));
  CHECK(print_ratio(print_scale(20)) == 20);
  CHECK(print_ratio(print_scale(20) * 0.99) == 25);
  CHECK(print_ratio(0) == 1000);
}

TEST_CASE("whatever the words hold, the text is well-formed") {
  CHECK(xml_text("<a href='x'>&\"") == "&lt;a href=&#39;x&#39;&gt;&amp;&quot;");
  CHECK(xml_text("2 × 3 – Κουζίνα 台所") == "2 × 3 – Κουζίνα 台所");
  const std::string instead = "\xEF\xBF\xBD";
  CHECK(xml_text(std::string("a\x01") + "b") == "a" + instead + "b");
  CHECK(xml_text(std::string(1, '\0')) == instead);
  CHECK(xml_text("a\xFF"
                 "b") == "a" + instead + "b");
  CHECK(xml_text("\xED\xA0\x80") == instead + instead + instead);  // a surrogate
  CHECK(xml_text("\xEF\xBF\xBF") == instead);                      // U+FFFF
  CHECK(xml_text("\xE2\x82") == instead + instead);                // cut off
  const std::string lettering = svg_of(Lettering{"</text><script>", {80, 80}});
  CHECK(holds(lettering, ">&lt;/text&gt;&lt;script&gt;</text>"));
  CHECK_FALSE(holds(lettering, "<script"));
  CHECK(holds(lettering, "<title>A &amp; B</title>"));
}

TEST_CASE("what is nowhere is left out, the rest stays") {
  const float nowhere = std::nanf("");
  CHECK_FALSE(holds(svg_of(Stroke{{{0, 0}, {nowhere, 1}}}), "polyline"));
  CHECK_FALSE(holds(svg_of(Disc{{0, INFINITY}, 2}), "circle"));
  CHECK_FALSE(holds(svg_of(Lettering{"x", {nowhere, 0}}), "<text"));
  CHECK(holds(svg_of(Disc{{16, 16}, 16}), "<circle cx=\"2.54\" cy=\"2.54\" r=\"2.54\""));
}

TEST_CASE(
    "lettering stays text, as wide as it was laid out for, and turned ones are read from the "
    "right") {
  const Lettering l{"2435 ±1", {80, 80}, TextHeight::caption, Ink::ink, true, 90};
  const std::string svg = svg_of(l);
  CHECK(holds(svg, ">2435 ±1</text>"));
  CHECK(holds(svg, "transform=\"rotate(-90 12.7 12.7)\""));
  CHECK(holds(svg, "textLength=\""));
  CHECK(holds(svg, "font-weight=\"bold\""));
}
