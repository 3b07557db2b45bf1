#include "app/drawing/board_drawing.h"

#include <algorithm>
#include <cmath>

#include "app/drawing/pen.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

constexpr double least_cut = 0.05;  // mm: what is not cut is not hatched
constexpr double most_enlarged = 10;
constexpr float waste_apart = 6;  // dp

class BoardDrawer {
 public:
  BoardDrawer(const PlinthResult& cut, double stock, char decimal, Box box, float text_scale)
      : cut_(cut),
        stock_(stock),
        decimal_(decimal),
        box_(box),
        em_(lettering_height(TextHeight::caption, text_scale)),
        pen_(out_, {box, 1, 0, 0}, text_scale) {}

  Drawing draw() {
    if (cut_.length <= 0 || stock_ <= 0) return {};
    ordinates_ = cut_.ordinates;
    if (ordinates_.size() < 2)
      ordinates_ = {{0, cut_.height_left}, {cut_.length, cut_.height_right}};
    Lettering upright;
    upright.text = shown(stock_, 1, decimal_);
    upright.bold = true;
    const float figures = lettering_width(upright, pen_.text_scale()) + 10;
    // Figures stand at the edge that is cut; the note and the ends' alongs at the other.
    const float rest = em_ * 1.8f;
    const double room = double(box_.h - figures - rest);
    if (room < em_) return {};  // too low to tell anything
    along_ = std::min(double(box_.w - 4) / cut_.length, room / stock_);
    enlarged_ = std::clamp(std::floor(room / (stock_ * along_)), 1.0, most_enlarged);
    high_ = float(stock_ * along_ * enlarged_);
    const bool scribed = cut_.bottom == BottomCut::scribe;
    top_ = box_.y + (scribed ? rest : figures);
    board(scribed);
    figures_at(scribed);
    note(scribed);
    out_.scale = float(along_);
    return std::move(out_);
  }

 private:
  float x(double along) const { return box_.x + 2 + float(along * along_); }
  float down(double mm) const { return float(mm / stock_) * high_; }
  // The edge that is cut: below the top by what is taken off, or above the bottom by it.
  float cut_y(double height, bool scribed) const {
    return scribed ? top_ + down(height) : top_ + high_ - down(height);
  }

  void board(bool scribed) {
    const float left = x(0), right = x(cut_.length);
    pen_.stroke({{left, top_}, {right, top_}, {right, top_ + high_}, {left, top_ + high_}},
                Ink::rule, LineWidth::thin, Dash::dashed, true);
    const float straight = scribed ? top_ : top_ + high_;
    std::vector<Spot> outline{{left, straight}};
    for (const PlinthOrdinate& o : ordinates_)
      outline.push_back({x(o.along), cut_y(o.height, scribed)});
    outline.push_back({right, straight});
    waste(scribed);
    pen_.stroke(std::move(outline), Ink::ink, LineWidth::outline, Dash::solid, true);
    if (cut_.sealed_edge_down && !scribed)  // the factory's edge, twice: it is not touched
      pen_.stroke({{left, straight - 4}, {right, straight - 4}}, Ink::ink);
  }

  void waste(bool scribed) {
    const float edge = scribed ? top_ + high_ : top_;
    std::size_t i = 0;
    for (float at = x(0); at <= x(cut_.length); at += waste_apart) {
      const double along = (at - x(0)) / along_;
      while (i + 2 < ordinates_.size() && ordinates_[i + 1].along < along) ++i;
      const PlinthOrdinate &a = ordinates_[i], &b = ordinates_[i + 1];
      const double t =
          b.along > a.along ? std::clamp((along - a.along) / (b.along - a.along), 0.0, 1.0) : 0;
      const double height = a.height + t * (b.height - a.height);
      if (stock_ - height < least_cut) continue;
      out_.primitives.push_back(Stroke{{{at, edge}, {at, cut_y(height, scribed)}},
                                       Ink::rule,
                                       LineWidth::thin,
                                       Dash::solid,
                                       false,
                                       true});
    }
  }

  // Heights as cut, read from the right, where there is room: the ends first, then what is least.
  void figures_at(bool scribed) {
    std::vector<std::size_t> order{0, ordinates_.size() - 1};
    const auto least = std::min_element(
        ordinates_.begin(), ordinates_.end(),
        [](const PlinthOrdinate& a, const PlinthOrdinate& b) { return a.height < b.height; });
    order.push_back(std::size_t(least - ordinates_.begin()));
    for (std::size_t i = 1; i + 1 < ordinates_.size(); ++i) order.push_back(i);
    for (const std::size_t i : order) {
      const PlinthOrdinate& o = ordinates_[i];
      Lettering l;
      l.text = shown(o.height, 1, decimal_);
      l.turned = 90;
      l.on_blank = false;
      l.bold = i == 0 || i + 1 == ordinates_.size();
      const float half = lettering_width(l, pen_.text_scale()) / 2 + 6;
      const float edge = scribed ? top_ + high_ + half : top_ - half;
      l.at = {std::clamp(x(o.along), box_.x + em_ * 0.6f, box_.right() - em_ * 0.6f), edge};
      if (!pen_.letter(l)) continue;
      const float from = scribed ? top_ + high_ : top_;
      pen_.stroke({{x(o.along), from}, {x(o.along), scribed ? from + 5 : from - 5}}, Ink::ink);
    }
  }

  void note(bool scribed) {
    const float y = scribed ? top_ - em_ * 0.8f : top_ + high_ + em_ * 0.9f;
    const auto letter = [&](const std::string& text, float at, int align) {
      Lettering l;
      l.text = text;
      l.on_blank = false;
      const float half = lettering_width(l, pen_.text_scale()) / 2;
      l.at = {align < 0 ? at + half : align > 0 ? at - half : at, y};
      pen_.letter(l);
    };
    letter("0", x(0), -1);
    letter(shown_short(cut_.length, 1, decimal_), x(cut_.length), 1);
    letter(enlarged_ > 1 ? "heights × " + shown_short(enlarged_, 0, decimal_) : "to scale",
           (x(0) + x(cut_.length)) / 2, 0);
  }

  const PlinthResult& cut_;
  double stock_;
  char decimal_;
  Box box_;
  float em_, top_ = 0, high_ = 0;
  double along_ = 0, enlarged_ = 1;
  std::vector<PlinthOrdinate> ordinates_;
  Drawing out_;
  DrawingPen pen_;
};

}  // namespace

Drawing board_drawing(const PlinthResult& cut, double stock_height, char decimal, Box box,
                      float text_scale) {
  return BoardDrawer(cut, stock_height, decimal, box, text_scale).draw();
}

}  // namespace levelrun
