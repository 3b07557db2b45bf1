// Changes a survey's text by its tree, not by its bytes, so that most of what comes out is still a
// survey: numbers and references exchanged for others, members and items taken out, doubled, moved
// and put in where the format knows them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace levelrun {

// The text after one to four changes; a text that is no JSON comes back as it is. Only seed says
// which changes.
std::string mutated_json(std::string_view text, std::uint64_t seed);

// For LLVMFuzzerCustomMutator of a fuzzer of survey files: by the tree mostly, by bytes sometimes.
// wants: tries again a few times until the text passes, so that what lies behind the reader is
// reached; nullptr: any text will do.
std::size_t mutate_survey(std::uint8_t* data, std::size_t size, std::size_t most, unsigned seed,
                          bool (*wants)(std::string_view));

}  // namespace levelrun
