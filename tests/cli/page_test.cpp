// Numbers, columns and commas of the command line's pages.
#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>

#include <limits>
#include <sstream>

#include "app/csv.h"
#include "app/display_text.h"
#include "app/place_words.h"
#include "app/table.h"
#include "app/text_number.h"

using namespace levelrun;

TEST_CASE("a number has the decimals asked for, halves away from zero, and no minus on zero") {
  struct Row {
    double value;
    int decimals;
    const char* text;
  };
  for (const auto& [value, decimals, text] :
       {Row{155.4, 1, "155.4"}, Row{0.05, 1, "0.1"}, Row{-0.05, 1, "-0.1"}, Row{-0.04, 1, "0.0"},
        Row{140.04999999999998, 1, "140.1"}, Row{140.0499, 1, "140.0"}, Row{2.5, 0, "3"},
        Row{1e6, 2, "1000000.00"}, Row{-12.345, 2, "-12.35"},
        Row{std::numeric_limits<double>::quiet_NaN(), 1, "?"}}) {
    CAPTURE(value);
    CHECK(fixed(value, decimals) == text);
  }
}

TEST_CASE("people see the job's decimal sign, a true minus and a question mark") {
  CHECK(shown(-12.36, 1, ',') == "−12,4");
  CHECK(shown(std::nullopt, 1, '.') == "?");
  CHECK(shown_change(1.25, 1, '.') == "+1.3");
  CHECK(shown_change(0.01, 1, '.') == "0.0");
  CHECK(shown_change(-0.5, 1, '.') == "−0.5");
  CHECK(shown_short(170, 1, '.') == "170");
  CHECK(shown_short(172.43, 1, ',') == "172,4");
  CHECK(with_decimal_sign("158.0 − (−12.4). Then 2.", ',') == "158,0 − (−12,4). Then 2.");
}

TEST_CASE("inches come in the shortest sixteenths") {
  struct Row {
    double mm;
    const char* text;
  };
  // 1 inch is 25.4 mm exactly (the international yard and pound agreement of 1959; from memory).
  for (const auto& [mm, text] :
       {Row{25.4, "1\""}, Row{0, "0\""}, Row{12.7, "1/2\""}, Row{155.4, "6 1/8\""},
        Row{25.4 * 1.0625, "1 1/16\""}, Row{-12.7, "−1/2\""}, Row{0.5, "0\""},
        Row{25.4 * 2 - 0.1, "2\""}}) {
    CAPTURE(mm);
    CHECK(inches(mm) == text);
  }
  CHECK(inches(std::nullopt) == "?");
}

TEST_CASE("nothing printed can steer a terminal") {
  CHECK(printable("a\033[31mb") == "a\uFFFD[31mb");
  CHECK(printable("a\nb\tc\r") == "a b c ");
  CHECK(printable("a\u202Eb\u009Bc") == "a\uFFFDb\uFFFDc");
  CHECK(printable("Küche ± − 北") == "Küche ± − 北");
  CHECK(printable("\xFF\xC3") == "\uFFFD\uFFFD");
  CHECK(printable("\xED\xA0\x80\xC0\xAF").find('\xED') == std::string::npos);
}

TEST_CASE("columns are counted as a terminal shows them") {
  CHECK(display_width("Küche") == 5);
  CHECK(display_width("Ku\u0308che") == 5);
  CHECK(display_width("北向き") == 6);
  CHECK(display_width("±−→■") == 4);
}

TEST_CASE("text wraps at spaces, and a word too long for the line anywhere") {
  CHECK(wrap("one two three", 7) == std::vector<std::string>{"one two", "three"});
  CHECK(wrap("abcdefgh ij", 3) == std::vector<std::string>{"abc", "def", "gh", "ij"});
  CHECK(wrap("ij abcdef", 3) == std::vector<std::string>{"ij", "abc", "def"});
  CHECK(wrap("", 5) == std::vector<std::string>{""});
  CHECK(wrap("北北北", 4) == std::vector<std::string>{"北北", "北"});
  CHECK(paragraph("  ", "one two three", 9) == "  one two\n  three\n");
}

