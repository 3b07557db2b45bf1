#include "survey/attached_survey.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>

using namespace levelrun;

namespace {

constexpr std::size_t most = 1 << 20;
const std::string survey = "{\"format\": \"levelrun-survey\"}\n";

std::string pdf_with(const std::string& dictionary, const std::string& body) {
  return "%PDF-1.4\n3 0 obj\n<<\n/Type /EmbeddedFile\n" + dictionary + ">>\nstream\r\n" + body +
         "\nendstream\nendobj\n";
}

// A zlib stream (RFC 1950) of one stored block (RFC 1951, 3.2.4), by hand.
std::string stored(const std::string& text) {
  std::string out = "\x78\x01\x01";
  const auto n = text.size();
  for (const std::size_t v : {n, ~n & 0xFFFF}) {
    out += char(v & 255);
    out += char(v >> 8 & 255);
  }
  std::uint32_t a = 1, b = 0;
  for (const unsigned char c : text) {
    a = (a + c) % 65521;
    b = (b + a) % 65521;
  }
  return out + text + char(b >> 8) + char(b & 255) + char(a >> 8) + char(a & 255);
}

}  // namespace

TEST_CASE("the survey inside a PDF comes out byte for byte, packed or not") {
  CHECK(attached_survey(pdf_with("/Length 29\n", survey), most) ==
        survey.substr(0, survey.size() - 1));  // unpacked: line ends before endstream are the PDF's
  CHECK(attached_survey(pdf_with("/Filter [/FlateDecode]\n", stored(survey)), most) == survey);
}

TEST_CASE("other files inside are passed over, and what is no PDF has none") {
  const std::string two =
      pdf_with("", "a photo") + pdf_with("/Filter [/FlateDecode]\n", stored(survey));
  CHECK(attached_survey(two, most) == survey);
  CHECK_FALSE(attached_survey(pdf_with("", "a photo"), most));
  CHECK_FALSE(attached_survey(survey, most));
  CHECK_FALSE(attached_survey("", most));
  CHECK_FALSE(attached_survey("%PDF-1.7 /Names /EmbeddedFiles", most));
}

TEST_CASE("damaged and oversized streams give nothing, wherever they are cut") {
  const std::string whole = pdf_with("/Filter [/FlateDecode]\n", stored(survey));
  const std::size_t ends = whole.find("endstream") + 9;
  for (std::size_t cut = 0; cut < ends; ++cut)
    CHECK_FALSE(attached_survey(std::string_view(whole).substr(0, cut), most));
  CHECK_FALSE(attached_survey(whole, 8));  // would unpack to more than that
}

// Both took a minute and more before each byte was gone through but once.
TEST_CASE("a PDF full of embedded files that are none is refused at once") {
  std::string open_ended = "%PDF-1.4\n", packed = open_ended;
  for (int i = 0; i < 400'000; ++i) open_ended += "/EmbeddedFile stream\n";
  for (int i = 0; i < 200'000; ++i) packed += "/EmbeddedFile/FlateDecode stream\n";
  CHECK_FALSE(attached_survey(open_ended, 1 << 24));
  CHECK_FALSE(attached_survey(packed + "endstream", 1 << 24));
  std::string many = "%PDF-1.4\n";
  for (int i = 0; i < 200'000; ++i) many += "/EmbeddedFile/FlateDecode stream\nx\nendstream\n";
  CHECK_FALSE(attached_survey(many, 1 << 24));
}

TEST_CASE("a survey that is not packed keeps its own last line end") {
  CHECK(attached_survey("%PDF-1.4\n<</Type/EmbeddedFile>>\nstream\n" + survey + "\nendstream\n",
                        1 << 24) == survey);
}
