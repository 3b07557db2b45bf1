// The text of a file as a document, and what is refused.
#include "survey/parse_json.h"

#include <doctest/doctest.h>

#include <string>

#include "survey/utf8.h"

using namespace levelrun;

TEST_CASE("a syntax error comes alone, at the value being read, with line and column") {
  const struct {
    std::string text;
    const char* at;
    const char* found;
    const char* expected;
  } cases[] = {
      {"", "", "an empty file", "a survey"},
      {" \n", "", "an empty file", "a survey"},
      {"{\"job\": {\"reference\": ", "/job/reference", "the end of the file at line 1, column 23",
       "a JSON value"},
      {"{\"job\": {\"reference\": \"A\"", "/job", "the end of the file at line 1, column 26",
       "\",\" or \"}\""},
      {"{\"rooms\": [{}, {\"id\"", "/rooms/1/id", "the end of the file at line 1, column 21",
       "\":\" and a value"},
      {"{\"rooms\": [1, 2", "/rooms", "the end of the file at line 1, column 16", "\",\" or \"]\""},
      {"{\"rooms\": [1,\n x]}", "/rooms/1", "\"x\" at line 2, column 2", "a JSON value"},
      {"{\"rooms\": [1 2]}", "/rooms", "\"2\" at line 1, column 14", "\",\" or \"]\""},
      {"{\"a\": 1 \"b\": 2}", "", "a string at line 1, column 11", "\",\" or \"}\""},
      {"{\"a\": [1,]}", "/a/1", "a comma too many at line 1, column 9",
       "\"]\" without a comma before it"},
      {"{\"a\": 1,\n}", "", "a comma too many at line 1, column 8",
       "\"}\" without a comma before it"},
      {"{\"a\":\n -3203,55}", "", "-3203,55 at line 2, column 2", "-3203.55, written with a point"},
      {"{\"a\": 3203,5, \"b\": 1}", "", "3203,5 at line 1, column 7",
       "3203.5, written with a point"},
      {"{\"a\": 3203, 5}", "", "\"5\" at line 1, column 13", "a name in quotes"},
      {"{\"a\": NaN}", "/a", "\"NaN\" at line 1, column 7", "a JSON value"},
      {"{\"a\": -Infinity}", "/a", "\"-Infinity\" at line 1, column 8", "a JSON value"},
      {"{\"a\": 12..5}", "/a", "\"12..5\" at line 1, column 10", "a JSON value"},
      {"{\"a\": [0, 1e999]}", "/a/1", "\"1e999\" at line 1, column 15",
       "a number up to 1000000 in size"},
      {"{} {}", "", "\"{\" at line 1, column 4", "the end of the file"},
      {"// note\n{}", "", "\"/\" at line 1, column 1", "a JSON value"},
      {"{\"a\": \"\\ud800\"}", "/a", "a string \"\\ud800\" at line 1, column 14",
       "a whole surrogate pair"},
      {"{\"a\": \"\\udc00x\"}", "/a", "a string \"\\udc00 at line 1, column 13",
       "a whole surrogate pair"},
      {"{\"a\": \"b\xC3(\"}", "/a", "a string \"b\xEF\xBF\xBD( at line 1, column 10",
       "well-formed UTF-8"},
      {"{\"a\": \"\xC0\xAF\"}", "/a", "a string \"\xEF\xBF\xBD at line 1, column 8",
       "well-formed UTF-8"},
      {"{\"a/b\": {\"c~d\": tru}}", "/a~1b/c~0d", "\"tru\" at line 1, column 20", "a JSON value"},
      {std::string("{\"a\": \0}", 8), "/a", "\"\\u0000\" at line 1, column 7", "a JSON value"},
  };
  for (const auto& c : cases) {
    CAPTURE(c.text);
    const ParsedJson parsed = parse_json(c.text);
    CHECK_FALSE(parsed.complete);
    REQUIRE(parsed.problems.size() == 1);
    CHECK(parsed.problems[0].at == c.at);
    CHECK(parsed.problems[0].found == c.found);
    CHECK(parsed.problems[0].expected == c.expected);
  }
}

TEST_CASE("a byte order mark is skipped and members keep the file's order") {
  const ParsedJson parsed = parse_json("\xEF\xBB\xBF{\"b\": [1, 2.5, -0.0], \"a\": {}}");
  REQUIRE(parsed.complete);
  CHECK(parsed.problems.empty());
  CHECK(parsed.document.dump() == "{\"b\":[1,2.5,-0.0],\"a\":{}}");
}

