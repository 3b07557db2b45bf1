// A plan net's unknowns, and what each of its measurements says about them near where they are.
//
// Lengths as in plan_net.h; angles in degrees, anticlockwise. Internal to plan_net.cpp.
#pragma once

#include <array>
#include <vector>

#include "checks/plan_net.h"

namespace levelrun {

// A linearised observation: its value now and its slope in each unknown it touches.
struct NetRow {
  int count = 0;
  std::array<int, 9> column{};  // at most four points and a scale
  std::array<double, 9> slope{};
  double value = 0;

  void add(int where, double by) {
    if (where < 0) return;  // known
    int i = 0;
    while (i < count && column[i] != where) ++i;
    if (i == count) {
      column[count++] = where;
      slope[i] = by;
    } else {
      slope[i] += by;
    }
  }
};

struct NetUnknowns {
  std::vector<int> column_x, column_y;  // of each point; -1: known
  int coordinates = 0, unknowns = 0;    // scales come behind the coordinates
  std::vector<NetPoint> points;
  std::vector<double> leans, scales;

  explicit NetUnknowns(const PlanNet&);
  NetRow linearised(const NetObservation&) const;

 private:
  // |a||b| times cosine and sine of the angle at `at` from `from` to `to`.
  struct Turn {
    double dot = 0, cross = 0;
    double sine() const;
    double cotangent() const { return dot / sine(); }
  };
  Turn turn(Index at, Index from, Index to) const;
  void add_turn(NetRow&, Index at, Index from, Index to, double times) const;
  void take_out(NetRow&, double out, Index at, Index from, Index to) const;
};

}  // namespace levelrun
