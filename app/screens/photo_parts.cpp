#include "app/screens/photo_parts.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/entry/set_patch.h"
#include "app/entry/wall_edits.h"
#include "app/jobs/photo_picture.h"
#include "app/jobs/photos.h"
#include "app/place_words.h"
#include "app/screens/app.h"
#include "app/touch/words_field.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

constexpr int small_edge = 256;         // px
constexpr std::size_t most_small = 32;  // out of sight and kept: 8 MB at most
constexpr int large_step = 256;         // px: a window being resized does not read at every size
constexpr float small_w = 96, small_h = 72;  // dp
constexpr float most_zoom = 8, tapped_zoom = 3;

const std::vector<Photo>& photos_of(const Session& session) {
  return session.survey().rooms[session.room].photos;
}

std::string photo_name(Index photo) { return "Photo " + std::to_string(photo + 1); }

std::string shows_words(const Session& session, const Photo& photo) {
  if (photo.at.empty()) return "the room";
  return place_words(session.document(), photo.at);
}

std::string row_words(const Photo& photo, Index index) {
  return photo.note.empty() ? photo_name(index) : photo.note;
}

Ink soft_ink(const Sheet& s) { return s.look.inks == InkSet::sun ? Ink::ink : Ink::soft; }

// The largest of the picture's shape in the middle of the box.
Box fitted(Box box, int w, int h) {
  if (w <= 0 || h <= 0) return box;
  const float scale = std::min(box.w / float(w), box.h / float(h));
  const float wide = float(w) * scale, high = float(h) * scale;
  return {box.x + (box.w - wide) / 2, box.y + (box.h - high) / 2, wide, high};
}

void draw_picture(Sheet& s, Box box, const PhotoShelf::Shown& shown) {
  s.list.AddImage(shown.texture, {box.x, box.y}, {box.right(), box.bottom()});
}

bool in_sight(const Sheet& s, Box box) {
  return box.bottom() > s.list.GetClipRectMin().y && box.y < s.list.GetClipRectMax().y;
}

// Dragged, pinched and double-tapped; the box it is drawn in.
Box moved(Sheet& s, Box box, Box fit, ViewMoves& view) {
  const char* const label = "The photo";
  s.touch.tap(label, box);
  Touch::Zoom zoom = s.touch.zoom(box);
  if (s.touch.double_tap(label))
    zoom = {view.zoom > 1 ? 1 / view.zoom : tapped_zoom, s.touch.tap_spot()};
  const Spot drag = s.touch.drag(label, box);
  const float factor = std::clamp(view.zoom * zoom.factor, 1.f, most_zoom) / view.zoom;
  const Spot middle = fit.middle();
  view.zoom *= factor;
  const auto along = [&](float now, float about, float size, float room) {
    const float free = std::max(0.f, (size * view.zoom - room) / 2);
    return std::clamp(now * factor + about * (1 - factor), -free, free);
  };
  view.moved = {along(view.moved.x + drag.x, zoom.about.x - middle.x, fit.w, box.w),
                along(view.moved.y + drag.y, zoom.about.y - middle.y, fit.h, box.h)};
  const float w = fit.w * view.zoom, h = fit.h * view.zoom;
  return {middle.x + view.moved.x - w / 2, middle.y + view.moved.y - h / 2, w, h};
}

// What came of it, in words. The file goes again if the survey does not take it.
std::string named(FileLayer& files, Session& session, Index room, const std::string& at,
                  const std::string& file) {
  if (session.apply(photo_patch(session.document(), room, file, at, ""), "photo " + file))
    return "Kept as " + file + ".";
  if (const std::string path = photo_path(session.path(), file); !path.empty()) files.remove(path);
  return session.trouble();
}

// Empty: the job can be changed.
std::string why_not(const Session& session) {
  return session.read_only() ? "No photo can be added: " + session.only_looks() : "";
}

}  // namespace

PhotoShelf::PhotoShelf(Platform& platform, FileLayer& files) : platform_(platform), files_(files) {}

