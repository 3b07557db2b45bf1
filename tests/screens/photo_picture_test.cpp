// Pictures made here, as a camera would store them: eight orientations by the colours of their
// corners, EXIF blocks whose lengths lie, and what must not be left in a photo that is kept.
#include "app/jobs/photo_picture.h"

#include <doctest/doctest.h>
#include <stb/stb_image_write.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

using namespace levelrun;
using namespace std::string_literals;

namespace {

struct Colour {
  int r, g, b;
};
constexpr Colour red{230, 20, 20}, green{20, 200, 20}, blue{20, 20, 230}, yellow{230, 220, 20};

// Quarters: red and green above, blue and yellow below.
PhotoPixels quarters(int w, int h) {
  PhotoPixels p{w, h, {}};
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      const Colour c = y < h / 2 ? (x < w / 2 ? red : green) : (x < w / 2 ? blue : yellow);
      for (const int part : {c.r, c.g, c.b}) p.rgb.push_back(std::uint8_t(part));
    }
  return p;
}

// Within what JPEG may change of a plain colour; the bound is ours.
bool is(const PhotoPixels& p, int x, int y, Colour c) {
  const std::uint8_t* at = &p.rgb[std::size_t(3 * (y * p.w + x))];
  return std::abs(at[0] - c.r) < 16 && std::abs(at[1] - c.g) < 16 && std::abs(at[2] - c.b) < 16;
}

void write_to(void* to, void* data, int size) {
  static_cast<std::string*>(to)->append(static_cast<const char*>(data), std::size_t(size));
}

std::string png(int w, int h, int channels, const std::vector<std::uint8_t>& bytes) {
  std::string out;
  stbi_write_png_to_func(write_to, &out, w, h, channels, bytes.data(), w * channels);
  return out;
}

std::string u16(int value, bool little) {
  const std::string low(1, char(value & 0xFF)), high(1, char(value >> 8 & 0xFF));
  return little ? low + high : high + low;
}
std::string u32(unsigned value, bool little) {
  const std::string low = u16(int(value & 0xFFFF), little), high = u16(int(value >> 16), little);
  return little ? low + high : high + low;
}

// IFD 0 with a maker's name, an orientation and a pointer to places on earth (CIPA DC-008).
std::string tiff(int orientation, bool little = true) {
  std::string out = little ? "II*\0"s : "MM\0*"s;
  out += u32(8, little) + u16(3, little);
  out += u16(0x010F, little) + u16(2, little) + u32(4, little) + "CAM\0"s;
  out += u16(0x0112, little) + u16(3, little) + u32(1, little) + u16(orientation, little) +
         u16(0, little);
  out += u16(0x8825, little) + u16(4, little) + u32(1, little) + u32(50, little);
  return out + u32(0, little) + "GPS 51.5N 0.1W"s;
}

std::string segment(int marker, const std::string& content) {
  return "\xFF"s + char(marker) + u16(int(content.size()) + 2, false) + content;
}

// As cameras write it: right behind the start of the file.
std::string with_exif(const std::string& jpeg, const std::string& exif) {
  return jpeg.substr(0, 2) + segment(0xE1, "Exif\0\0"s + exif) + jpeg.substr(2);
}

std::string why_refused(const std::string& bytes) {
  std::string why;
  CHECK(plain_photo(bytes, why).empty());
  return why;
}

}  // namespace

