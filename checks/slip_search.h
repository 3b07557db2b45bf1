// Which slip of the hand would explain that a room does not close, and what should have been
// booked?
//
// Every length, diagonal and set-out triangle is tried with every human slip: what it would be if
// two neighbouring digits were swapped, one digit misread, 100 or 1,000 miscounted, the tape read
// from its 100 mark, centimetres, metres or inches booked for millimetres. Each reading is
// predicted once from all others (its own walk, room_net.h); a slip then costs (value - predicted)²
// / variance on top of what the others do not agree among themselves, so
//   probability ~ prior of the slip / its alternatives * exp(-chi-square / 2),
// and "other", a slip of any size up to 1,000 either way, takes what is left. It works with one
// spare measurement, where residuals locate nothing: few slips close the room.
// A wall whose lengths at several heights were booked alike is also tried as misbooked alike at
// all of them: one slip, one prior, all its lengths predicted from the rest.
// Probabilities compare what was tried; where nothing fits, the least bad has nearly all of it. So
// each suspect says whether it fits what the others say, and whether the room would close with it.
#pragma once

#include <span>
#include <vector>

#include "checks/results.h"
#include "checks/room_net.h"

namespace levelrun {

struct SlipSuspect {
  Index reading = 0;
  Suspect suspect;              // kind and what should have been booked
  std::vector<Index> together;  // all lengths of its wall alike, told at the one nearest 900 high
  // Its value is within 4.13 sd of what the others say (0.1 %, 80 % power, Baarda 1968).
  bool fits = false;
  bool closes = false;  // with it the room passes the chi-square test
};

// used: the readings believed, the suspects among them; candidates: which of them are suspected.
// Likeliest first, those of at least 1 %, eight at most; probabilities are of all that was tried.
// left_out: what came of leaving each candidate out of `used` (RoomNet::each_left_out).
// Leaves the net solved with something left out.
std::vector<SlipSuspect> slip_suspects(RoomNet&, std::span<const char> used,
                                       std::span<const Index> candidates,
                                       std::span<const LeftOut> left_out);

}  // namespace levelrun
