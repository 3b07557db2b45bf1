#include "app/entry/agreement_mark.h"

#include <cmath>

#include "app/text_number.h"
#include "survey/crc32.h"

namespace levelrun {
namespace {

constexpr std::string_view letters = "BCDFGHJKLMNPRSTVWXZ";

std::string leg_line(const LegResult& leg) {
  return leg.unit + " " + leg.position + " " + (leg.height ? fixed(*leg.height, 0) : "?");
}

std::string plinth_lines(const PlinthResult& p) {
  std::string line = p.run + " " + p.face + " " + std::to_string(p.piece) + " " +
                     fixed(p.length, 1) + " " + fixed(p.height_left, 1) + " " +
                     fixed(p.height_right, 1);
  for (const PlinthOrdinate& o : p.ordinates)
    line += " " + fixed(o.along, 1) + ":" + fixed(o.height, 1);
  return line;
}

}  // namespace

std::string agreement_mark(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  std::uint32_t rest = crc32(text);
  std::string mark;
  for (int i = 0; i < 4; ++i) {
    mark += letters[rest % letters.size()];
    rest /= std::uint32_t(letters.size());
  }
  return mark;
}

std::string unit_mark(const RoomResult& room, const std::string& unit) {
  std::vector<std::string> lines;
  for (const LegResult& leg : room.legs)
    if (leg.unit == unit) lines.push_back(leg_line(leg));
  return agreement_mark(lines);
}

std::string plinth_mark(const PlinthResult& p) { return agreement_mark({plinth_lines(p)}); }

std::string legs_mark(const RoomResult& room) {
  std::vector<std::string> lines;
  for (const LegResult& leg : room.legs) lines.push_back(leg_line(leg));
  return agreement_mark(lines);
}

std::string plinths_mark(const RoomResult& room) {
  std::vector<std::string> lines;
  for (const PlinthResult& p : room.plinths) lines.push_back(plinth_lines(p));
  return agreement_mark(lines);
}

}  // namespace levelrun
