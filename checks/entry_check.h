// Can this number be, and does it agree with the others? Asked of a number while it is typed.
//
// difference = typed - expected, sd² = expected's sd² + the reading's own sd². The limits either
// side of the expected value are 4.13 sd apart from it (the smallest slip that shows: 0.1 %, 80 %
// power, Baarda 1968), and the typed number with its own 95 % band is judged against them
// (verdict.h). Where it does not lie within, the human slips of it (human_slips.h) are tried
// against what the others say:
//   probability ~ how often people slip * prior of the slip * exp(-difference² / 2 sd²),
// beside the number being right as typed, and a slip of any other size. The likeliest is named from
// 30 % on. Nothing is ever replaced.
//
// mm; degrees for an angle. Not for heights of legs: those are worked out, not read.
#pragma once

#include <optional>
#include <string>

#include "checks/expected_reading.h"
#include "checks/verdict.h"

namespace levelrun {

enum class ReadingKind {
  length,    // of a wall
  diagonal,  // between two corners
  across,    // of a triangle set out in a corner
  angle,     // of a corner, degrees
  offset,    // from the reference to the face; larger = hollow
  staff,     // from the level plane down to the floor
  mark,      // the same to a mark on a wall, above the plane too
  ceiling,   // clear, floor to ceiling
  level,     // a height, signed from its plane or floor
  along,     // a place along a wall
  size,      // of an opening or a service
  thickness  // of the floor that was laid, over the bare floor
};

// Why such a number cannot be, in words beside the field; empty: it can.
std::string impossible(ReadingKind, double value);

struct SlipGuess {
  std::string words;  // "Two digits swapped?"
  std::string kind;   // "digits swapped"
  double value = 0;   // what should have been booked
  double probability = 0;
};

// On one scale: the two limits, and the 95 % band of what was typed.
struct EntryVial {
  double low = 0, high = 0;
  double band_low = 0, band_high = 0;
};

struct EntryCheck {
  // Not empty: it cannot be booked, and the rest is empty. With what may have been meant, where
  // metres or three digits too many explain it: "too short for a wall: 2412?"
  std::string refused;
  std::optional<Verdict> verdict;  // empty: the others say nothing
  double difference = 0;           // typed - expected
  // "agrees with the others to 1.4", "9 short", "71 long"; a staff's and an angle's likewise, an
  // offset's "3 hollow" or "3 proud". Decimal point, mm (degrees for an angle).
  std::string says;
  std::optional<SlipGuess> slip;
  std::optional<EntryVial> vial;
};

// sd: of one reading of the instrument in use.
EntryCheck entry_check(ReadingKind, double typed, const std::optional<Expected>&, double sd);

}  // namespace levelrun
