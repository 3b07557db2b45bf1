#include "app/pack/print_photos.h"

#include "app/photo_path.h"

namespace levelrun {
namespace {

// Markers of ITU-T T.81, table B.1.
constexpr int start = 0xD8, end = 0xD9, scan = 0xDA, comment = 0xFE;
constexpr int jfif = 0xE0, adobe = 0xEE;
bool is_frame(int marker) { return marker >= 0xC0 && marker <= 0xC2; }
bool is_other_frame(int marker) {  // lossless, arithmetic, hierarchical
  return marker >= 0xC3 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}
bool tells_of_the_camera(int marker) {
  return marker == comment ||
         (marker >= 0xE0 && marker <= 0xEF && marker != jfif && marker != adobe);
}
bool stands_alone(int marker) { return marker == 0x01 || (marker >= 0xD0 && marker <= 0xD7); }

}  // namespace

std::optional<PlainJpeg> plain_jpeg(std::string_view bytes) {
  const auto byte = [&](std::size_t i) {
    return i < bytes.size() ? int(static_cast<unsigned char>(bytes[i])) : -1;
  };
  if (byte(0) != 0xFF || byte(1) != start) return std::nullopt;
  PlainJpeg out;
  out.bytes = bytes.substr(0, 2);
  bool scanned = false;
  for (std::size_t i = 2; i < bytes.size();) {
    if (byte(i) != 0xFF) return std::nullopt;
    while (byte(i + 1) == 0xFF) ++i;  // fill
    const int marker = byte(i + 1);
    if (marker == end) {
      if (out.w <= 0 || !scanned) return std::nullopt;
      out.bytes += bytes.substr(i, 2);
      return out;
    }
    if (stands_alone(marker)) {
      out.bytes += bytes.substr(i, 2);
      i += 2;
      continue;
    }
    if (marker <= 0 || byte(i + 3) < 0) return std::nullopt;
    const std::size_t length = std::size_t(byte(i + 2)) * 256 + std::size_t(byte(i + 3));
    if (length < 2 || i + 2 + length > bytes.size()) return std::nullopt;
    if (is_other_frame(marker)) return std::nullopt;
    if (is_frame(marker)) {
      const int colours = byte(i + 9);
      out.h = byte(i + 5) * 256 + byte(i + 6);
      out.w = byte(i + 7) * 256 + byte(i + 8);
      if (length < 8 || byte(i + 4) != 8 || out.w <= 0 || out.h <= 0 ||
          (colours != 1 && colours != 3))
        return std::nullopt;
    }
    if (!tells_of_the_camera(marker)) out.bytes += bytes.substr(i, 2 + length);
    i += 2 + length;
    if (marker != scan) continue;
    // Coded data: an FF in it is followed by 00, or by a restart.
    scanned = true;
    const std::size_t from = i;
    while (i < bytes.size() &&
           (byte(i) != 0xFF || byte(i + 1) == 0 || (byte(i + 1) >= 0xD0 && byte(i + 1) <= 0xD7)))
      ++i;
    out.bytes += bytes.substr(from, i - from);
  }
  return std::nullopt;
}

std::vector<PrintPhoto> print_photos(FileLayer& files, const std::string& survey_path,
                                     const Survey& survey) {
  std::vector<PrintPhoto> out;
  std::size_t all = 0;
  for (const Room& room : survey.rooms)
    for (const Photo& photo : room.photos) {
      PrintPhoto one;
      one.file = photo.file;
      const std::string path = photo_path(survey_path, photo.file);
      std::string bytes;
      std::size_t size = 0;
      if (path.empty() || files.size(path, size)) {
        one.missing = true;
      } else if (all < most_print_photos && !files.read(path, most_print_photo, bytes)) {
        one.picture = plain_jpeg(bytes);
        if (one.picture) all += one.picture->bytes.size();
      }
      out.push_back(std::move(one));
    }
  return out;
}

}  // namespace levelrun
