// Patches as RFC 6902 has them, and taken back byte for byte.
#include <doctest/doctest.h>

#include <string>

#include "survey/edit.h"
#include "survey/json_patch.h"
#include "survey_texts.h"
#include "tests/simulate/random.h"

using namespace levelrun;

TEST_CASE("patches do what the examples of RFC 6902, appendix A say") {
  const struct {
    const char *section, *document, *patch, *result;  // nullptr: an error
  } cases[] = {
      {"A.1", R"({"foo":"bar"})", R"([{"op":"add","path":"/baz","value":"qux"}])",
       R"({"baz":"qux","foo":"bar"})"},
      {"A.2", R"({"foo":["bar","baz"]})", R"([{"op":"add","path":"/foo/1","value":"qux"}])",
       R"({"foo":["bar","qux","baz"]})"},
      {"A.3", R"({"baz":"qux","foo":"bar"})", R"([{"op":"remove","path":"/baz"}])",
       R"({"foo":"bar"})"},
      {"A.4", R"({"foo":["bar","qux","baz"]})", R"([{"op":"remove","path":"/foo/1"}])",
       R"({"foo":["bar","baz"]})"},
      {"A.5", R"({"baz":"qux","foo":"bar"})", R"([{"op":"replace","path":"/baz","value":"boo"}])",
       R"({"baz":"boo","foo":"bar"})"},
      {"A.6", R"({"foo":{"bar":"baz","waldo":"fred"},"qux":{"corge":"grault"}})",
       R"([{"op":"move","from":"/foo/waldo","path":"/qux/thud"}])",
       R"({"foo":{"bar":"baz"},"qux":{"corge":"grault","thud":"fred"}})"},
      {"A.7", R"({"foo":["all","grass","cows","eat"]})",
       R"([{"op":"move","from":"/foo/1","path":"/foo/3"}])",
       R"({"foo":["all","cows","eat","grass"]})"},
      {"A.8", R"({"baz":"qux","foo":["a",2,"c"]})",
       R"([{"op":"test","path":"/baz","value":"qux"},{"op":"test","path":"/foo/1","value":2}])",
       R"({"baz":"qux","foo":["a",2,"c"]})"},
      {"A.9", R"({"baz":"qux"})", R"([{"op":"test","path":"/baz","value":"bar"}])", nullptr},
      {"A.10", R"({"foo":"bar"})", R"([{"op":"add","path":"/child","value":{"grandchild":{}}}])",
       R"({"foo":"bar","child":{"grandchild":{}}})"},
      {"A.11", R"({"foo":"bar"})", R"([{"op":"add","path":"/baz","value":"qux","xyz":123}])",
       R"({"foo":"bar","baz":"qux"})"},
      {"A.12", R"({"foo":"bar"})", R"([{"op":"add","path":"/baz/bat","value":"qux"}])", nullptr},
      {"A.14", R"({"/":9,"~1":10})", R"([{"op":"test","path":"/~01","value":10}])",
       R"({"/":9,"~1":10})"},
      {"A.15", R"({"/":9,"~1":10})", R"([{"op":"test","path":"/~01","value":"10"}])", nullptr},
      {"A.16", R"({"foo":["bar"]})", R"([{"op":"add","path":"/foo/-","value":["abc","def"]}])",
       R"({"foo":["bar",["abc","def"]]})"},
      // Section 4 itself.
      {"4.1 to an existing member", R"({"a":1,"b":2})", R"([{"op":"add","path":"/a","value":3}])",
       R"({"a":3,"b":2})"},
      {"4.1 past the end", R"({"a":[1]})", R"([{"op":"add","path":"/a/2","value":3}])", nullptr},
      {"4.1 the whole document", R"({"a":1})", R"([{"op":"add","path":"","value":[1]}])", "[1]"},
      {"4.2 nothing there", R"({"a":1})", R"([{"op":"remove","path":"/b"}])", nullptr},
      {"4.3 nothing there", R"({"a":1})", R"([{"op":"replace","path":"/b","value":1}])", nullptr},
      {"4.4 into its own child", R"({"a":{"b":{}}})",
       R"([{"op":"move","from":"/a","path":"/a/b/c"}])", nullptr},
      {"4.5", R"({"a":{"b":1}})", R"([{"op":"copy","from":"/a","path":"/c"}])",
       R"({"a":{"b":1},"c":{"b":1}})"},
      {"4.6 numbers by value", R"({"a":1})", R"([{"op":"test","path":"/a","value":1.0}])",
       R"({"a":1})"},
      {"4.6 members in any order", R"({"a":{"b":1,"c":2}})",
       R"([{"op":"test","path":"/a","value":{"c":2,"b":1}}])", R"({"a":{"b":1,"c":2}})"},
      {"5 the first done, the second not", R"({"a":1})",
       R"([{"op":"replace","path":"/a","value":2},{"op":"test","path":"/a","value":1}])", nullptr},
  };
  for (const auto& c : cases) {
    CAPTURE(c.section);
    Json document = document_of(c.document), inverse;
    const auto problems = apply_patch(document, document_of(c.patch), &inverse);
    CHECK(problems.empty() == (c.result != nullptr));
    CHECK(same_json(document, document_of(c.result ? c.result : c.document)));
    if (!c.result) CHECK(document.dump() == document_of(c.document).dump());
    if (!problems.empty()) continue;
    take_back(document, inverse);
    CHECK(document.dump() == document_of(c.document).dump());
  }
}

