// What changed, in lines short enough for a page: terminal, release page, print and install day say
// it alike.
#pragma once

#include <string>
#include <vector>

#include "checks/compare.h"

namespace levelrun {

// "wall W1, length 2": of what went, by the old document.
std::string place_of(const FactChange&, const Json& old_document, const Json& new_document);

// "3621 → 3624 (+3)", "taper", "gone".
std::string change_words(const FactChange&, char decimal);

// "every leg height −3.0" where all moved alike, else "14 of 20 leg heights, −3.0 to +1.2".
std::string movement_words(const Movement&, char decimal);

// "leg S1 front left, height", and "155.4 → 152.4 (−3.0)".
std::string place_of(const ResultChange&);
std::string change_words(const ResultChange&, char decimal);

// How a finding's coming or going is said before its words: "new hold", "no longer".
std::string move_words(const FindingChange&);

// A page's few lines: facts first, then movements, at most so many of each and then how many more.
std::vector<std::string> changed_lines(const Comparison&, const Json& old_document,
                                       const Json& new_document, char decimal,
                                       std::size_t most_facts, std::size_t most_movements);

}  // namespace levelrun