TEST_CASE("a photo is turned by its EXIF orientation, all eight of them") {
  // Upright corners of a picture whose stored ones are red, green / blue, yellow: CIPA DC-008,
  // where the stored first row and first column belong.
  struct {
    int orientation;
    Colour top_left, top_right, low_left, low_right;
    bool swaps;
  } const turned[] = {
      {1, red, green, blue, yellow, false}, {2, green, red, yellow, blue, false},
      {3, yellow, blue, green, red, false}, {4, blue, yellow, red, green, false},
      {5, red, blue, green, yellow, true},  {6, blue, red, yellow, green, true},
      {7, yellow, green, blue, red, true},  {8, green, yellow, red, blue, true},
  };
  const std::string stored = photo_jpeg(quarters(64, 32));
  for (const auto& t : turned)
    for (const bool little : {true, false}) {
      CAPTURE(t.orientation);
      CAPTURE(little);
      const std::string file = with_exif(stored, tiff(t.orientation, little));
      CHECK(photo_orientation(file) == t.orientation);
      PhotoPixels p;
      std::string why;
      REQUIRE(decode_photo(file, 2048, p, why));
      CHECK(p.w == (t.swaps ? 32 : 64));
      CHECK(p.h == (t.swaps ? 64 : 32));
      CHECK(is(p, 4, 4, t.top_left));
      CHECK(is(p, p.w - 5, 4, t.top_right));
      CHECK(is(p, 4, p.h - 5, t.low_left));
      CHECK(is(p, p.w - 5, p.h - 5, t.low_right));
    }
}

TEST_CASE("a PNG is turned too, and what shows through it is white") {
  std::vector<std::uint8_t> clear(4 * 8 * 4);                  // black, and all of it clear
  for (std::size_t i = 0; i < 4; ++i) clear[4 * i + 3] = 255;  // but half of the first row
  std::string file = png(8, 4, 4, clear);
  const std::string exif = tiff(6);
  // The checksum is not looked at.
  file.insert(33, u32(unsigned(exif.size()), false) + "eXIf" + exif + "\0\0\0\0"s);
  CHECK(photo_orientation(file) == 6);
  PhotoPixels p;
  std::string why;
  REQUIRE(decode_photo(file, 2048, p, why));
  CHECK(p.w == 4);
  CHECK(p.h == 8);
  CHECK(is(p, 3, 0, {0, 0, 0}));
  CHECK(is(p, 3, 7, {255, 255, 255}));
  CHECK(is(p, 0, 0, {255, 255, 255}));
}

TEST_CASE("nothing of the file but its picture is kept") {
  std::string file = with_exif(photo_jpeg(quarters(64, 32)), tiff(1));
  file.insert(2, segment(0xE1, "http://ns.adobe.com/xap/1.0/\0<x:xmpmeta GPSLatitude/>"s) +
                     segment(0xFE, "a comment") + segment(0xED, "Photoshop 3.0\0"s));
  file += "a second picture behind the first";
  std::string why;
  const std::string kept = plain_photo(file, why);
  REQUIRE(!kept.empty());
  for (const char* word : {"Exif", "GPS", "xmp", "comment", "Photoshop", "CAM", "second"}) {
    CAPTURE(word);
    CHECK(file.find(word) != file.npos);
    CHECK(kept.find(word) == kept.npos);
  }
  // No segment of an application but JFIF's own, no comment (ITU-T T.81, table B.1).
  for (std::size_t at = 2; at + 4 < kept.size();) {
    const int marker = static_cast<unsigned char>(kept[at + 1]);
    CHECK(kept[at] == '\xFF');
    CHECK(marker != 0xFE);
    CHECK_FALSE((marker > 0xE0 && marker <= 0xEF));
    if (marker == 0xDA) break;
    at += 2 + std::size_t(static_cast<unsigned char>(kept[at + 2]) << 8 |
                          static_cast<unsigned char>(kept[at + 3]));
  }
  // Orientation is in the picture now, and is not applied twice.
  CHECK(photo_orientation(kept) == 1);
}

TEST_CASE("the longer edge is 2,048 at most, the shape stays, and nothing is scaled up") {
  const struct {
    int w, h, to_w, to_h;
  } sizes[] = {{4096, 2048, 2048, 1024},
               {1000, 3000, 683, 2048},
               {2049, 10, 2048, 10},
               {2048, 2048, 2048, 2048},
               {40, 30, 40, 30},
               {5000, 1, 2048, 1},
               {1, 1, 1, 1}};
  for (const auto& size : sizes) {
    CAPTURE(size.w);
    CAPTURE(size.h);
    std::string why;
    const std::string kept = plain_photo(photo_jpeg(quarters(size.w, size.h)), why);
    PhotoPixels p;
    REQUIRE(decode_photo(kept, 10000, p, why));
    CHECK(p.w == size.to_w);
    CHECK(p.h == size.to_h);
  }
}