TEST_CASE("what is no patch is refused with its place and changes nothing") {
  const struct {
    const char *patch, *at;
  } cases[] = {
      {R"({"op":"add"})", ""},
      {R"([5])", ""},
      {R"([{"path":"/a","value":1}])", ""},
      {R"([{"op":"add","value":1}])", ""},
      {R"([{"op":"grow","path":"/a","value":1}])", "/a"},
      {R"([{"op":"add","path":"/a"}])", "/a"},
      {R"([{"op":"move","path":"/a"}])", "/a"},
      {R"([{"op":"add","path":"a","value":1}])", ""},     // RFC 6901: no leading slash
      {R"([{"op":"add","path":"/a~2","value":1}])", ""},  // RFC 6901: ~0 and ~1 only
      {R"([{"op":"remove","path":"/l/01"}])", "/l/01"},   // RFC 6901: no leading zero
      {R"([{"op":"remove","path":"/l/-"}])", "/l/-"},     // after the last there is nothing
      {R"([{"op":"remove","path":"/l/99999999999999999999"}])", "/l/99999999999999999999"},
      {R"([{"op":"add","path":"/a/b","value":1}])", "/a/b"},  // through a number
      {R"([{"op":"add","path":"/n/b","value":1}])", "/n/b"},  // through null
      {R"([{"op":"remove","path":""}])", ""},
  };
  const std::string before = R"({"a":1,"l":[1,2],"n":null})";
  for (const auto& c : cases) {
    CAPTURE(c.patch);
    Json document = document_of(before.c_str());
    const auto problems = apply_patch(document, document_of(c.patch));
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].at == c.at);
    CHECK(document.dump() == before);
  }
}

TEST_CASE("a short patch that would fill the memory or nest without end is refused") {
  Json doubling = Json::array(), nesting = Json::array();
  for (int i = 0; i < 60; ++i) {
    doubling.push_back({{"op", "copy"}, {"from", ""}, {"path", "/a" + std::to_string(i)}});
    nesting.push_back({{"op", "add"}, {"path", "/w"}, {"value", Json::object()}});
    nesting.push_back({{"op", "move"}, {"from", "/x"}, {"path", "/w/x"}});
    nesting.push_back({{"op", "move"}, {"from", "/w"}, {"path", "/x"}});
  }
  for (const Json& patch : {doubling, nesting}) {
    Json document = document_of(R"({"x":[1]})");
    CHECK(apply_patch(document, patch).size() == 1);
    CHECK(document.dump() == R"({"x":[1]})");
  }
}

TEST_CASE("any change is taken back byte for byte, and done again gives the same bytes") {
  const Json start = document_of(every_field), flat = start.flatten();
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    Json document = start;
    // Pointers to everything, as the library itself flattens the document.
    std::vector<std::string> paths;
    for (const auto& [path, value] : flat.items()) {
      paths.push_back(path);
      paths.push_back(path.substr(0, path.rfind('/')));
    }
    Json patch = Json::array();
    for (int i = 0; i < 4; ++i) {
      const std::string path = paths[random.below(paths.size())];
      const char* ops[] = {"add", "remove", "replace", "move", "copy"};
      patch.push_back({{"op", ops[random.below(5)]},
                       {"path", path},
                       {"from", paths[random.below(paths.size())]},
                       {"value", {{"v", i}}}});
    }
    Json inverse;
    const auto problems = apply_patch(document, patch, &inverse);
    const std::string after = document.dump();
    if (problems.empty()) take_back(document, inverse);
    CHECK(document.dump() == start.dump());
    if (!problems.empty()) continue;
    CHECK(apply_patch(document, patch).empty());
    CHECK(document.dump() == after);
    // The library's own patch, where it agrees with the RFC (not through null or numbers).
    CHECK(same_json(start.patch(patch), document));
  }
}

TEST_CASE("a new edit ends what could be redone") {
  History history;
  CHECK(history.to_undo() == nullptr);
  history.did({1, {}, {}, "one", {}});
  history.did({2, {}, {}, "two", {}});
  history.undid();
  REQUIRE(history.to_redo() != nullptr);
  CHECK(history.to_redo()->says == "two");
  CHECK(history.to_undo()->says == "one");
  history.redid();
  CHECK(history.to_redo() == nullptr);
  history.undid();
  history.did({4, {}, {}, "three", {}});
  CHECK(history.to_redo() == nullptr);
  history.undid();
  CHECK(history.to_undo()->says == "one");
}
