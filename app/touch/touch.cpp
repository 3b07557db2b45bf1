#include "app/touch/touch.h"

#include <imgui.h>

#include <cmath>
#include <utility>

namespace levelrun {
namespace {

constexpr float drag_after = 10;        // dp: a shaking finger still taps
constexpr double double_within = 0.35;  // s
constexpr float inertia = 0.92f;        // of the speed, a frame
constexpr float still = 0.5f;           // dp a frame: it stands
constexpr float wheel_step = 60;        // dp a notch
constexpr float wheel_factor = 1.15f;   // zoom a notch

// The topmost that holds the spot.
std::string under(const std::vector<Touch::Target>& targets, Spot spot) {
  for (auto t = targets.rbegin(); t != targets.rend(); ++t)
    if (t->box.holds(spot)) return t->label;
  return {};
}

}  // namespace

void Touch::begin_frame() {
  const ImGuiIO& io = ImGui::GetIO();
  tapped_ = std::exchange(tapped_next_, {});
  double_tapped_.clear();
  if (!tapped_.empty()) {
    const double now = ImGui::GetTime();
    if (tapped_ == last_tapped_ && now - last_tap_at_ < double_within) double_tapped_ = tapped_;
    last_tapped_ = tapped_;
    last_tap_at_ = double_tapped_.empty() ? now : -10;
  }
  delta_ = {};
  const Spot at{io.MousePos.x, io.MousePos.y};
  const bool down = io.MouseDown[0];
  if (down && !down_) {
    down_at_ = last_ = at;
    dragging_ = false;
    held_ = under(shown_, at);
    region_ = under(shown_regions_, at);
    scrolled_.clear();
    for (auto& [label, scroll] : scrolls_)
      if (scroll.box.holds(at)) scrolled_ = label, scroll.speed = 0;
  } else if (down) {
    if (std::hypot(at.x - down_at_.x, at.y - down_at_.y) > drag_after) dragging_ = true;
    if (dragging_) {
      delta_ = {at.x - last_.x, at.y - last_.y};
      last_ = at;
    }
  } else if (down_) {
    if (!dragging_ && !held_.empty()) {
      tapped_next_ = held_;
      tap_spot_ = down_at_;
    }
    held_.clear();
  }
  down_ = down;
  for (auto& [label, scroll] : scrolls_) {
    if (down_ && dragging_ && label == scrolled_) {
      scroll.speed = -delta_.y;
      scroll.offset += scroll.speed;
    } else if (std::abs(scroll.speed) > still) {
      scroll.offset += scroll.speed;
      scroll.speed *= inertia;
    } else {
      scroll.speed = 0;
    }
    if (io.MouseWheel != 0 && scroll.box.holds(at)) scroll.offset -= io.MouseWheel * wheel_step;
    scroll.box = {};  // until it is drawn again
  }
  seen_.clear();
  regions_.clear();
  clips_.clear();
}

void Touch::end_frame() {
  shown_.swap(seen_);
  shown_regions_.swap(regions_);
  shown_cut_ = std::exchange(cut_, {});
  pinch_.reset();
}

Box Touch::clipped(Box box) const {
  if (clips_.empty()) return box;
  const Box& clip = clips_.back();
  const float x = std::max(box.x, clip.x), y = std::max(box.y, clip.y);
  return {x, y, std::min(box.right(), clip.right()) - x, std::min(box.bottom(), clip.bottom()) - y};
}

bool Touch::tap(std::string_view label, Box box) {
  const Box seen = clipped(box);
  if (!seen.empty()) seen_.push_back({std::string(label), seen});
  return tapped_ == label;
}

Spot Touch::drag(std::string_view label, Box box) {
  regions_.push_back({std::string(label), clipped(box)});
  return down_ && dragging_ && region_ == label ? delta_ : Spot{};
}

Touch::Zoom Touch::zoom(Box box) const {
  if (pinch_ && box.holds(pinch_->about)) return *pinch_;
  const ImGuiIO& io = ImGui::GetIO();
  const Spot at{io.MousePos.x, io.MousePos.y};
  if (io.MouseWheel != 0 && box.holds(at)) return {std::pow(wheel_factor, io.MouseWheel), at};
  return {};
}

void Touch::pinch(float factor, Spot about) {
  pinch_ = pinch_ ? Zoom{pinch_->factor * factor, about} : Zoom{factor, about};
  dragging_ = true;
  held_.clear();
}

float Touch::scroll(std::string_view label, Box box, float content_height) {
  Scroll& scroll = scrolls_[std::string(label)];
  scroll.box = clipped(box);
  scroll.most = std::max(0.f, content_height - box.h);
  const float kept = std::clamp(scroll.offset, 0.f, scroll.most);
  if (kept != scroll.offset) scroll.speed = 0;
  scroll.offset = kept;
  return std::round(kept);
}

void Touch::push_clip(Box box) { clips_.push_back(clipped(box)); }
void Touch::pop_clip() { clips_.pop_back(); }

bool Touch::moving() const {
  if (!tapped_next_.empty() || down_) return true;
  for (const auto& [label, scroll] : scrolls_)
    if (scroll.speed != 0) return true;
  return false;
}

}  // namespace levelrun
