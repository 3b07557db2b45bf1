#include "app/entry/agreement_mark.h"

#include <doctest/doctest.h>

#include <set>

using namespace levelrun;

TEST_CASE("a mark is four consonants, the same for the same lines, another for others") {
  const std::string mark = agreement_mark({"S4 back_right 157", "S4 back_left 155"});
  CHECK(mark.size() == 4);
  CHECK(mark.find_first_not_of("BCDFGHJKLMNPRSTVWXZ") == mark.npos);
  CHECK(agreement_mark({"S4 back_right 157", "S4 back_left 155"}) == mark);
  CHECK(agreement_mark({"S4 back_right 158", "S4 back_left 155"}) != mark);
  CHECK(agreement_mark({"S4 back_left 155", "S4 back_right 157"}) != mark);
  // Lines do not run together.
  CHECK(agreement_mark({"a", "b"}) != agreement_mark({"ab"}));
}

// 19^4 marks: among 300 there are some 300² / 2 / 130,321 = 0.35 chance meetings (birthday
// problem).
TEST_CASE("neighbouring heights hardly ever share a mark") {
  std::set<std::string> marks;
  for (int height = 100; height < 400; ++height)
    marks.insert(agreement_mark({"S1 front_left " + std::to_string(height)}));
  CHECK(marks.size() >= 297);
}

TEST_CASE("a unit's mark is of its own legs' printed heights alone") {
  RoomResult room;
  for (const char* unit : {"S1", "S2"})
    for (const char* position : {"front_left", "back_left"}) {
      LegResult leg;
      leg.unit = unit;
      leg.position = position;
      leg.height = 150.2;
      room.legs.push_back(leg);
    }
  const std::string one = unit_mark(room, "S1"), other = unit_mark(room, "S2");
  room.legs[0].height = 150.4;  // prints the same
  CHECK(unit_mark(room, "S1") == one);
  room.legs[0].height = 151;
  CHECK(unit_mark(room, "S1") != one);
  CHECK(unit_mark(room, "S2") == other);
}
