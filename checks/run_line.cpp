// Question: how far behind a run's straight line does the wall's face lie at a place?
// Method: departures from the chord are straight between the places where a level line has a
// reading, so the proudest is at one of those, at the run's ends or at its top.
#include "checks/run_line.h"

#include <algorithm>
#include <cmath>

namespace levelrun {

// mm; of two proudest points that differ by rounding only, the first counts.
static constexpr double equal_by_rounding = 1e-9;

void RunLine::Departure::add(Index reading, double weight) {
  for (std::size_t i = 0; i < count; ++i)
    if (terms[i].reading == reading) {
      terms[i].weight += weight;
      return;
    }
  terms[count++] = {reading, weight};
}

// The line's own offset at along.
void RunLine::add_face(Departure& d, const FaceLine& line, double along, double share) const {
  const auto along_of = [&](Index i) { return wall_->offsets[i].along; };
  const auto next = std::lower_bound(line.readings.begin(), line.readings.end(), along,
                                     [&](Index i, double value) { return along_of(i) < value; });
  if (next == line.readings.begin()) return d.add(line.readings.front(), share);
  if (next == line.readings.end()) return d.add(line.readings.back(), share);
  const Index a = *(next - 1), b = *next;
  const double t = (along - along_of(a)) / (along_of(b) - along_of(a));
  d.add(a, share * (1 - t));
  d.add(b, share * t);
}

void RunLine::add_chord(Departure& d, const FaceLine& line, double along, double share) const {
  const Index a = line.readings.front(), b = line.readings.back();
  const double length = wall_->offsets[b].along - wall_->offsets[a].along;
  const double t = (along - wall_->offsets[a].along) / length;
  d.add(a, share * (1 - t));
  d.add(b, share * t);
}

RunLine::Departure RunLine::departure(double along, double height) const {
  const auto above = std::lower_bound(level_.begin(), level_.end(), height,
                                      [](const FaceLine& l, double h) { return l.at < h; });
  const FaceLine& upper = above == level_.end() ? level_.back() : *above;
  const FaceLine& lower = above == level_.begin() ? level_.front() : *(above - 1);
  const double share =
      &upper == &lower ? 1 : std::clamp((height - lower.at) / (upper.at - lower.at), 0.0, 1.0);
  Departure d;
  const bool plane = wall_->offsets_from == OffsetsFrom::plumb_plane;
  const auto add = [&](const FaceLine& line, double weight) {
    if (weight == 0) return;
    const double near = std::clamp(along, wall_->offsets[line.readings.front()].along,
                                   wall_->offsets[line.readings.back()].along);
    add_face(d, line, near, weight);
    add_chord(d, plane ? level_[*chord_] : line, near, -weight);
  };
  add(upper, share);
  add(lower, 1 - share);
  return d;
}

double RunLine::value(const Departure& d) const {
  double sum = 0;
  for (std::size_t i = 0; i < d.count; ++i)
    sum += d.terms[i].weight * wall_->offsets[d.terms[i].reading].offset;
  return sum;
}

double RunLine::sd(const Departure& d) const {
  double sum = 0;
  for (std::size_t i = 0; i < d.count; ++i)
    sum = std::hypot(sum,
                     d.terms[i].weight * offset_sd(*survey_, wall_->offsets[d.terms[i].reading]));
  return sum;
}

RunLine::RunLine(const Survey& survey, const Wall& wall, double from, double to, double top)
    : survey_(&survey), wall_(&wall), level_(level_lines(wall)) {
  // A line read at one place only says nothing of the rest of the wall.
  std::erase_if(level_, [&](const FaceLine& line) {
    return wall.offsets[line.readings.back()].along - wall.offsets[line.readings.front()].along <=
           same_line;
  });
  const FaceLine* chord = line_near_worktop(level_, wall);
  if (!chord) return;
  chord_ = static_cast<Index>(chord - level_.data());
  double least = HUGE_VAL;
  const auto consider = [&](double along, double height) {
    const Departure d = departure(along, height);
    const double off = value(d);
    if (off < least - equal_by_rounding) least = off, proudest_ = d;
  };
  const auto walk = [&](const FaceLine& line, double height) {
    consider(from, height);
    for (const Index i : line.readings)
      if (wall.offsets[i].along > from && wall.offsets[i].along < to)
        consider(wall.offsets[i].along, height);
    consider(to, height);
  };
  const auto above =
      std::find_if(level_.begin(), level_.end(), [&](const FaceLine& l) { return l.at > top; });
  for (auto line = level_.begin(); line != above; ++line) walk(*line, line->at);
  if (above == level_.end()) return;
  walk(*above, top);
  if (above != level_.begin()) walk(*(above - 1), top);
}

std::optional<Estimate> RunLine::proudest() const {
  if (!chord_) return {};
  return Estimate{-value(proudest_), sd(proudest_)};
}

std::optional<Estimate> RunLine::hollow(double along, double height) const {
  if (!chord_) return {};
  const bool measured = std::any_of(level_.begin(), level_.end(), [&](const FaceLine& line) {
    return along >= wall_->offsets[line.readings.front()].along - reading_reach &&
           along <= wall_->offsets[line.readings.back()].along + reading_reach;
  });
  if (!measured) return {};
  Departure d = departure(along, height);
  for (std::size_t i = 0; i < proudest_.count; ++i)
    d.add(proudest_.terms[i].reading, -proudest_.terms[i].weight);
  return Estimate{value(d), sd(d)};
}

}  // namespace levelrun
