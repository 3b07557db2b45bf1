#include "checks/worktop_weight.h"

namespace levelrun {
namespace {

// kg/m³, from memory; the heavier end of what is usual, because it is lifted.
struct Density {
  const char* word;
  double density;
};
constexpr Density densities[] = {
    {"laminate", 720},       {"chipboard", 720}, {"compact", 1450},  {"oak", 750},
    {"beech", 750},          {"walnut", 680},    {"bamboo", 800},    {"granite", 2750},
    {"quartz", 2450},        {"marble", 2750},   {"slate", 2850},    {"porcelain", 2450},
    {"ceramic", 2450},       {"concrete", 2400}, {"terrazzo", 2450}, {"acrylic", 1750},
    {"solid surface", 1750},
};

}  // namespace

std::optional<double> worktop_weight(const std::string& material, double length, double depth,
                                     double thickness) {
  if (!(length > 0) || !(depth > 0) || !(thickness > 0)) return std::nullopt;
  std::string name = material;
  for (char& c : name)
    if (c >= 'A' && c <= 'Z') c = char(c - 'A' + 'a');
  for (const Density& d : densities)
    if (name.find(d.word) != std::string::npos)
      return length * depth * thickness * 1e-9 * d.density;
  return std::nullopt;
}

}  // namespace levelrun
