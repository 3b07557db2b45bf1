// What the typefaces themselves say of letters, so that text can be laid out without a screen.
#pragma once

#include <string_view>

namespace levelrun {

// How wide the text is in DejaVu Sans Condensed, in em.
float letters_em(std::string_view, bool bold);
// Whether the face, as it was cut down, has the letter.
bool has_letter(unsigned code_point, bool bold);

}  // namespace levelrun
