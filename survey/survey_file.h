// The survey file, version 1: one UTF-8 JSON file (RFC 8259), named *.levelrun.json.
//
// The document is the truth and is kept whole, in its own order, with every field and word
// this version does not know; the typed survey is a reading of it. So a save loses nothing,
// and an edit is a change to the document followed by a new reading.
//
// Nothing here throws. A file that cannot be used gives problems, all of them at once (a
// syntax error stops the reading, so it comes alone), and never half a survey.
// Bounds: 16 MiB of text and 2 million values, 32 levels of nesting, numbers up to 1e6 in size,
// lengths in a room up to 100 m, 100 rooms, 100 runs and 1,000 corners in a room, 100 leg types
// and 100 other plinth heights, 100 problems listed; what else a survey may hold: limits.h.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "survey/problem.h"
#include "survey/survey.h"

namespace levelrun {

using Json = nlohmann::ordered_json;

struct SurveyFile {
  Json document;
  Survey survey;
};

// Reads the text of a survey file.
Result<SurveyFile> read_survey(std::string_view text);

// Reads a document that is already in memory (after an edit, say).
Result<Survey> survey_from(const Json& document);

// The text of a survey file, or of the survey that a job pack (a PDF) carries; "-" is standard
// input.
Result<std::string> load_survey_text(const std::string& path);

// Loads such a file.
Result<SurveyFile> load_survey(const std::string& path);

// The text of a document as it is saved: two-space indent, final newline.
// write_survey(read_survey(text).document) is a fixed point of reading and writing.
std::string write_survey(const Json& document);

// Puts text at path so that a crash at any instant leaves the old file or the new one whole:
// a temporary file in the same folder, fsync, rename, fsync of the folder.
// Returns no problem, or what the system said (at = "", found = its message).
std::vector<Problem> save_text(const std::string& path, std::string_view text);

}  // namespace levelrun
