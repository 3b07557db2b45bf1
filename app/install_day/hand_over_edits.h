// Snags, sign-off and reopening, as edits.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// RFC 6902: one more snag, under an id that is free. room: its id, empty in a survey of one room.
Json snag_patch(const Json& document, const std::string& text, const std::string& room,
                const std::string& at, const std::string& by);

// Where it is: mm along a wall (its id) and out from it.
Json place_snag_patch(const Json& document, Index snag, const std::string& wall, double along,
                      double out);

// Closed at that time; open again where `at` is empty.
Json close_snag_patch(const Json& document, Index snag, const std::string& at);

// Sealed (sign_off_seal.h).
Json sign_off_patch(const Json& document, const std::string& by, const std::string& role,
                    const std::string& at, const std::string& note);

// Takes the sign-off away and keeps it, with who reopened the job and why, in install.reopened.
Json reopen_patch(const Json& document, const std::string& why, const std::string& by,
                  const std::string& at);

}  // namespace levelrun
