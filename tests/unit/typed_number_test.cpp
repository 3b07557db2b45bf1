#include "app/entry/typed_number.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace levelrun;

TEST_CASE("a number is read as a person means it, in mm") {
  // 25.4 mm an inch, exact by definition: 95 7/8" = 95.875 * 25.4 = 2435.225;
  // 7' 11 7/8" = (84 + 11.875) * 25.4, the same.
  const struct {
    const char* text;
    double mm;
  } cases[] = {
      {"2435", 2435},
      {"2435.5", 2435.5},
      {"2435,5", 2435.5},
      {"2.435m", 2435},
      {"2.435 m", 2435},
      {"2,435 M", 2435},
      {"243.5cm", 2435},
      {"2435mm", 2435},
      {"95 7/8\"", 2435.225},
      {"95 7/8 in", 2435.225},
      {"7' 11 7/8\"", 2435.225},
      {"7'11 7/8\"", 2435.225},
      {"7' 11\"", 2413},
      {"7'", 2133.6},
      {"7/8\"", 22.225},
      {"95⅞″", 2435.225},
      {"7′ 11⅞″", 2435.225},
      {"7ft 11 7/8in", 2435.225},
      {"1200+1235", 2435},
      {"1200 + 1235", 2435},
      {"2500-65", 2435},
      {"2500 − 65", 2435},
      {"1.2m+1235", 2435},
      {"1 1/2\"+10", 48.1},
      {"-12.5", -12.5},
      {"−12,5", -12.5},
      {"±12.5", -12.5},
      {"−−5", 5},
      {"-±5", 5},
      {"+7", 7},
      {" 2435 ", 2435},
      {"2435\n", 2435},
      {"0", 0},
      {"-0", 0},
      {".5", 0.5},
      {"5.", 5},
      {"0.1+0.2", 0.3},
      {"2.4355 m", 2435.5},
      {"000000012", 12},
      {"2\xC2\xA0"
       "m",
       2000},
  };
  for (const auto& c : cases) {
    CAPTURE(c.text);
    const TypedNumber typed = typed_number(c.text, TypedUnit::mm);
    CAPTURE(typed.problem);
    REQUIRE(typed.value);
    CHECK(*typed.value == c.mm);
  }
}

TEST_CASE("a number without a unit is in the job's") {
  CHECK(*typed_number("95 7/8", TypedUnit::inch).value == 2435.225);
  CHECK(*typed_number("95.875", TypedUnit::inch).value == 2435.225);
  CHECK(*typed_number("2435mm", TypedUnit::inch).value == 2435);
  CHECK(*typed_number("90,5", TypedUnit::degrees).value == 90.5);
  CHECK(*typed_number("90.5°", TypedUnit::degrees).value == 90.5);
  CHECK(!typed_number("90.5\"", TypedUnit::degrees).value);
  Job job;
  CHECK(typed_unit(job) == TypedUnit::mm);
  job.show_inch = true;
  CHECK(typed_unit(job) == TypedUnit::inch);
}

TEST_CASE("what is not a number is refused with a reason") {
  const struct {
    const char *text, *problem;
  } cases[] = {
      {"", "a number, please"},
      {"  ", "a number, please"},
      {"-", "a number, please"},
      {"abc", "a number, please"},
      {"24x5", "a number, please"},
      {"1e3", "a number, please"},
      {"nan", "a number, please"},
      {"2435k", "a number, please"},
      {"2435 mmm", "a number, please"},
      {"~5", "a number, please"},
      {"2435d", "a number, please"},
      {"12\"5", "a number, please"},
      {".", "a number, please"},
      {"1200++1235", "a number, please"},
      {"2.4.35", "two points in one number"},
      {"2,435.5", "two points in one number"},
      {"2..5", "two points in one number"},
      {"123456789012", "too long: 12 digits"},
      {"1200+", "the sum is not finished"},
      {"1200 - ", "the sum is not finished"},
      {"7/", "the fraction is not finished"},
      {"7/0\"", "a fraction over 0"},
      {"95 7/8", "a fraction needs its unit: 7/8\""},
      {"2435 2948 3619", "three numbers: one at a time"},
      {"2435\n2948", "two numbers: one at a time"},
      {"\xFF\xFE", "a number, please"},
  };
  for (const auto& c : cases) {
    CAPTURE(c.text);
    const TypedNumber typed = typed_number(c.text, TypedUnit::mm);
    CHECK(!typed.value);
    CHECK(typed.problem == c.problem);
  }
  CHECK(typed_number(std::string(500, '1'), TypedUnit::mm).problem == "too long: 500 letters");
}

TEST_CASE("a paste of several numbers is a list to book one after another") {
  const struct {
    const char* text;
    std::vector<double> mm;
  } cases[] = {
      {"2435 2948 3619", {2435, 2948, 3619}},
      {"2435\n2948\r\n3619\n", {2435, 2948, 3619}},
      {"2435;2948,5; 3619", {2435, 2948.5, 3619}},
      {"2.435 m\t2.948 m", {2435, 2948}},
      {"95 7/8\" 10\"", {2435.225, 254}},
      {"7' 11 7/8\" 1'", {2435.225, 304.8}},
      {"7' 2435", {2133.6, 2435}},
      {"2435\n-12", {2435, -12}},
      {"2435", {2435}},
  };
  for (const auto& c : cases) {
    CAPTURE(c.text);
    const TypedNumbers typed = typed_numbers(c.text, TypedUnit::mm);
    CHECK(typed.problem == "");
    CHECK(typed.values == c.mm);
  }
  CHECK(typed_numbers("2435 abc", TypedUnit::mm).values.empty());
  CHECK(typed_numbers("2435 abc", TypedUnit::mm).problem == "a number, please");
}

TEST_CASE("the sign turns and turns back") {
  CHECK(sign_turned("12.5") == "−12.5");
  CHECK(sign_turned("−12.5") == "12.5");
  CHECK(sign_turned("-12.5") == "12.5");
  CHECK(sign_turned(" 12.5") == "−12.5");
  CHECK(sign_turned("") == "−");
  CHECK(sign_turned("−") == "");
}

TEST_CASE("a length is shown as the job says, and what is shown can be typed") {
  Job mm, comma, inch;
  comma.decimal = ',';
  inch.show_inch = true;
  CHECK(shown_length(2435.5, mm) == "2435.5");
  CHECK(shown_length(2435, mm) == "2435");
  CHECK(shown_length(-12.5, comma) == "−12,5");
  CHECK(shown_length(2435.225, inch) == "95 7/8\"");
  CHECK(shown_length(-22.225, inch) == "−7/8\"");
  for (const Job* job : {&mm, &comma, &inch})
    for (const double sixteenths : {-1237.0, -15.0, 0.0, 1.0, 16.0, 1533.0, 1534.0}) {
      // Whole sixteenths of an inch, and whole tenths of a mm.
      const double value = job->show_inch ? sixteenths / 16 * 25.4 : sixteenths / 10;
      CAPTURE(value);
      const TypedNumber again = typed_number(shown_length(value, *job), typed_unit(*job));
      REQUIRE(again.value);
      CHECK(*again.value == doctest::Approx(value).epsilon(1e-9));
    }
}
