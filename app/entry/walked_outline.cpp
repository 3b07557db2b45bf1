#include "app/entry/walked_outline.h"

#include <cmath>
#include <numbers>

#include "app/text_number.h"

namespace levelrun {
namespace {

constexpr double whole_turn = 360, half_turn = 180;  // degrees
// Share of the way round by which paced lengths may miss; our choice.
constexpr double missed_share = 0.15;

}  // namespace

double last_turn(const std::vector<WalkedWall>& walls) {
  double left = whole_turn;
  for (std::size_t i = 0; i + 1 < walls.size(); ++i) left -= walls[i].turn.value_or(0);
  return left;
}

std::string cannot_end(const std::vector<WalkedWall>& walls) {
  if (walls.size() < 3) return "A room has three walls at least.";
  const double turn = last_turn(walls);
  if (std::abs(turn) < half_turn && turn != 0) return {};
  if (turn == 0) return "The next wall would go straight on: a turn is missing or wrong.";
  return turn > 0 ? "Not round yet: " + shown(turn, 0, '.') +
                        "° are left to turn, more than one corner can."
                  : "Turned too far: " + shown(-turn, 0, '.') + "° back to the left are needed.";
}

std::vector<double> corner_angles(const std::vector<WalkedWall>& walls) {
  std::vector<double> out = {half_turn - last_turn(walls)};
  for (std::size_t i = 0; i + 1 < walls.size(); ++i)
    out.push_back(half_turn - walls[i].turn.value_or(0));
  return out;
}

std::vector<PlanPoint> walked_corners(const std::vector<WalkedWall>& walls, double unknown) {
  std::vector<PlanPoint> out = {{0, 0}};
  double bearing = 0;
  for (const WalkedWall& wall : walls) {
    const double length = wall.rough.value_or(unknown);
    const PlanPoint from = out.back();
    out.push_back({from.x + length * std::cos(bearing), from.y + length * std::sin(bearing)});
    bearing -= wall.turn.value_or(0) * std::numbers::pi / half_turn;
  }
  return out;
}

std::optional<double> missed_by(const std::vector<WalkedWall>& walls) {
  double round = 0;
  for (const WalkedWall& wall : walls) {
    if (!wall.rough) return std::nullopt;
    round += *wall.rough;
  }
  const PlanPoint end = walked_corners(walls, 0).back();
  const double miss = std::hypot(end.x, end.y);
  return miss > missed_share * round ? std::optional(miss) : std::nullopt;
}

}  // namespace levelrun
