// Results as the lines of a schedule: legs, plinths, walls and services of a room, each with its
// number, its verdict and the sum behind it. Also what a finding's number is judged by.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

// A number against its limits, as a vial shows it.
struct Judged {
  Verdict verdict = Verdict::within;
  double value = 0, sd = 0;
  std::optional<double> least, most;
};

struct ScheduleRow {
  std::string title;  // "S1 front left"
  std::string value;  // "145.9 ±1.6"
  std::string words;  // "type M, −2.3 turns"
  std::optional<Judged> judged;
  std::string sum;                    // with the job's decimal sign; empty: none
  std::vector<std::string> captions;  // of its terms
  std::string at;                     // JSON Pointer
  Unknown x, y;                       // where in the plan, if it is a place and no whole thing
};

enum class Schedule { legs, plinths, walls, services };

std::vector<ScheduleRow> schedule_rows(Schedule, const Survey&, Index room, const RoomResult&);

// What the terms of a leg's sum are: the layers by their names where all of them are in it.
std::vector<std::string> leg_captions(const Survey&, Index room, const LegResult&);
std::vector<std::string> captions_of(const PlinthResult&);
std::vector<std::string> captions_of(const ServiceResult&);
// The leg's range as the vial's ticks; empty while its height is not known.
std::optional<Judged> judged(const Survey&, Index room, const LegResult&);
std::optional<Judged> judged(const ServiceResult&);
std::optional<Judged> judged(const ClearanceResult&);

// Pointer of a unit by its id, which is unique in its room; empty: there is none.
std::string unit_pointer(const Survey&, Index room, const std::string& unit);
// "145.9 ±1.6"
std::string with_band(Unknown value, Unknown sd, char decimal);

}  // namespace levelrun