PhotoShelf::~PhotoShelf() {
  for (auto& [key, kept] : kept_)
    if (kept.shown.texture) platform_.let_go(kept.shown.texture);
}

void PhotoShelf::begin_frame() {
  const bool any =
      std::any_of(kept_.begin(), kept_.end(), [](const auto& one) { return one.second.used; });
  std::size_t unused = 0;
  for (auto one = kept_.begin(); one != kept_.end();) {
    Kept& kept = one->second;
    const bool stays =
        kept.used || (any && one->first.second == small_edge && ++unused <= most_small);
    kept.used = false;
    if (!stays && kept.shown.texture) platform_.let_go(kept.shown.texture);
    one = stays ? std::next(one) : kept_.erase(one);
  }
}

void PhotoShelf::lost() { kept_.clear(); }

std::size_t PhotoShelf::textures() const {
  return std::size_t(std::count_if(kept_.begin(), kept_.end(), [](const auto& one) {
    return one.second.shown.texture != nullptr;
  }));
}

const PhotoShelf::Shown& PhotoShelf::small(const Session& session, const Photo& photo) {
  return get(photo_path(session.path(), photo.file), small_edge);
}

const PhotoShelf::Shown& PhotoShelf::large(const Session& session, const Photo& photo, float edge) {
  const int steps = int(std::ceil(std::clamp(edge, 1.f, float(photo_edge)) / large_step));
  // Never the small one's size, which is kept by another rule.
  return get(photo_path(session.path(), photo.file), std::max(2, steps) * large_step);
}

const PhotoShelf::Shown& PhotoShelf::get(const std::string& path, int edge) {
  auto found = kept_.find({path, edge});
  if (found == kept_.end())
    found = kept_.emplace(std::pair(path, edge), Kept{read(path, edge), true}).first;
  found->second.used = true;
  return found->second.shown;
}

PhotoShelf::Shown PhotoShelf::read(const std::string& path, int edge) {
  Shown out;
  if (path.empty()) {
    out.brief = "not opened";
    out.why = "Its name leads out of the folder this job is in, so it is not opened.";
    return out;
  }
  std::string bytes, why;
  if (const auto error = files_.read(path, most_photo, bytes)) {
    const bool missing = error == std::errc::no_such_file_or_directory;
    out.brief = missing ? "not on this machine" : "cannot be read";
    out.why = missing ? "The picture is not on this machine. Put its file beside the job to see it."
                      : "The picture cannot be read: " + error.message() + ".";
    return out;
  }
  PhotoPixels pixels;
  if (!decode_photo(bytes, edge, pixels, why)) {
    out.brief = "cannot be shown";
    out.why = "The file " + why;
    return out;
  }
  std::vector<std::uint8_t> rgba(pixels.rgb.size() / 3 * 4, 255);
  for (std::size_t i = 0; 3 * i < pixels.rgb.size(); ++i)
    std::copy_n(&pixels.rgb[3 * i], 3, &rgba[4 * i]);
  out.texture = platform_.picture(rgba.data(), pixels.w, pixels.h);
  out.w = pixels.w;
  out.h = pixels.h;
  if (!out.texture) {
    out.brief = "cannot be shown";
    out.why = "There is no memory left to show the picture with.";
  }
  return out;
}

float photo_row_height(const Sheet& s, float width, const Session& session, Index photo) {
  const Photo& one = photos_of(session)[photo];
  const float words = s.paragraph_height(width - small_w - 20, row_words(one, photo));
  return std::max(small_h, words + s.row(TextSize::caption)) + 12;
}

