// How findings are said to people, on a page of text and on a screen alike: in which order, where
// they stand, and in what words. Lengths as the findings have them; numbers with the job's sign.
#pragma once

#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

// Headings, in the order in which a page has them. A caution is a note about safety.
enum class FindingSection { holds, queries, notes, cautions, answered };
FindingSection section_of(const Finding&);

// A finding with where it stands: under which heading, and what is finer than that.
struct PlacedFinding {
  const Finding* finding = nullptr;
  std::string place, part;  // "Kitchen, run S", "unit S1"
};

// By section, room and place, each group in the order of its first finding. The findings stay the
// results'.
std::vector<PlacedFinding> in_reading_order(const Json& document, const Survey&, const Results&);

// What is the matter, with its part of the place unless the sentence names it.
std::string matter(const PlacedFinding&);

// What was found and what it should be, of the two figures as they are shown (limit may be empty):
// "void 80.3, needs 100 at least", "183.0, at most 180", "3 readings still missing". The figures of
// a void are what is there and what is needed, whichever way round the finding has them.
std::string figures_in_words(const Finding&, const std::string& measured, const std::string& limit);

// "172.4 mm, at most 170 mm (source)", as much of it as is known; what is counted is named once.
std::string measured_and_limit(const Finding&, char decimal);

std::string count_of(int n, const std::string& one);  // "no hold", "1 hold", "2 holds"
std::string count_of_queries(int n);                  // "no queries", "1 query", "2 queries"

// Ends as a sentence does.
std::string sentence(std::string text);
// Up to the first full stop that ends a sentence.
std::string first_sentence(const std::string& text);
std::string capital(std::string text);  // its first letter, if it is a plain one

}  // namespace levelrun
