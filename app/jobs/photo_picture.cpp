#include "app/jobs/photo_picture.h"

#include <stb/stb_image.h>
#include <stb/stb_image_write.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>

namespace levelrun {
namespace {

using namespace std::string_view_literals;

// Of 100; common practice for photos, no source: a 2,048 px photo takes about half a megabyte.
constexpr int jpeg_quality = 85;
// A progressive JPEG has about ten scans. Each is a pass over the whole picture, so a small file of
// thousands would keep a tablet busy for hours. The limit is ours.
constexpr int most_scans = 100;

constexpr const char* damaged = "is damaged, or a kind of JPEG or PNG that cannot be read here.";

constexpr std::string_view jpeg_start = "\xFF\xD8\xFF"sv;
constexpr std::string_view png_start = "\x89PNG\r\n\x1A\n"sv;
constexpr std::string_view exif_start = "Exif\0\0"sv;

unsigned byte(std::string_view s, std::size_t at) { return static_cast<unsigned char>(s[at]); }

// HEIF (ISO/IEC 23008-12): a box "ftyp" first, then a brand.
bool is_heif(std::string_view s) {
  if (s.size() < 12 || s.substr(4, 4) != "ftyp"sv) return false;
  const std::string_view brand = s.substr(8, 4);
  return brand == "heic"sv || brand == "heix"sv || brand == "mif1"sv || brand == "msf1"sv ||
         brand == "avif"sv;
}

// A TIFF header and its IFD 0: 12-byte entries of tag, type, count, value.
int tiff_orientation(std::string_view tiff) {
  constexpr unsigned orientation_tag = 0x0112, type_short = 3;
  constexpr std::size_t header = 8, entry_size = 12;
  if (tiff.size() < header) return 1;
  const bool little = tiff.starts_with("II*\0"sv);
  if (!little && !tiff.starts_with("MM\0*"sv)) return 1;
  const auto u16 = [&](std::size_t at) {
    return little ? byte(tiff, at) | byte(tiff, at + 1) << 8
                  : byte(tiff, at) << 8 | byte(tiff, at + 1);
  };
  const auto u32 = [&](std::size_t at) {
    return little ? u16(at) | u16(at + 2) << 16 : u16(at) << 16 | u16(at + 2);
  };
  const std::size_t start = u32(4);
  if (start < header || start > tiff.size() - 2) return 1;
  const std::size_t entries = u16(start);
  if (entries > (tiff.size() - start - 2) / entry_size) return 1;
  for (std::size_t i = 0; i < entries; ++i) {
    const std::size_t at = start + 2 + i * entry_size;
    if (u16(at) != orientation_tag) continue;
    const unsigned value = u16(at + 8);
    return u16(at + 2) == type_short && u32(at + 4) == 1 && value >= 1 && value <= 8 ? int(value)
                                                                                     : 1;
  }
  return 1;
}

struct FileParts {
  int orientation = 1;
  int scans = 0;
  bool ends = false;  // its last marker or chunk is there
  bool sound = true;  // nothing in it that its reader is known to stumble over
};

// Code tables (ITU-T T.81, B.2.4.2): 16 counts each, then as many symbols. Debian's stb_image does
// not compare the counts with the room it has, and takes code 255 for its own mark. A photo's
// tables have at most 176 codes.
bool sound_code_tables(std::string_view s) {
  constexpr std::size_t head = 17;
  constexpr unsigned most_codes = 255;
  while (!s.empty()) {
    if (s.size() < head) return false;
    unsigned codes = 0;
    for (std::size_t i = 1; i < head; ++i) codes += byte(s, i);
    if (codes > most_codes || codes > s.size() - head) return false;
    s.remove_prefix(head + codes);
  }
  return true;
}

// Markers by their lengths; within a scan's data, FF is followed by 00 or a restart.
FileParts jpeg_parts(std::string_view s) {
  FileParts parts;
  bool exif_seen = false;
  for (std::size_t at = 2; (at = s.find('\xFF', at)) != s.npos && at + 1 < s.size();) {
    const unsigned marker = byte(s, at + 1);
    if (marker == 0xFF) {  // fill
      ++at;
      continue;
    }
    at += 2;
    if (marker <= 0x01 || (marker >= 0xD0 && marker <= 0xD8)) continue;
    if (marker == 0xD9) {
      parts.ends = true;
      break;
    }
    if (s.size() - at < 2) break;
    const std::size_t length = byte(s, at) << 8 | byte(s, at + 1);
    if (length < 2 || length > s.size() - at) break;
    const std::string_view content = s.substr(at + 2, length - 2);
    if (marker == 0xDA) ++parts.scans;
    if (marker == 0xC4) parts.sound = parts.sound && sound_code_tables(content);
    if (marker == 0xE1 && !exif_seen && content.starts_with(exif_start)) {
      exif_seen = true;
      parts.orientation = tiff_orientation(content.substr(exif_start.size()));
    }
    at += length;
  }
  return parts;
}

FileParts png_parts(std::string_view s) {
  constexpr std::size_t around = 12;  // length, type, checksum
  FileParts parts;
  for (std::size_t at = png_start.size(); s.size() - at >= around;) {
    const std::size_t length = std::size_t(byte(s, at)) << 24 | byte(s, at + 1) << 16 |
                               byte(s, at + 2) << 8 | byte(s, at + 3);
    if (length > s.size() - at - around) break;
    const std::string_view type = s.substr(at + 4, 4);
    if (type == "eXIf"sv) parts.orientation = tiff_orientation(s.substr(at + 8, length));
    if (type == "IEND"sv) {
      parts.ends = true;
      break;
    }
    at += around + length;
  }
  return parts;
}

FileParts parts_of(std::string_view bytes) {
  if (bytes.starts_with(jpeg_start)) return jpeg_parts(bytes);
  if (bytes.starts_with(png_start)) return png_parts(bytes);
  return {};
}

// Which pixels fall on each pixel of a shorter line, and with what share of it.
struct Shares {
  struct Share {
    int first = 0, count = 0;
    std::size_t at = 0;  // in `weights`
  };
  std::vector<Share> of;
  std::vector<float> weights;