void draw_photo_row(ScreenContext& c, Box b, const Session& session, Index photo,
                    PhotoEntry& entry) {
  Sheet& s = c.sheet;
  if (!in_sight(s, b)) return;
  const Photo& one = photos_of(session)[photo];
  if (s.row_target(b, photo_name(photo))) {
    entry = {};
    entry.open = one.file;
  }
  s.rule_under(b);
  const PhotoShelf::Shown& shown = c.app.photos().small(session, one);
  Box in = b.inset(4, 6);
  Box picture = in.take_left(small_w);
  picture = {picture.x, picture.y + (picture.h - small_h) / 2, small_w, small_h};
  if (shown.texture) {
    draw_picture(s, fitted(picture, shown.w, shown.h), shown);
  } else {
    s.frame(picture, Ink::rule);
    s.line({picture.x, picture.bottom()}, {picture.right(), picture.y}, Ink::rule);
  }
  in.take_left(12);
  in.take_top(s.paragraph(in, row_words(one, photo)));
  const std::string beneath = shown.brief.empty() ? shows_words(session, one) : shown.brief;
  s.text(in.take_top(s.row(TextSize::caption)), beneath,
         {TextSize::caption, shown.brief.empty() ? soft_ink(s) : Ink::crayon});
}

float photo_adder_height(ScreenContext& c, float width, const PhotoEntry& entry,
                         const std::string& at) {
  const Sheet& s = c.sheet;
  const PhotoShelf& shelf = c.app.photos();
  float high = std::max(56.f, s.row() + 24) + 2 * gap;
  if (entry.typing) high += words_field_height(s) + gap;
  if (!shelf.said.empty() && shelf.said_at == at)
    high += s.paragraph_height(width, shelf.said, {TextSize::body, Ink::blue}) + gap;
  return high;
}

bool draw_photo_adder(ScreenContext& c, Box b, PhotoEntry& entry, const std::string& at) {
  Sheet& s = c.sheet;
  const PhotoShelf& shelf = c.app.photos();
  b.take_top(gap);
  bool given = false;
  const Box key = b.take_top(std::max(56.f, s.row() + 24));
  const bool asked = s.key(key, "Add a photo", entry.typing ? KeyLook::in_use : KeyLook::plain);
  b.take_top(gap);
  if (entry.typing) {
    given = words_field(s, b.take_top(words_field_height(s)), "Path of a JPEG or PNG", "photo",
                        entry.typed) &&
            !entry.typed.empty();
    b.take_top(gap);
  }
  if (!shelf.said.empty() && shelf.said_at == at) {
    const bool kept = shelf.said.starts_with("Kept as ");
    s.paragraph(b, shelf.said, {TextSize::body, kept ? Ink::blue : Ink::crayon});
  }
  if (asked && entry.typing && !given) {  // a second tap puts the field away
    entry.typing = false;
    return false;
  }
  return asked || given;
}

void give_photo(ScreenContext& c, Session& session, PhotoEntry& entry, const std::string& at) {
  PhotoShelf& shelf = c.app.photos();
  shelf.said_at = at;
  shelf.said = why_not(session);
  if (!shelf.said.empty()) return;
  if (!entry.typing) {
    shelf.wish = PhotoShelf::Wish{session.room, at};
    if (!c.platform.ask_for_photo()) {
      shelf.wish.reset();
      entry.typing = true;
    }
    return;
  }
  std::string why;
  const std::string file = keep_photo(c.files, session.path(), entry.typed, why);
  shelf.said = file.empty() ? why : named(c.files, session, session.room, at, file);
  if (file.empty()) return;
  entry.typed.clear();
  entry.typing = false;
}

void photo_came(PhotoShelf& shelf, FileLayer& files, Session& session, const std::string& name,
                std::string_view bytes) {
  const PhotoShelf::Wish wish = shelf.wish.value_or(PhotoShelf::Wish{session.room, std::string()});
  shelf.wish.reset();
  shelf.said_at = wish.at;
  shelf.said = why_not(session);
  if (!shelf.said.empty() || wish.room >= session.survey().rooms.size()) return;
  std::string why;
  const std::string file = keep_photo_bytes(files, session.path(), name, bytes, why);
  shelf.said = file.empty() ? why : named(files, session, wish.room, wish.at, file);
}

