// The survey that a printed job pack carries: a file inside the PDF (ISO 32000, embedded file
// streams), as our own pack writes it.
//
// Other programs may rewrite a PDF so that its objects are hidden in compressed streams; then no
// survey is found, and the caller says so. Any bytes may come: nothing is read past their end, and
// no more than `most` bytes are unpacked.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace levelrun {

bool is_pdf(std::string_view bytes);

// The text of the survey, byte for byte; empty: there is none inside.
std::optional<std::string> attached_survey(std::string_view pdf, std::size_t most);

}  // namespace levelrun
