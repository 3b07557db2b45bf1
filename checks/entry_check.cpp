#include "checks/entry_check.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <vector>

#include "checks/human_slips.h"
#include "checks/words.h"
#include "survey/number_kinds.h"

namespace levelrun {
namespace {

constexpr double limit_factor = 4.13;  // 0.1 % and 80 % power (Baarda 1968)
constexpr double slip_rate = 0.01;     // of numbers booked by hand; common practice, no source
constexpr double worth_saying = 0.3;   // of a slip's probability
constexpr double same_value = 0.5;     // mm: two slips with one outcome
constexpr double whole_from = 10;      // mm: a difference this large is said in whole mm
// mm; common practice, no source
constexpr double longest_staff = 6000, deepest_offset = 2000, thickest_floor = 500;
constexpr double shortest_wall = 10;  // mm; our choice: less is no wall, but metres typed for mm
// mm; what a number off by a factor of 1,000 is taken to have meant where nothing else was read.
// Our choice: from a nib to the longest room a kitchen stands in.
constexpr double meant_from = 100, meant_to = 30000;

struct Range {
  double least, most;
  bool least_excluded;
  std::string_view below, above;
};

Range range_of(ReadingKind kind) {
  constexpr std::string_view room = "over 100 m: no room is longer";
  constexpr std::string_view over_0 = "must be over 0";
  switch (kind) {
    case ReadingKind::angle:
      return {0, 360, true, over_0, "an angle is under 360"};
    case ReadingKind::staff:
      return {0, longest_staff, true, "the floor lies below the level plane: over 0",
              "over 6 m: no staff is longer"};
    case ReadingKind::mark:
      return {-longest_staff, longest_staff, false, "over 6 m above the plane",
              "over 6 m: no staff is longer"};
    case ReadingKind::offset:
      return {-deepest_offset, deepest_offset, false, "over 2 m in front of the reference",
              "over 2 m behind the reference"};
    case ReadingKind::level:
    case ReadingKind::along:
      return {-most_length, most_length, false, room, room};
    case ReadingKind::thickness:
      return {0, thickest_floor, false, "a floor is not laid downwards",
              "over 500: no floor is laid so thick"};
    case ReadingKind::length:
      return {shortest_wall, most_length, false, "too short for a wall", room};
    case ReadingKind::diagonal:
      return {shortest_wall, most_length, false, "too short for a diagonal", room};
    case ReadingKind::ceiling:
      return {shortest_wall, most_length, false, "too low for a ceiling", room};
    default:
      return {0, most_length, true, over_0, room};
  }
}

std::string amount(double difference, ReadingKind kind) {
  const double size = std::abs(difference);
  if (kind == ReadingKind::angle) return decimal(size, 1) + "°";
  return size >= whole_from ? decimal(size, 0) : millimetres(size);
}

// mm, half of the 95 % band: what the others say less surely than this agrees with nearly anything
// that is not a gross slip. Our choice.
constexpr double weak_check = 20;

std::string said(ReadingKind kind, const Expected& expected, double difference, Verdict verdict) {
  const double half = band95 * expected.value.sd;
  if (verdict == Verdict::within && half > weak_check && kind != ReadingKind::angle)
    return "checked only to ±" + amount(half, kind);
  if (verdict == Verdict::within)
    return std::string("agrees with the ") +
           (kind == ReadingKind::thickness ? "plan"
            : expected.assumed             ? "corners as noted"
                                           : "others") +
           " to " + amount(difference, kind);
  const bool more = difference > 0;
  const std::string_view way = kind == ReadingKind::thickness ? (more ? " thicker" : " thinner")
                               : kind == ReadingKind::offset  ? (more ? " hollow" : " proud")
                               : kind == ReadingKind::angle   ? (more ? " wide" : " narrow")
                               : kind == ReadingKind::level || kind == ReadingKind::ceiling
                                   ? (more ? " high" : " low")
                                   : (more ? " long" : " short");
  return amount(difference, kind) + std::string(way);
}

std::string question(std::string_view kind) {
  if (kind == "digits swapped") return "Two digits swapped?";
  if (kind == "digit misread") return "One digit misread?";
  if (kind == "100 or 1000 out") return "100 or 1000 out?";
  if (kind == "read from the tape's 100 mark") return "Read from the tape's 100 mark?";
  if (kind == "cm for mm") return "cm for mm?";
  if (kind == "m for mm") return "Metres for mm?";
  return "Inches for mm?";
}

bool typed_off_a_tape(ReadingKind kind) {
  return kind != ReadingKind::angle && kind != ReadingKind::offset && kind != ReadingKind::level;
}

// A staff is read where its foot stands: it has no mark to start from.
bool has_100_mark(ReadingKind kind) {
  return kind != ReadingKind::staff && kind != ReadingKind::mark;
}

std::optional<SlipGuess> likeliest_slip(ReadingKind kind, double typed, Estimate others,
                                        double sd) {
  const double variance = others.sd * others.sd + sd * sd;
  const auto fits = [&](double value) {
    const double off = value - others.value;
    return std::exp(-off * off / (2 * variance));
  };
  // Any other slip: the same, averaged over all sizes that it could have.
  double total = (1 - slip_rate) * fits(typed);
  if (std::abs(typed - others.value) <= other_slip_reach)
    total += slip_rate * other_slip *
             std::min(1.0, std::sqrt(2 * std::numbers::pi * variance) / (2 * other_slip_reach));
  struct Scored {
    HumanSlip slip;
    double weight;
  };
  std::vector<Scored> scored;
  for (const HumanSlip& slip : human_slips(typed)) {
    if (!has_100_mark(kind) && std::string_view(slip.kind) == "read from the tape's 100 mark")
      continue;
    // What the others do not agree to either explains nothing.
    if (std::abs(slip.value - others.value) > limit_factor * std::sqrt(variance)) continue;
    const double weight = slip_rate * slip.prior * fits(slip.value);
    total += weight;
    scored.push_back({slip, weight});
  }
  std::stable_sort(scored.begin(), scored.end(),
                   [](const Scored& a, const Scored& b) { return a.weight > b.weight; });
  if (scored.empty() || !(total > 0)) return std::nullopt;
  // One value reached by several slips counts once, under its likeliest name.
  const HumanSlip best = scored.front().slip;
  double weight = 0;
  for (const Scored& s : scored)
    if (std::abs(s.slip.value - best.value) < same_value) weight += s.weight;
  if (weight < worth_saying * total) return std::nullopt;
  return SlipGuess{question(best.kind), best.kind, best.value, weight / total};
}

// What a number that cannot be may have meant: metres typed for mm, or three digits too many.
std::string meant(ReadingKind kind, double typed, const std::optional<Expected>& expected,
                  double sd) {
  if (!typed_off_a_tape(kind) || !(typed > 0) || !std::isfinite(typed)) return "";
  const double value = typed < shortest_wall ? typed * 1000 : typed / 1000;
  const bool fits = expected ? std::abs(value - expected->value.value) <=
                                   limit_factor * std::hypot(expected->value.sd, sd)
                             // A whole number is the first digit of more.
                             : value >= meant_from && value <= meant_to &&
                                   (typed > shortest_wall || typed != std::floor(typed));
  return fits ? millimetres(value) + "?" : "";
}

}  // namespace

std::string impossible(ReadingKind kind, double value) {
  const Range range = range_of(kind);
  if (!std::isfinite(value)) return "a number, please";
  if (range.least_excluded ? !(value > range.least) : value < range.least)
    return std::string(value <= 0 && range.least > 0 ? "must be over 0" : range.below);
  if (kind == ReadingKind::angle ? value >= range.most : value > range.most)
    return std::string(range.above);
  return "";
}

EntryCheck entry_check(ReadingKind kind, double typed, const std::optional<Expected>& expected,
                       double sd) {
  EntryCheck out;
  out.refused = impossible(kind, typed);
  if (!out.refused.empty()) {
    if (const std::string hint = meant(kind, typed, expected, sd); !hint.empty())
      out.refused += (out.refused.find(':') == out.refused.npos ? ": " : ". ") + hint;
    return out;
  }
  if (!expected) return out;
  const Estimate others = expected->value;
  const double reach = limit_factor * std::hypot(others.sd, sd);
  out.difference = typed - others.value;
  out.vial = EntryVial{others.value - reach, others.value + reach, typed - band95 * sd,
                       typed + band95 * sd};
  out.verdict = between({typed, sd}, out.vial->low, out.vial->high);
  out.says = said(kind, *expected, out.difference, *out.verdict);
  if (*out.verdict != Verdict::within && typed_off_a_tape(kind))
    out.slip = likeliest_slip(kind, typed, others, sd);
  return out;
}

}  // namespace levelrun
