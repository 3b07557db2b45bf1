// Two revisions of a job side by side, printed: which facts changed beyond their uncertainty, what
// that moved, which findings came or went. It carries the later survey.
#pragma once

#include <string>
#include <string_view>

#include "app/pack/job_pack.h"

namespace levelrun {

struct PrintedRevision {
  const SurveyFile& file;
  const Results& results;
};

// new_text: the later survey's file, byte for byte. The PDF's bytes; empty: `error` says why.
std::string comparison_sheets(std::string_view new_text, const PrintedRevision& was,
                              const PrintedRevision& is, const PackOptions&, std::string& error);

}  // namespace levelrun
