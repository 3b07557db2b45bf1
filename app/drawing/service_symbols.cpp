#include "app/drawing/service_symbols.h"

#include <cmath>
#include <numbers>

namespace levelrun {
namespace {

constexpr int arc_steps = 12;

// A socket's half-circle, flat side down, with its stem.
void socket(DrawingPen& pen, Spot c, Ink ink, float k) {
  std::vector<Spot> arc;
  for (int n = 0; n <= arc_steps; ++n) {
    const float angle = std::numbers::pi_v<float> * float(n) / arc_steps;
    arc.push_back({c.x - 8 * k * std::cos(angle), c.y + 4 * k - 8 * k * std::sin(angle)});
  }
  pen.stroke(std::move(arc), ink, LineWidth::outline, Dash::solid, true);
  pen.stroke({{c.x, c.y - 4 * k}, {c.x, c.y - 11 * k}}, ink, LineWidth::outline);
}

}  // namespace

std::string service_letters(ServiceKind kind) {
  switch (kind) {
    case ServiceKind::cold_water:
      return "CW";
    case ServiceKind::hot_water:
      return "HW";
    case ServiceKind::waste:
      return "W";
    case ServiceKind::soil_stack:
      return "SS";
    case ServiceKind::gas:
      return "G";
    case ServiceKind::socket:
      return "SSO";
    case ServiceKind::fused_spur:
      return "FCU";
    case ServiceKind::cooker_outlet:
      return "CO";
    case ServiceKind::switch_:
      return "SW";
    case ServiceKind::data:
      return "D";
    case ServiceKind::duct:
      return "DUCT";
    case ServiceKind::boiler:
      return "BOILER";
    case ServiceKind::radiator:
      return "RAD";
    case ServiceKind::meter:
      return "METER";
    case ServiceKind::stopcock:
      return "ST";
    case ServiceKind::consumer_unit:
      return "CU";
    case ServiceKind::underfloor_heating:
      return "UFH";
    case ServiceKind::other:
    case ServiceKind::unknown:
      break;
  }
  return "?";
}

Box service_symbol(DrawingPen& pen, ServiceKind kind, Spot c, Ink ink, float k) {
  switch (kind) {
    case ServiceKind::socket:
      socket(pen, c, ink, k);
      break;
    case ServiceKind::fused_spur:
    case ServiceKind::cooker_outlet:
    case ServiceKind::data:
      pen.stroke({{c.x - 8 * k, c.y - 6 * k},
                  {c.x + 8 * k, c.y - 6 * k},
                  {c.x + 8 * k, c.y + 6 * k},
                  {c.x - 8 * k, c.y + 6 * k}},
                 ink, LineWidth::outline, Dash::solid, true);
      pen.stroke({{c.x - 8 * k, c.y + 6 * k}, {c.x + 8 * k, c.y - 6 * k}}, ink);
      break;
    case ServiceKind::switch_:
      pen.disc({c.x - 4 * k, c.y + 4 * k}, 4 * k, ink, false);
      pen.stroke(
          {{c.x - 1 * k, c.y + 1 * k}, {c.x + 6 * k, c.y - 8 * k}, {c.x + 9 * k, c.y - 5 * k}}, ink,
          LineWidth::outline);
      break;
    case ServiceKind::waste:
    case ServiceKind::soil_stack:
    case ServiceKind::duct:
      pen.disc(c, 9 * k, ink, false);
      pen.disc(c, 5 * k, ink, false);
      break;
    case ServiceKind::boiler:
    case ServiceKind::radiator:
    case ServiceKind::meter:
    case ServiceKind::consumer_unit:
      return {};
    default:
      pen.disc(c, 5.5f * k, ink, false);
      pen.stroke({{c.x - 9 * k, c.y}, {c.x + 9 * k, c.y}}, ink);
      pen.stroke({{c.x, c.y - 9 * k}, {c.x, c.y + 9 * k}}, ink);
  }
  return {c.x - 9 * k, c.y - 9 * k, 18 * k, 18 * k};
}

}  // namespace levelrun