bool draw_photo_page(ScreenContext& c, Box page, Session& session, PhotoEntry& entry) {
  if (entry.open.empty()) return false;
  const std::vector<Photo>& photos = photos_of(session);
  const auto found = std::find_if(photos.begin(), photos.end(),
                                  [&](const Photo& p) { return p.file == entry.open; });
  if (found == photos.end()) {
    entry = {};
    return false;
  }
  Sheet& s = c.sheet;
  const Photo& photo = *found;
  const Index index = Index(found - photos.begin());
  if (entry.note_of != entry.open) {
    entry.note = photo.note;
    entry.note_of = entry.open;
  }
  // The picture over its words, or beside them.
  const float key_high = std::max(56.f, s.row() + 24);
  const std::string shows = "Shows " + shows_words(session, photo) + ".";
  Box side;
  if (s.portrait()) {
    const float wide = page.w - 2 * margin;
    float high = s.row(TextSize::title) + s.paragraph_height(wide, shows) + words_field_height(s) +
                 key_high + 5 * gap;
    if (!entry.said.empty()) high += s.paragraph_height(wide, entry.said) + gap;
    side = page.take_bottom(std::min(high, page.h * 0.7f));
    s.line({side.x, side.y}, {side.right(), side.y}, Ink::ink, 2);
  } else {
    const float wide = std::clamp(s.grown(340), 340.f, page.w * 0.45f);
    side = s.look.left_hand ? page.take_left(wide) : page.take_right(wide);
    const float edge = s.look.left_hand ? side.right() : side.x;
    s.line({edge, side.y}, {edge, side.bottom()}, Ink::rule);
  }

  const float ratio = ImGui::GetIO().DisplayFramebufferScale.x;
  const Box box = page.inset(gap);
  const PhotoShelf::Shown& shown = c.app.photos().large(
      session, photo, entry.view.zoom > 1 ? float(photo_edge) : std::max(box.w, box.h) * ratio);
  if (shown.texture) {
    s.push_clip(box);
    draw_picture(s, moved(s, box, fitted(box, shown.w, shown.h), entry.view), shown);
    s.pop_clip();
  } else {
    s.paragraph(box.inset(margin), shown.why, {TextSize::body, Ink::crayon});
  }

  Box in = side.inset(margin, gap);
  Box keys = in.take_bottom(key_high);
  const std::string place = pointer(session.room, "photos", index);
  const float wide = (keys.w - 2 * gap) / 3;
  const bool remove = s.key(keys.take_left(wide), "Delete");
  keys.take_left(gap);
  const bool next =
      s.key(keys.take_left(wide), "Next", photos.size() > 1 ? KeyLook::plain : KeyLook::not_yet);
  keys.take_left(gap);
  const bool back = s.key(keys, "Back", KeyLook::solid);
  Box head = in.take_top(s.row(TextSize::title));
  s.text(head, photo_name(index), {TextSize::title, Ink::ink, true});
  s.text(head, "of " + std::to_string(photos.size()),
         {TextSize::caption, soft_ink(s), false, Align::right});
  in.take_top(s.paragraph(in, shows) + gap);
  if (!entry.said.empty())
    in.take_top(s.paragraph(in, entry.said, {TextSize::body, Ink::crayon}) + gap);
  const bool noted = words_field(s, in.take_top(words_field_height(s)), "Note", "photo note",
                                 entry.note, "what is to be seen");

  // Last, because they replace the survey that all the above reads.
  const std::string following = photos[(index + 1) % photos.size()].file;
  if (noted && entry.note != photo.note) {
    const bool taken = session.apply(set_patch(session.document(), place + "/note", entry.note),
                                     "note of " + photo_name(index));
    entry.said = taken ? "" : session.trouble();
  }
  if (remove) {
    if (session.apply(remove_patch(place), photo_name(index) + " deleted"))
      entry = {};
    else
      entry.said = session.trouble();
  } else if (next) {
    entry = {};
    entry.open = following;
  } else if (back) {
    entry = {};
  }
  return true;
}

}  // namespace levelrun
