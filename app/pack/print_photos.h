// Photos as they go into print: JPEG files as they are, without what a camera writes beside the
// picture (when, where, with what it was taken).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "survey/file_layer.h"
#include "survey/survey.h"

namespace levelrun {

inline constexpr std::size_t most_print_photo = 8U << 20;    // bytes of one that is printed
inline constexpr std::size_t most_print_photos = 48U << 20;  // bytes of all of them

struct PlainJpeg {
  std::string bytes;
  int w = 0, h = 0;  // px
};
// Frame and scans of a JPEG (ITU-T T.81: baseline, extended or progressive, 8 bits, grey or three
// colours), comments and application data left out but for JFIF's and Adobe's, which say what the
// colours are. Empty: it is no such file, or not whole.
std::optional<PlainJpeg> plain_jpeg(std::string_view bytes);

struct PrintPhoto {
  std::string file;  // as the survey calls it
  bool missing = false;
  std::optional<PlainJpeg> picture;  // empty: missing, not one that is printed, or too large
};
// The photos of all rooms, in their order.
std::vector<PrintPhoto> print_photos(FileLayer&, const std::string& survey_path, const Survey&);

}  // namespace levelrun
