// The printed pack of a job: what the office decided on, and what workshop and fitter use as it is.
// It carries the survey it was made from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/pack/pdf_file.h"
#include "app/pack/print_photos.h"
#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

struct PackOptions {
  PaperSize paper = PaperSize::a4;
  std::string survey_name = "survey.levelrun.json";  // of the survey inside, a plain name
  std::vector<PrintPhoto> photos;                    // that are named in the survey
};

// `text`: the survey's file as it was read, byte for byte. The PDF's bytes; empty: `error` says
// why.
std::string job_pack(std::string_view text, const SurveyFile&, const Results&, const PackOptions&,
                     std::string& error);

}  // namespace levelrun
