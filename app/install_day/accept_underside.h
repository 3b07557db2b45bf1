// The fitter moves a released underside to the one proposed for the floor as it was laid.
#pragma once

#include <string>

#include "checks/install_results.h"
#include "survey/survey_file.h"

namespace levelrun {

// RFC 6902: to 0.1 mm; `released` keeps where it was. Empty: that group has none set.
Json accept_underside_patch(const Json& document, const Survey&, const UndersideProposal&,
                            const std::string& by, const std::string& at);

}  // namespace levelrun