TEST_CASE("a picture scaled down is the mean of what falls on each pixel") {
  std::vector<std::uint8_t> stripes;  // black and white columns, one pixel each
  for (int i = 0; i < 300 * 300; ++i)
    for (int k = 0; k < 3; ++k) stripes.push_back(i % 2 ? 255 : 0);
  PhotoPixels p;
  std::string why;
  REQUIRE(decode_photo(png(300, 300, 3, stripes), 150, p, why));
  REQUIRE(p.w == 150);
  for (const std::uint8_t value : p.rgb) CHECK_FALSE((value < 127 || value > 128));
  // Not a whole factor: one and a half columns each, black, white, black, white: a third is white
  // in the first and the second, two thirds in the next.
  REQUIRE(decode_photo(png(300, 300, 3, stripes), 200, p, why));
  CHECK(int(p.rgb[0]) == 85);
  CHECK(int(p.rgb[3]) == 85);
  CHECK(int(p.rgb[6]) == 170);
}

TEST_CASE("what is no photo is refused in words") {
  CHECK(why_refused("") == "is no JPEG or PNG picture.");
  CHECK(why_refused("no picture") == "is no JPEG or PNG picture.");
  CHECK(why_refused("GIF89a..........") == "is no JPEG or PNG picture.");
  CHECK(why_refused("\0\0\0\x18"
                    "ftypheic"s +
                    "\0\0\0\0"s)
            .starts_with("is a HEIF picture"));
  const std::string jpeg = photo_jpeg(quarters(64, 32));
  CHECK(why_refused(jpeg.substr(0, jpeg.size() / 2)) == "is cut off: its end is missing.");
  CHECK(why_refused("\xFF\xD8\xFF\xD9"s).starts_with("is damaged"));
  CHECK(why_refused(std::string(most_photo + 1, '\xFF')) == "is larger than 50 MB.");
  std::string of_png = png(4, 4, 3, std::vector<std::uint8_t>(48));
  CHECK(why_refused(of_png.substr(0, of_png.size() - 12)) == "is cut off: its end is missing.");
}

TEST_CASE("100 megapixels are looked at, one row more is refused before it is decoded") {
  // Only the size said is changed; the picture behind it is far too short for it.
  const auto sized = [](int w, int h) {
    std::string file = photo_jpeg(quarters(16, 16));
    const std::size_t frame = file.find("\xFF\xC0");
    REQUIRE(frame != file.npos);
    return file.replace(frame + 5, 4, u16(h, false) + u16(w, false));
  };
  CHECK(why_refused(sized(10000, 10001)) == "has 101 megapixels; 100 is the most.");
  CHECK(why_refused(sized(65500, 65500)) == "has 4291 megapixels; 100 is the most.");
  std::string of_png = png(4, 4, 3, std::vector<std::uint8_t>(48));
  of_png.replace(16, 8, u32(100000, false) + u32(2000, false));
  CHECK(why_refused(of_png) == "has 200 megapixels; 100 is the most.");
}

