// What a person types, pastes or has typed by a distance meter, as a number; and numbers back as
// they are shown.
//
// 2435   2435.5   2435,5   2.435m   2.435 m   243.5cm   95 7/8"   7' 11 7/8"   1200+1235   -12.5
// A number without a unit is in the job's unit; m, cm, mm, ", in, ' and ft say otherwise, each for
// its own number of a sum. Both decimal signs are accepted, whichever the job shows, and neither
// groups thousands. Each - or ± in front turns the sign, as the key does; a true minus is a minus.
// Length: 9 digits a number at most. What a number may be is not asked here: entry_check.h.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "survey/survey.h"

namespace levelrun {

enum class TypedUnit { mm, inch, degrees };  // degrees: no unit but ° is understood

TypedUnit typed_unit(const Job&);

struct TypedNumber {
  std::optional<double> value;  // mm (or degrees), to 1e-6
  std::string problem;          // why there is none, in words beside the field
};

TypedNumber typed_number(std::string_view text, TypedUnit);

// A paste of several, apart by spaces, lines, tabs or semicolons, to be booked one after another.
// A problem with any of them gives none.
struct TypedNumbers {
  std::vector<double> values;
  std::string problem;
};

TypedNumbers typed_numbers(std::string_view text, TypedUnit);

// The same text with its sign turned.
std::string sign_turned(std::string_view text);

// A length as the job shows it: 2435.5, 2435,5 or 95 7/8"; true minus. decimals: at most, of mm.
std::string shown_length(double mm, const Job&, int decimals = 1);

}  // namespace levelrun
