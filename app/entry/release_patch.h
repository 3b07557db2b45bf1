// What the office's review writes into a survey: answers to findings, and the release itself.
#pragma once

#include <string>

#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

// RFC 6902: appends to install's answers, which are made if they are missing. at: RFC 3339.
// Empty: an answer needs its words, a name and a date. Whatever `releases` says, a safety hold is
// never let pass by it: the checks see to that.
Json answer_patch(const Json& document, const std::string& finding, const std::string& says,
                  const std::string& by, const std::string& at, bool releases);

// RFC 6902: fixes the underside of every level group that has none set, to 0.1 mm; groups that the
// file does not list are added. Empty: something still bars it, there is no name or no date, all
// are set, or there are none.
Json release_patch(const Json& document, const Survey&, const Results&, const std::string& by,
                   const std::string& at);

// The next revision of a released job: the number goes up, undersides are free again, the office's
// answers stay, the day's own part stays behind.
Json reopened(const Json& document);

}  // namespace levelrun
