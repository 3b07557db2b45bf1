#include "survey/near_word.h"

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "checks/solve.h"
#include "survey/survey_file.h"

using namespace levelrun;

TEST_CASE("one slip of the hand is told from another word") {
  struct Case {
    const char *written, *meant;
    bool slip;
  };
  for (const Case& c :
       {Case{"lenght", "length", true}, Case{"lengh", "length", true},
        Case{"lengthh", "length", true}, Case{"lemgth", "length", true},
        Case{"front_thicknes", "front_thickness", true}, Case{"Handle", "handle", true},
        Case{"length", "length", false}, Case{"height", "length", false}, Case{"max", "min", false},
        Case{"sil", "sill", false}, Case{"lenhgt", "length", false},
        Case{"from_left", "from_front", false}}) {
    CAPTURE(c.written);
    CHECK(is_slip_of(c.written, c.meant) == c.slip);
  }
}

TEST_CASE("a misspelt field that would leave a default standing is asked about; others are kept") {
  std::ifstream file(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json");
  std::ostringstream text;
  text << file.rdbuf();
  Json document = Json::parse(text.str());
  const auto plain = read_survey(write_survey(document));
  REQUIRE(plain.ok());
  CHECK(plain.value().survey.unknown_words.empty());

  document["furniture"].erase("handle");
  document["furniture"]["hadnle"] = 20;
  document["furniture"]["colour_of_handles"] = "any";
  const auto read = read_survey(write_survey(document));
  REQUIRE(read.ok());
  const auto& words = read.value().survey.unknown_words;
  REQUIRE(words.size() == 1);
  CHECK(words[0].at == "/furniture/hadnle");
  CHECK(words[0].expected == "the field \"handle\"");
  bool asked = false;
  for (const Finding& f : solve(read.value().survey).findings)
    asked = asked || (f.severity == Severity::query && f.at == "/furniture/hadnle");
  CHECK(asked);
}
