#include "app/drawing/face_strip.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "app/drawing/pen.h"
#include "app/text_number.h"
#include "checks/face_lines.h"

namespace levelrun {
namespace {

constexpr double near_worktop = 200;  // mm: readings this near 900 make the face's line
constexpr double least_enlarged = 2, most_enlarged = 20;
constexpr float behind = 12;     // dp for the hatch
constexpr float rest_mark = 12;  // dp below the line where it rests
constexpr double no_gap = 0.05;  // mm: not written

class StripDrawer {
 public:
  StripDrawer(const Survey& survey, Index room, Index wall, Box box, const DrawingView& elevation,
              float text_scale)
      : wall_(survey.rooms[room].walls[wall]),
        decimal_(survey.job.decimal),
        box_(box),
        elevation_(elevation),
        em_(lettering_height(TextHeight::caption, text_scale)),
        lines_(level_lines(wall_)),
        line_(line_near_worktop(lines_, wall_)),
        pen_(out_, {box, 1, 0, 0}, text_scale) {}

  Drawing draw(const WallResult* result) {
    if (!line_ || std::abs(line_->at - worktop_line) > near_worktop) return {};
    for (const Index i : line_->readings) {
      least_ = std::min(least_, wall_.offsets[i].offset);
      most_ = std::max(most_, wall_.offsets[i].offset);
    }
    const float head = em_ * 1.5f, foot = rest_mark + em_ * 1.5f;
    const double room = std::max(10.0, double(box_.h - head - behind - foot));
    enlarged_ = std::clamp(room / std::max(1.0, most_ - least_) / elevation_.scale, least_enlarged,
                           most_enlarged);
    // Whole numbers, so that what is written is what is drawn.
    enlarged_ = std::floor(enlarged_);
    const double used = (most_ - least_) * enlarged_ * elevation_.scale;
    top_ = box_.y + head + behind + float(std::max(0.0, room - used) * 0.4);
    heading();
    face();
    if (result && result->resting.size() == 2) resting(result->resting[0], result->resting[1]);
    if (result && result->resting.size() == 1)
      rests_at(result->resting[0], at(result->resting[0], offset_at(result->resting[0])));
    return std::move(out_);
  }

 private:
  Spot at(double along, double offset) const {
    return {elevation_.at(along, 0).x,
            top_ + float((most_ - offset) * enlarged_ * elevation_.scale)};
  }
  const WallOffset& reading(std::size_t i) const { return wall_.offsets[line_->readings[i]]; }
  double offset_at(double along) const {
    for (std::size_t i = 0; i + 1 < line_->readings.size(); ++i) {
      const WallOffset &a = reading(i), &b = reading(i + 1);
      if (along <= b.along && b.along > a.along)
        return a.offset + (b.offset - a.offset) * (along - a.along) / (b.along - a.along);
    }
    return reading(line_->readings.size() - 1).offset;
  }

  void heading() {
    Lettering l;
    l.text = "Face at " + shown(line_->at, 0, decimal_) + " from above, out × " +
             shown(enlarged_, 0, decimal_);
    l.ink = Ink::soft;
    l.on_blank = false;
    l.at = {box_.x + 16 + lettering_width(l, pen_.text_scale()) / 2, box_.y + em_ * 0.9f};
    pen_.letter(l, true);
  }

  void face() {
    std::vector<Spot> points;
    for (const Index i : line_->readings)
      points.push_back(at(wall_.offsets[i].along, wall_.offsets[i].offset));
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
      pen_.hatch(points[i], points[i + 1], {0, -1}, hatch_of(wall_.build));
    pen_.stroke(std::move(points), Ink::ink, LineWidth::face);
  }

  void rests_at(double along, Spot touch) {
    pen_.stroke({touch, {touch.x, touch.y + rest_mark}}, Ink::blue, LineWidth::face);
    Lettering l;
    l.text = "rests " + shown(along, 0, decimal_);
    l.ink = Ink::blue;
    l.bold = true;
    const float half = lettering_width(l, pen_.text_scale()) / 2 + 4;
    l.at = {std::min(std::max(touch.x, box_.x + half), box_.right() - half),
            touch.y + rest_mark + em_ * 0.75f};
    pen_.letter(l);
  }

  void resting(double a, double b) {
    const double slope = b > a ? (offset_at(b) - offset_at(a)) / (b - a) : 0;
    const auto line_at = [&](double along) { return offset_at(a) + slope * (along - a); };
    const auto on_line = [&](double along) { return at(along, line_at(along)); };
    const double first = reading(0).along, last = reading(line_->readings.size() - 1).along;
    pen_.stroke({on_line(first), on_line(last)}, Ink::blue, LineWidth::outline);
    for (const double along : {a, b}) rests_at(along, on_line(along));
    for (const Index i : line_->readings) {
      const WallOffset& o = wall_.offsets[i];
      const double gap = o.offset - line_at(o.along);
      if (gap < no_gap) continue;
      const Spot p = on_line(o.along);
      Lettering l;
      l.text = shown(gap, 1, decimal_);
      l.at = {p.x, p.y + 4 + em_ * 0.7f};
      pen_.letter(l);
    }
  }

  static DrawingPen::Hatch hatch_of(WallBuild build) {
    switch (build) {
      case WallBuild::masonry:
      case WallBuild::dot_and_dab:
        return DrawingPen::Hatch::diagonal;
      case WallBuild::unknown:
        return DrawingPen::Hatch::none;
      default:
        return DrawingPen::Hatch::upright;
    }
  }

  const Wall& wall_;
  char decimal_;
  Box box_;
  DrawingView elevation_;
  float em_, top_ = 0;
  double least_ = std::numeric_limits<double>::max(), most_ = -least_, enlarged_ = 1;
  std::vector<FaceLine> lines_;
  const FaceLine* line_;
  Drawing out_;
  DrawingPen pen_;
};

}  // namespace

float face_strip_height(float text_scale) {
  return 5.2f * lettering_height(TextHeight::caption, text_scale) + behind + rest_mark + 10;
}

Drawing face_strip(const Survey& survey, const RoomToDraw& drawn, const RoomResult* results,
                   Index wall, Box box, const DrawingView& elevation, float text_scale) {
  if (drawn.room >= survey.rooms.size() || wall >= survey.rooms[drawn.room].walls.size()) return {};
  const WallResult* result = nullptr;
  if (results)
    for (const WallResult& one : results->walls)
      if (one.wall == survey.rooms[drawn.room].walls[wall].id) result = &one;
  return StripDrawer(survey, drawn.room, wall, box, elevation, text_scale).draw(result);
}

}  // namespace levelrun