TEST_CASE("a table keeps to 80 columns whatever stands in its text") {
  using enum Table::Kind;
  Table table({{"Unit", text}, {"Leg", text}, {"Height", number}, {"Verdict", text}});
  table.row({std::string(40, 'u'), "back left", "155.4", "within"}, true);
  table.row({"B2", std::string(200, 'x'), "1155.4", "doubtful"});
  table.note(std::string(50, 'n') + " " + std::string(50, 'm'));
  std::vector<std::pair<std::string, std::string>> ordinates;
  for (int i = 0; i < 30; ++i) ordinates.emplace_back(std::to_string(i * 100), "138.0");
  table.pairs("from left", "height", ordinates);
  std::istringstream lines(table.text(false));
  bool verdict_whole = false;
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(display_width(line) <= page_columns);
    CHECK((line.empty() || line.back() != ' '));
    verdict_whole |= line.find("155.4  within") != std::string::npos;
  }
  CHECK(verdict_whole);
  CHECK(table.text(true).find("\033[1m") != std::string::npos);
  CHECK(table.text(false).find('\033') == std::string::npos);
}

TEST_CASE("a short table is no wider than its cells") {
  Table table({{"Unit"}, {"Height", Table::Kind::number}});
  table.row({"B1", "155.4"});
  CHECK(table.text(false) == "Unit  Height\nB1     155.4\n");
}

TEST_CASE("a CSV row ends in CRLF, quotes what needs it, and makes no formula of a text") {
  struct Row {
    const char* text;
    const char* cell;
  };
  for (const auto& [text, cell] :
       {Row{"plain", "plain"}, Row{"a,b", "\"a,b\""}, Row{"a\"b", "\"a\"\"b\""},
        Row{"a\nb", "\"a\nb\""}, Row{"=1+1", "'=1+1"}, Row{"+1", "'+1"}, Row{"-1", "'-1"},
        Row{"@x", "'@x"}, Row{"\tx", "'\tx"}, Row{"\rx", "\"'\rx\""}, Row{"", ""}}) {
    CAPTURE(text);
    Csv csv;
    csv.text(text).end_row();
    CHECK(csv.file() == std::string(cell) + "\r\n");
  }
  Csv csv;
  csv.number(-12.4).number(std::nullopt).count(3).yes_no(true).end_row();
  CHECK(csv.file() == "-12.40,,3,yes\r\n");
}

TEST_CASE("a JSON Pointer reads as a place") {
  const Json document = Json::parse(R"({"job": {"revision": 1}, "rooms": [{
    "walls": [{"id": "W3", "lengths": [{"length": 1}, {"length": 2}]}],
    "diagonals": [{"from": "C1", "to": "C3"}], "angles": [{"corner": "C2"}],
    "levels": {"setups": [{"id": "S1", "readings": [{"point": "P4"}]}]},
    "flooring": {"laid": [{"name": "tiles"}]}, "a/b": [{"id": "x"}]}]})");
  struct Row {
    const char* at;
    const char* words;
  };
  for (const auto& [at, words] :
       {Row{"/rooms/0/walls/0/lengths/1", "wall W3, length 2"}, Row{"/rooms/0", ""},
        Row{"/rooms/0/walls/0/lengths/1/length", "wall W3, length 2, length"},
        Row{"/rooms/0/diagonals/0", "diagonal C1–C3"}, Row{"/rooms/0/angles/0", "angle at C2"},
        Row{"/rooms/0/levels/setups/0/readings/0", "set-up S1, reading of P4"},
        Row{"/rooms/0/flooring/laid/0", "new layer tiles"}, Row{"/rooms/0/a~1b/0", "a/b x"},
        Row{"/rooms/0/walls", "walls"}, Row{"/rooms/0/levels", "levels"},
        Row{"/job/revision", "job, revision"}, Row{"/rooms/7/walls/0", "/rooms/7/walls/0"},
        Row{"/rooms/0/none", "/rooms/0/none"}, Row{"R1/B1", "R1/B1"}, Row{"", ""}}) {
    CAPTURE(at);
    CHECK(place_words(document, at) == words);
  }
}
