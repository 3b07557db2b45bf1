#include "checks/human_slips.h"

#include <charconv>
#include <cmath>
#include <string>
#include <utility>

#include "survey/number_kinds.h"

namespace levelrun {
namespace {

// How often a slip is of each kind. Common practice, no source: swapped digits are the commonest
// slip of those who read and write numbers all day. How the wrong units share what is left is our
// choice: a tape shows centimetres, a meter is set to metres, inches are asked for now and then.
constexpr double swapped = 0.40, misread = 0.20, counted = 0.15, tape_mark = 0.08,
                 centimetres = 0.03, metres = 0.02, inches = 0.02;
static_assert(swapped + misread + counted + tape_mark + centimetres + metres + inches + other_slip >
                  0.999 &&
              swapped + misread + counted + tape_mark + centimetres + metres + inches + other_slip <
                  1.001);

void add_all(std::vector<HumanSlip>& slips, const char* kind, double prior,
             const std::vector<double>& values, bool scales = false) {
  for (const double value : values)
    slips.push_back({kind, value, prior / double(values.size()), scales});
}

}  // namespace

std::vector<HumanSlip> human_slips(double booked) {
  std::vector<HumanSlip> out;
  if (!(booked > 0)) return out;
  char text[32];
  const auto whole = static_cast<long long>(std::llround(booked));
  const auto end = std::to_chars(text, text + sizeof text, whole).ptr;
  const auto number = [](const std::string& digits) { return std::stod(digits); };
  const std::string digits(text, end);
  std::vector<double> values;
  for (std::size_t i = 0; i + 1 < digits.size(); ++i) {
    std::string other_way = digits;
    std::swap(other_way[i], other_way[i + 1]);
    if (other_way != digits && other_way[0] != '0') values.push_back(number(other_way));
  }
  add_all(out, "digits swapped", swapped, values);
  values.clear();
  for (std::size_t i = 0; i < digits.size(); ++i)
    for (char d = i == 0 ? '1' : '0'; d <= '9'; ++d) {
      if (d == digits[i]) continue;
      std::string one = digits;
      one[i] = d;
      values.push_back(number(one));
    }
  add_all(out, "digit misread", misread, values);
  values.clear();
  for (const double by : {-1000.0, -100.0, 100.0, 1000.0})
    if (booked + by > 0) values.push_back(booked + by);
  add_all(out, "100 or 1000 out", counted, values);
  if (booked > 100) add_all(out, "read from the tape's 100 mark", tape_mark, {booked - 100});
  add_all(out, "cm for mm", centimetres, {booked * 10}, true);
  // No room is longer than most_length.
  if (booked * 1000 <= most_length) add_all(out, "m for mm", metres, {booked * 1000}, true);
  add_all(out, "inches for mm", inches, {booked * 25.4}, true);
  return out;
}

}  // namespace levelrun
