// Is what was signed off still what the file says?
//
// Whoever signs off seals the job: a checksum of all the rest of it stands in
// install.sign_off.seal. The app changes nothing of a signed-off job; a file may be changed by hand
// or by another program. It notices accidents and thoughtless edits, not forgers.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// CRC-32 of the document without its sign-off, members sorted by name: eight hex digits.
std::string seal_of(const Json& document);

// Signed off, sealed, and not what was sealed. A sign-off without a seal is taken as it is.
bool changed_since_signed(const Json& document);

inline constexpr const char* changed_since_signed_says =
    "It was changed since it was signed off, outside this program: what stands here is not what "
    "was "
    "signed. Reopen it, look it through, and sign it again.";

}  // namespace levelrun
