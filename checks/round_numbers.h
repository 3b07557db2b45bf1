// Was a number rounded that should have been read?
//
// Of the readings of one kind (wall lengths, diagonals, offsets, staff) taken with one
// instrument: were the last digit left to chance, n different readings would all be whole tens
// once in 10^n times, all fives once in 5^n. From 4 readings, and rarer than 1 in 1,000: a note.
// Readings that are alike count once, for opposite walls of a room are no accident. An instrument
// whose booked sd holds the rounding (step / √12) is left alone: then it was declared.
#pragma once

#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

std::vector<Finding> round_numbers(const Survey&, Index room);

}  // namespace levelrun
