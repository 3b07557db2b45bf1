// Points tapped on the plan of the page Levels.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "app/drawing/plan_drawing.h"
#include "tests/screens/hand.h"

using namespace levelrun;

TEST_CASE("a level point answers a tap 20 dp away, over units and beside walls as in the open") {
  DrivenApp d;
  REQUIRE(d.open(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json")));
  Hand hand{d};
  d.show(Page::levels);
  hand.settle();
  const RoomToDraw drawn = d.app.session()->drawn();
  DrawingView view;
  for (const Touch::Target& t : d.app.touch().targets())
    if (t.label == "plan") view = plan_view(drawn, t.box, true, 1);
  const auto away = [&](Spot spot, Index point) {
    if (!drawn.points[point].at) return std::numeric_limits<float>::infinity();
    const Spot at = view.at(drawn.points[point].at->x, drawn.points[point].at->y);
    return std::hypot(at.x - spot.x, at.y - spot.y);
  };
  const Spot sides[] = {{20, 0}, {0, 20}, {-20, 0}, {0, -20}};
  int tapped = 0;
  for (Index point = 0; point < drawn.points.size(); ++point) {
    if (!drawn.points[point].at) continue;
    for (const Spot side : sides) {
      Spot spot = view.at(drawn.points[point].at->x, drawn.points[point].at->y);
      spot = {spot.x + side.x, spot.y + side.y};
      bool alone = view.box.holds(spot);
      for (Index other = 0; other < drawn.points.size(); ++other)
        alone = alone && (other == point || away(spot, other) > 21);
      if (!alone) continue;
      const std::string& id = d.app.session()->survey().rooms[0].levels.points[point].id;
      CAPTURE(id);
      CAPTURE(side.x);
      CAPTURE(side.y);
      d.window.tap_at(d.app, spot);
      hand.settle();
      CAPTURE(d.app.touch().said());
      CHECK(d.app.touch().said().starts_with(id + " "));
      ++tapped;
    }
  }
  CHECK(tapped > 20);
}
