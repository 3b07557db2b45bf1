// What of a photo is kept: its picture upright and not too large, as a JPEG with nothing else in
// it.
//
// A camera's file says when, where and with what it was taken. A job's photos are handed on, so the
// picture alone is decoded, turned as its EXIF orientation asks, scaled down and written anew.
//
// Read: JPEG (baseline and progressive, 8 bits) and PNG. Orientation: tag 0x0112 of IFD 0 of EXIF
// (CIPA DC-008, in a JPEG's APP1 or a PNG's eXIf); an EXIF block that does not hold to its own
// lengths is as if it were not there. What shows through a PNG is shown on white.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace levelrun {

inline constexpr int photo_edge = 2048;               // px, the longer edge of what is kept
inline constexpr double most_megapixels = 100;        // of what is read: 400 MB once decoded
inline constexpr std::size_t most_photo = 50U << 20;  // bytes of what is read

struct PhotoPixels {
  int w = 0, h = 0;
  std::vector<std::uint8_t> rgb;  // rows from the top, 3 bytes a pixel
};

// True for the first bytes of a picture a camera makes, also of one that cannot be read here.
bool looks_like_photo(std::string_view bytes);

// 1 (upright) to 8, as EXIF numbers them; 1 when the file does not say, or not soundly.
int photo_orientation(std::string_view bytes);

// Upright, and scaled down so that no edge is longer than `edge` px; never scaled up. False: `why`
// says what is wrong in words that go behind a name ("is no JPEG or PNG picture.").
bool decode_photo(std::string_view bytes, int edge, PhotoPixels&, std::string& why);

// A JPEG file without metadata.
std::string photo_jpeg(const PhotoPixels&);

// decode_photo at photo_edge, then photo_jpeg. Empty: `why` as above.
std::string plain_photo(std::string_view bytes, std::string& why);

}  // namespace levelrun
