// What would a number really have been, were the one booked a slip of the hand?
//
// Two neighbouring digits swapped, one digit misread, 100 or 1,000 miscounted, the tape read from
// its 100 mark, centimetres, metres or inches booked for millimetres. The priors of all of them and
// of `other_slip` add to 1: given that there is a slip, how often is it this one. A kind that
// cannot be of a number is left out: no tape's mark of less than 100, no metres of more than 100.
#pragma once

#include <vector>

namespace levelrun {

struct HumanSlip {
  const char* kind;     // "digits swapped"
  double value;         // mm, what should have been booked
  double prior;         // of the kind, shared by its values
  bool scales = false;  // the wrong unit, which multiplies; all others add
};

// A slip of any other size, up to other_slip_reach either way (mm). Common practice, no source.
inline constexpr double other_slip = 0.10;
inline constexpr double other_slip_reach = 1000;

// booked: mm; its digits are those of the whole number. Of 0 or less: none.
std::vector<HumanSlip> human_slips(double booked);

}  // namespace levelrun