TEST_CASE("every repeated key is named, in small objects and large ones") {
  const ParsedJson small = parse_json(
      "{\"a\": 1, \"b\": {\"c\": 1, \"c\": 2}, \"l\": [{\"x\": 0, \"x\": 0}], \"a\": 3}");
  REQUIRE(small.complete);
  REQUIRE(small.problems.size() == 3);
  CHECK(small.problems[0].at == "/b/c");
  CHECK(small.problems[1].at == "/l/0/x");
  CHECK(small.problems[2].at == "/a");
  CHECK(small.problems[2].expected == "each name once");

  std::string text = "{";
  for (int i = 0; i < 200; ++i) text += "\"k" + std::to_string(i) + "\": 0, ";
  const ParsedJson large = parse_json(text + "\"k7\": 1, \"k0\": 1, \"k7\": 2}");
  REQUIRE(large.problems.size() == 3);
  CHECK(large.problems[0].at == "/k7");
  CHECK(large.problems[1].at == "/k0");
  CHECK(large.problems[2].at == "/k7");
}

TEST_CASE("nesting is refused beyond 32 levels, however deep it goes on") {
  const auto nested = [](std::size_t depth) {
    return std::string(depth, '[') + std::string(depth, ']');
  };
  CHECK(parse_json(nested(32)).complete);
  for (const std::size_t depth : {std::size_t{33}, std::size_t{1'000'000}}) {
    CAPTURE(depth);
    const ParsedJson parsed = parse_json(nested(depth));
    CHECK_FALSE(parsed.complete);
    REQUIRE(parsed.problems.size() == 1);
    CHECK(parsed.problems[0].expected == "at most 32 levels of nesting");
    CHECK(parsed.problems[0].at.size() == 2 * 32);
  }
  CHECK_FALSE(parse_json(std::string(1'000'000, '[')).complete);
}

TEST_CASE("a text over 16 MiB and more values than any survey has are refused") {
  const ParsedJson longer = parse_json(std::string(17U << 20, ' '));
  REQUIRE(longer.problems.size() == 1);
  CHECK(longer.problems[0].at == "");
  CHECK(longer.problems[0].found == "17825792 bytes of text");
  CHECK(longer.problems[0].expected == "a survey file of up to 16777216 bytes");

  std::string many = "[";
  for (std::size_t i = 0; i < most_values; ++i) many += "0,";
  many += "0]";
  const ParsedJson values = parse_json(many);
  CHECK_FALSE(values.complete);
  REQUIRE(values.problems.size() == 1);
  CHECK(values.problems[0].found == "more than 2000000 values");
}

TEST_CASE("an object with very many members costs no more than its text") {
  std::string text = "{";
  for (int i = 0; i < 100'000; ++i) text += "\"" + std::to_string(i) + "\":0,";
  text += "\"end\":0}";
  const ParsedJson parsed = parse_json(text);  // the square of that would take a minute
  CHECK(parsed.complete);
  CHECK(parsed.document.size() == 100'001);
}

TEST_CASE("UTF-8 is judged as RFC 3629 says") {
  for (const char* good : {"", "a", "\xC2\x80", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
                           "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"}) {
    CAPTURE(good);
    CHECK(is_utf8(good));
  }
  for (const char* bad : {"\x80", "\xC0\x80", "\xC1\xBF", "\xC2", "\xE0\x9F\xBF", "\xED\xA0\x80",
                          "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "a\xFF"}) {
    CAPTURE(bad);
    CHECK_FALSE(is_utf8(bad));
  }
  CHECK(characters("\xC3\xA9t\xC3\xA9") == 3);
}

TEST_CASE("what is shown of a file cannot steer a terminal") {
  CHECK(visible("a\x1B[2Jb\n", 40) == "a\\u001b[2Jb\\u000a");
  CHECK(visible("\xC2\x9B", 40) == "\\u009b");
  CHECK(visible("\xE2\x80\xAE", 40) == "\\u202e");
  CHECK(visible("\xFF", 40) == "\xEF\xBF\xBD");
  CHECK(visible("12345", 3) == "123...");
  const ParsedJson parsed = parse_json("{\"\x7F\": 1, \"\x7F\": 2}");
  REQUIRE(parsed.problems.size() == 1);
  CHECK(parsed.problems[0].at == "/\\u007f");
}
