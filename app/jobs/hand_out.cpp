#include "app/jobs/hand_out.h"

#include "app/jobs/new_job.h"
#include "app/photo_path.h"

namespace levelrun {

std::string hand_out(Platform& platform, const Session& session, Sheets sheets) {
  const bool pack = sheets == Sheets::job_pack;
  const std::string survey_name = job_file_name(session.document());
  std::string why;
  const std::string pdf = platform.printed(sheets, write_survey(session.document()),
                                           folder_of(session.path()) + "/" + survey_name, why);
  if (pdf.empty()) return why;
  const std::string stem = survey_name.substr(0, survey_name.find(".levelrun.json"));
  const std::string did = platform.give_file(stem + (pack ? ".pdf" : " as built.pdf"), pdf);
  return (pack ? "The job pack was " : "The as-built sheets were ") +
         (did.empty() ? "handed out." : did + ".");
}

}  // namespace levelrun
