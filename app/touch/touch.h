// Fingers, pens and mice: what was tapped, dragged, pinched and scrolled this frame.
//
// A tap is a press and a release on one target that moved less than 10 dp between; a drag never
// taps. Targets have a label, which is also how tests and screen readers find them; the later drawn
// lies on top. Nothing depends on hover, a right button or a held key.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "app/touch/box.h"

namespace levelrun {

class Touch {
 public:
  struct Target {
    std::string label;
    Box box;  // what of it can be touched
  };

  // Once a frame, after ImGui::NewFrame: reads the pointer from ImGui's io.
  void begin_frame();
  // Once a frame, when all is drawn: whose tap the release was is known for the next frame only
  // when all targets have been seen, so a tap is reported one frame after its release.
  void end_frame();

  // Registers a target; true in the frame after it was tapped. Clipped by the clip in force.
  bool tap(std::string_view label, Box);
  bool tapped(std::string_view label) const { return tapped_ == label; }
  bool double_tap(std::string_view label) const { return double_tapped_ == label; }
  bool pressed(std::string_view label) const { return held_ == label && !dragging_; }

  // Registers a region that is dragged (a plan, say) and gives how far in this frame; zero if not.
  // Where the last tap fell, for regions whose content is tapped by place.
  Spot drag(std::string_view label, Box);
  Spot tap_spot() const { return tap_spot_; }

  // Pinch or wheel over a region: a factor and the spot that stays; 1 if none.
  struct Zoom {
    float factor = 1;
    Spot about;
  };
  Zoom zoom(Box) const;
  void pinch(float factor, Spot about);  // from the platform, before the frame

  // A list that scrolls upwards and downwards. Gives how far down it is; content may be drawn at
  // box.y - offset. Drags, wheel and inertia are followed; the offset stays with the label.
  float scroll(std::string_view label, Box, float content_height);
  void scroll_to(std::string_view label, float offset) {
    scrolls_[std::string(label)].offset = offset;
  }

  void push_clip(Box);
  void pop_clip();

  // Frames are wanted: inertia, a tap to be reported.
  bool moving() const;

  const std::vector<Target>& targets() const { return shown_; }

  // Words being typed in a field of the machine's own (a web page's input), laid over ours.
  struct Words {
    bool external = false;  // the machine has such fields
    std::string id, text;   // empty id: none is open
    Box box;
    bool done = false;  // left, or Enter
  };
  Words words;

  // For a screen reader: the field in use and its result, when it changed.
  void say(std::string text) { said_ = std::move(text); }
  const std::string& said() const { return said_; }

  // Text that did not fit where it stood even when written smaller: for tests, which want none.
  void note_cut(std::string_view text) { cut_.push_back(std::string(text)); }
  const std::vector<std::string>& cut() const { return shown_cut_; }

 private:
  struct Scroll {
    float offset = 0, speed = 0;
    Box box;
    float most = 0;
  };
  Box clipped(Box) const;

  std::vector<Target> seen_, shown_;  // of this frame, of the last whole frame
  std::vector<Target> regions_, shown_regions_;
  std::vector<std::string> cut_, shown_cut_;
  std::string said_;
  std::vector<Box> clips_;
  std::unordered_map<std::string, Scroll> scrolls_;
  std::string held_, region_, scrolled_, tapped_, tapped_next_, double_tapped_;
  std::string last_tapped_;
  double last_tap_at_ = -10;
  Spot down_at_, last_, delta_, tap_spot_;
  bool down_ = false, dragging_ = false;
  std::optional<Zoom> pinch_;
};

}  // namespace levelrun