TEST_CASE("EXIF whose lengths lie is as if it were not there") {
  const std::string jpeg = photo_jpeg(quarters(32, 32));
  const auto orientation = [&](const std::string& exif) {
    const std::string file = with_exif(jpeg, exif);
    PhotoPixels p;
    std::string why;
    CHECK(decode_photo(file, 64, p, why));
    return photo_orientation(file);
  };
  REQUIRE(orientation(tiff(6)) == 6);
  for (const int value : {0, 9, 255, 65535}) CHECK(orientation(tiff(value)) == 1);
  for (const unsigned start : {0U, 7U, 0x7FFFFFFFU, 0xFFFFFFFEU, 0xFFFFFFFFU})
    CHECK(orientation(tiff(6).replace(4, 4, u32(start, true))) == 1);
  CHECK(orientation(tiff(6).replace(8, 2, "\xFF\xFF")) == 1);           // entries
  CHECK(orientation(tiff(6).replace(8, 2, u16(1, true))) == 1);         // ends before it
  CHECK(orientation(tiff(6).replace(24, 2, u16(4, true))) == 1);        // of another type
  CHECK(orientation(tiff(6).replace(26, 4, u32(2, true))) == 1);        // two of them
  CHECK(orientation(tiff(6).replace(26, 4, "\xFF\xFF\xFF\xFF")) == 1);  // very many
  CHECK(orientation("") == 1);
  CHECK(orientation("XX*\0"s + tiff(6).substr(4)) == 1);
  // Cut anywhere: found only when its entry is whole, and never beyond the block.
  const std::string whole = tiff(6);
  for (std::size_t n = 0; n < whole.size(); ++n) {
    CAPTURE(n);
    const int got = orientation(whole.substr(0, n));
    CHECK(got == (n < 8 + 2 + 3 * 12 ? 1 : 6));
  }
}

TEST_CASE("segments whose lengths lie are refused, and none is read beyond the file") {
  const std::string jpeg = photo_jpeg(quarters(32, 32));
  for (const int length : {0, 1, 65535}) {
    std::string file = with_exif(jpeg, tiff(6));
    file.replace(4, 2, u16(length, false));
    CAPTURE(length);
    CHECK(!why_refused(file).empty());
    CHECK(photo_orientation(file) == 1);
  }
  std::string of_png = png(4, 4, 3, std::vector<std::uint8_t>(48));
  of_png.replace(33, 4, "\xFF\xFF\xFF\xFF");
  CHECK(why_refused(of_png) == "is cut off: its end is missing.");
}

TEST_CASE("code tables with more codes than there is room for are refused") {
  const std::string jpeg = photo_jpeg(quarters(32, 32));
  const std::size_t table = jpeg.find("\xFF\xC4");
  REQUIRE(table != jpeg.npos);
  for (const int codes : {20, 200, 255}) {  // of each of 16 lengths
    CAPTURE(codes);
    const std::string lie = segment(
        0xC4, std::string(1, '\0') + std::string(16, char(codes)) + std::string(16 * 255, 'x'));
    CHECK(why_refused(jpeg.substr(0, table) + lie + jpeg.substr(table)).starts_with("is damaged"));
  }
}

TEST_CASE("a photo of thousands of passes is refused rather than decoded for hours") {
  const std::string jpeg = photo_jpeg(quarters(32, 32));
  const std::size_t scan = jpeg.find("\xFF\xDA"), end = jpeg.size() - 2;
  REQUIRE(scan != jpeg.npos);
  std::string file = jpeg.substr(0, scan);
  for (int n = 0; n < 101; ++n) file += jpeg.substr(scan, end - scan);
  CHECK(why_refused(file + "\xFF\xD9").starts_with("is damaged"));
}

TEST_CASE("bytes changed at random give a picture or words, nothing else") {
  const std::string files[] = {with_exif(photo_jpeg(quarters(48, 32)), tiff(6)),
                               png(12, 9, 4, std::vector<std::uint8_t>(12 * 9 * 4, 77))};
  unsigned seed = 20260312;
  const auto next = [&] { return seed = seed * 1664525U + 1013904223U, seed >> 8; };
  int shown = 0, refused = 0;
  for (int n = 0; n < 4000; ++n) {
    std::string file = files[n % 2];
    for (unsigned k = next() % 4 + 1; k > 0; --k) file[next() % file.size()] = char(next());
    PhotoPixels p;
    std::string why;
    const bool good = decode_photo(file, 32, p, why);
    ++(good ? shown : refused);
    CHECK(good == why.empty());
    if (good) CHECK(p.rgb.size() == std::size_t(3 * p.w * p.h));
  }
  CHECK(shown > 100);
  CHECK(refused > 100);
}
