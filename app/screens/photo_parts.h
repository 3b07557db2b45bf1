// Photos on a page: a row each with a small picture, one shown large, and the key that adds one.
//
// Pictures are decoded when they first come into sight and kept as textures only while the page
// that lists them is shown: the small ones up to a number, the large one alone.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>

#include "app/jobs/session.h"
#include "app/screens/screen_context.h"
#include "app/touch/show_drawing.h"

namespace levelrun {

class PhotoShelf {
 public:
  struct Shown {
    void* texture = nullptr;
    int w = 0, h = 0;   // px
    std::string why;    // no texture: a sentence
    std::string brief;  // the same in a few words
  };

  PhotoShelf(Platform&, FileLayer&);
  ~PhotoShelf();
  PhotoShelf(const PhotoShelf&) = delete;
  PhotoShelf& operator=(const PhotoShelf&) = delete;

  // Lets go of what the last frame did not draw.
  void begin_frame();
  // The graphics card forgot all textures: they are made again.
  void lost();
  const Shown& small(const Session&, const Photo&);
  // Longer edge at least as large as asked, px, where the file's is.
  const Shown& large(const Session&, const Photo&, float edge);
  std::size_t textures() const;

  // A photo was asked of the machine: what it will show.
  struct Wish {
    Index room = 0;
    std::string at;
  };
  std::optional<Wish> wish;
  std::string said, said_at;  // what came of the last photo put there

 private:
  struct Kept {
    Shown shown;
    bool used = false;
  };
  const Shown& get(const std::string& path, int edge);
  Shown read(const std::string& path, int edge);

  Platform& platform_;
  FileLayer& files_;
  std::map<std::pair<std::string, int>, Kept> kept_;  // by path and longer edge
};

// What a page remembers of its photos.
struct PhotoEntry {
  std::string open;     // file of the one shown large; empty: the page itself
  bool typing = false;  // the path of one to be added, where the machine cannot be asked
  std::string typed;
  std::string note, note_of;  // being typed
  std::string said;
  ViewMoves view;
};

// A row of a list: small picture and what it shows. The index is the photo's in its room.
float photo_row_height(const Sheet&, float width, const Session&, Index photo);
void draw_photo_row(ScreenContext&, Box, const Session&, Index photo, PhotoEntry&);

// The key "Add a photo", the field for a path under it when needed, and what came of the last one.
// `at`: JSON Pointer of what it will show, empty for the room. True: call give_photo, which may
// change the survey, when nothing more is read from it in this frame.
float photo_adder_height(ScreenContext&, float width, const PhotoEntry&, const std::string& at);
bool draw_photo_adder(ScreenContext&, Box, PhotoEntry&, const std::string& at);
void give_photo(ScreenContext&, Session&, PhotoEntry&, const std::string& at);

// The photo that is open, over the whole page. False: none is, and nothing was drawn.
bool draw_photo_page(ScreenContext&, Box, Session&, PhotoEntry&);

// A picture came from the machine: kept beside the job and named in it.
void photo_came(PhotoShelf&, FileLayer&, Session&, const std::string& name, std::string_view bytes);

}  // namespace levelrun