  Shares(int from, int to) {
    const double step = double(from) / to;
    for (int i = 0; i < to; ++i) {
      const double low = i * step, high = std::min((i + 1) * step, double(from));
      Share share{int(low), 0, weights.size()};
      for (int k = share.first; k < from && k < high; ++k, ++share.count)
        weights.push_back(float((std::min(high, k + 1.0) - std::max(low, double(k))) / step));
      of.push_back(share);
    }
  }
};

// Every pixel the mean of what falls on it: nothing thin vanishes.
PhotoPixels scaled(const std::uint8_t* pixels, int w, int h, int channels, int edge) {
  PhotoPixels out;
  const double factor = std::min(1.0, double(edge) / std::max(w, h));
  out.w = std::clamp(int(std::lround(w * factor)), 1, w);
  out.h = std::clamp(int(std::lround(h * factor)), 1, h);
  out.rgb.resize(std::size_t(out.w) * std::size_t(out.h) * 3);
  const Shares across(w, out.w), down(h, out.h);
  std::vector<std::uint8_t> row(std::size_t(w) * 3);
  std::vector<float> sum(std::size_t(out.w) * 3);
  const auto add_row = [&](int y, float share) {
    const std::uint8_t* from = pixels + std::size_t(y) * std::size_t(w) * std::size_t(channels);
    if (channels == 4) {  // on white
      for (std::size_t x = 0; x < std::size_t(w); ++x)
        for (std::size_t k = 0; k < 3; ++k) {
          const int alpha = from[4 * x + 3];
          row[3 * x + k] =
              std::uint8_t((from[4 * x + k] * alpha + 255 * (255 - alpha) + 127) / 255);
        }
      from = row.data();
    }
    for (std::size_t x = 0; x < across.of.size(); ++x) {
      const Shares::Share& one = across.of[x];
      float r = 0, g = 0, b = 0;
      const std::uint8_t* p = from + 3 * one.first;
      for (std::size_t i = 0; i < std::size_t(one.count); ++i, p += 3) {
        const float weight = across.weights[one.at + i];
        r += weight * float(p[0]);
        g += weight * float(p[1]);
        b += weight * float(p[2]);
      }
      sum[3 * x] += share * r;
      sum[3 * x + 1] += share * g;
      sum[3 * x + 2] += share * b;
    }
  };
  std::uint8_t* to = out.rgb.data();
  for (const Shares::Share& one : down.of) {
    std::fill(sum.begin(), sum.end(), 0.f);
    for (int i = 0; i < one.count; ++i)
      add_row(one.first + i, down.weights[one.at + std::size_t(i)]);
    for (const float value : sum) *to++ = std::uint8_t(std::clamp(value + 0.5f, 0.f, 255.f));
  }
  return out;
}

// EXIF says where the first row and the first column of what is stored belong: 1 top left,
// 2 top right, 3 bottom right, 4 bottom left; 5 to 8 the same with rows standing upright.
PhotoPixels upright(PhotoPixels stored, int orientation) {
  if (orientation == 1) return stored;
  const bool swaps = orientation >= 5;
  PhotoPixels out;
  out.w = swaps ? stored.h : stored.w;
  out.h = swaps ? stored.w : stored.h;
  out.rgb.resize(stored.rgb.size());
  const int last_x = stored.w - 1, last_y = stored.h - 1;
  std::uint8_t* to = out.rgb.data();
  for (int y = 0; y < out.h; ++y)
    for (int x = 0; x < out.w; ++x, to += 3) {
      int from_x = swaps ? y : x, from_y = swaps ? x : y;
      if (orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8)
        from_x = last_x - from_x;
      if (orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7)
        from_y = last_y - from_y;
      std::memcpy(
          to, &stored.rgb[3 * (std::size_t(from_y) * std::size_t(stored.w) + std::size_t(from_x))],
          3);
    }
  return out;
}

}  // namespace

bool looks_like_photo(std::string_view bytes) {
  return bytes.starts_with(jpeg_start) || bytes.starts_with(png_start) || is_heif(bytes);
}

int photo_orientation(std::string_view bytes) { return parts_of(bytes).orientation; }

bool decode_photo(std::string_view bytes, int edge, PhotoPixels& out, std::string& why) {
  if (bytes.size() > most_photo) {
    why = "is larger than " + std::to_string(most_photo >> 20) + " MB.";
    return false;
  }
  if (is_heif(bytes)) {
    why = "is a HEIF picture, which cannot be read here: set the camera to JPEG.";
    return false;
  }
  if (!looks_like_photo(bytes)) {
    why = "is no JPEG or PNG picture.";
    return false;
  }
  const FileParts parts = parts_of(bytes);
  if (!parts.ends) {
    why = "is cut off: its end is missing.";
    return false;
  }
  if (!parts.sound || parts.scans > most_scans) {
    why = damaged;
    return false;
  }
  const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
  const int size = int(bytes.size());
  int w = 0, h = 0, channels = 0;
  if (!stbi_info_from_memory(data, size, &w, &h, &channels) || w < 1 || h < 1) {
    why = damaged;
    return false;
  }
  const double megapixels = double(w) * h / 1e6;
  if (megapixels > most_megapixels) {
    why = "has " + std::to_string(std::llround(std::ceil(megapixels))) + " megapixels; " +
          std::to_string(std::llround(most_megapixels)) + " is the most.";
    return false;
  }
  const int wanted = channels == 2 || channels == 4 ? 4 : 3;
  const std::unique_ptr<stbi_uc, void (*)(void*)> pixels(
      stbi_load_from_memory(data, size, &w, &h, &channels, wanted), stbi_image_free);
  if (!pixels) {
    why = stbi_failure_reason() == "outofmem"sv ? "is too large for the memory that is free here."
                                                : damaged;
    return false;
  }
  out = upright(scaled(pixels.get(), w, h, wanted, edge), parts.orientation);
  return true;
}

std::string photo_jpeg(const PhotoPixels& p) {
  std::string out;
  stbi_write_jpg_to_func(
      [](void* to, void* data, int size) {
        static_cast<std::string*>(to)->append(static_cast<const char*>(data), std::size_t(size));
      },
      &out, p.w, p.h, 3, p.rgb.data(), jpeg_quality);
  return out;
}

std::string plain_photo(std::string_view bytes, std::string& why) {
  PhotoPixels pixels;
  if (!decode_photo(bytes, photo_edge, pixels, why)) return {};
  return photo_jpeg(pixels);
}

}  // namespace levelrun
