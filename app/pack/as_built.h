// The as-built sheets: what was really laid, set and levelled, who answered for what, what is still
// open, and the sign-off. Carries its survey like the job pack does.
#pragma once

#include "app/pack/job_pack.h"

namespace levelrun {

std::string as_built(std::string_view text, const SurveyFile&, const Results&, const PackOptions&,
                     std::string& error);

}  // namespace levelrun
