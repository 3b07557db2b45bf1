#include "checks/results_json.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "checks/json_text.h"
#include "checks/words.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

TEST_CASE("numbers have up to 6 decimals, never an exponent, and unknown is null") {
  const struct {
    double value;
    const char* text;
  } cases[] = {{0, "0"},
               {-0.0, "0"},
               {-1e-9, "0"},
               {1, "1"},
               {1.5, "1.5"},
               {1.0 / 3, "0.333333"},
               {-25, "-25"},
               {1e6, "1000000"},
               {1e-6, "0.000001"},
               {123456.7890126, "123456.789013"},
               {std::numeric_limits<double>::quiet_NaN(), "null"},
               {std::numeric_limits<double>::infinity(), "null"}};
  for (const auto& c : cases) {
    JsonText json;
    json.number(c.value);
    CHECK(json.take() == std::string(c.text) + "\n");
  }
}

TEST_CASE("text is escaped so that any name is well-formed JSON") {
  JsonText json;
  const std::string awkward = "a\"b\\c\n\t\r\x01 é −";
  json.text(awkward);
  CHECK(nlohmann::json::parse(json.take()) == awkward);
}

TEST_CASE("results of an empty survey and of a survey with nothing measured are whole JSON") {
  Survey empty;
  empty.job.reference = "none";
  const auto a = nlohmann::json::parse(results_json(solve(empty)));
  CHECK(a["format"] == "levelrun-results");
  CHECK(a["version"] == 1);
  CHECK(a["rooms"].empty());
  CHECK(a["manufacture"]["holds"] == 0);

  Survey bare = simple_survey();
  bare.furniture.legs = {leg_type("A", 100, 150)};
  add_run(bare, "R", 1);
  const auto b = nlohmann::json::parse(results_json(solve(bare)));
  CHECK(b["rooms"][0]["legs"][0]["height"].is_null());
  CHECK(b["rooms"][0]["floor"][0]["model"].is_null());
  CHECK(b["manufacture"]["open"] == false);
}

TEST_CASE("numbers in sentences use a true minus and never say minus nought") {
  CHECK(decimal(-12.44) == "−12.4");
  CHECK(decimal(-0.04) == "0.0");
  CHECK(decimal(0.96) == "1.0");
  CHECK(decimal(1.005, 2) == "1.00");
  CHECK(millimetres(118) == "118");
  CHECK(millimetres(-3.25) == "−3.3");
  CHECK(term(-12.4) == "(−12.4)");
  CHECK(slug("leg too long") == "leg-too-long");
}
