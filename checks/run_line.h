// Where does the wall's face stand against the straight line of a run?
//
// A run's line is parallel to the wall's chord (between the end readings of its level line
// nearest 900 high) and touches the proudest point of the face along the run, up to `top` high.
// The face is straight between readings, along and up; beyond the last it keeps its distance
// from the chord.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "checks/face_lines.h"
#include "survey/estimate.h"
#include "survey/survey.h"

namespace levelrun {

// mm; a place further than this beyond a wall's last reading was not measured: the usual
// spacing of readings, common practice, no source.
inline constexpr double reading_reach = 600;

class RunLine {
 public:
  // from <= to along the wall. The survey and the wall must outlive this.
  RunLine(const Survey&, const Wall&, double from, double to, double top);

  // How far the proudest point along the run stands proud of the wall's chord; negative: even
  // that lies behind it. Empty: the wall has no level line of readings.
  std::optional<Estimate> proudest() const;

  // How far the face lies behind the run's line, from the readings at hand; their sd. Not
  // negative within the run and up to its top. Empty: not measured near there.
  std::optional<Estimate> hollow(double along, double height) const;

 private:
  // A place's departure from the chord as a weighted sum of readings.
  struct Departure {
    struct Term {
      Index reading = 0;
      double weight = 0;
    };
    std::array<Term, 16> terms;  // two places: two lines each, two readings, two chord ends
    std::size_t count = 0;
    void add(Index reading, double weight);
  };
  void add_face(Departure&, const FaceLine&, double along, double share) const;
  void add_chord(Departure&, const FaceLine&, double along, double share) const;
  Departure departure(double along, double height) const;
  double value(const Departure&) const;
  double sd(const Departure&) const;

  const Survey* survey_;
  const Wall* wall_;
  std::vector<FaceLine> level_;
  std::optional<Index> chord_;  // into level_; empty: not measured
  Departure proudest_;
};

}  // namespace levelrun
