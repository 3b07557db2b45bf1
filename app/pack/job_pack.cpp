#include "app/pack/job_pack.h"

#include "app/pack/pack_pages.h"
#include "app/place_words.h"

namespace levelrun {

std::string PackMatter::room_name(Index room) const {
  return room_words(survey(), survey().rooms[room].id);
}

std::string PackMatter::room_prefix(Index room) const {
  return survey().rooms.size() > 1 ? room_name(room) + ": " : "";
}

PackMatter pack_matter(const SurveyFile& file, const Results& results, const PackOptions& options) {
  PackMatter matter{file,
                    results,
                    {},
                    finding_rows(file.document, file.survey, results),
                    install_tasks(file.survey, results),
                    quantities(file.survey, results),
                    {}};
  for (const PrintPhoto& photo : options.photos)
    if (photo.missing) matter.missing_photos.push_back(photo.file);
  for (Index r = 0; r < file.survey.rooms.size(); ++r)
    matter.rooms.push_back(room_to_draw(file.survey, r));
  return matter;
}

std::string finished(Paper& paper, std::string_view text, const PackOptions& options,
                     std::string& error) {
  PdfFile& pdf = paper.pdf();
  if (pdf.lacked()) {
    paper.page("Letters not printed");
    paper.words(
        "Some letters in this job's names are not in the typeface that is printed with, and stand "
        "as "
        "□. The survey inside this file has them as they were written.");
  }
  paper.finish();
  pdf.attach(options.survey_name, text);
  const std::string bytes = pdf.bytes();
  error = pdf.error();
  if (bytes.empty() && error.empty()) error = "the PDF could not be made";
  return error.empty() ? bytes : "";
}

std::string job_pack(std::string_view text, const SurveyFile& file, const Results& results,
                     const PackOptions& options, std::string& error) {
  const Job& job = file.survey.job;
  const PackMatter matter = pack_matter(file, results, options);
  const std::string rest =
      ", revision " + std::to_string(job.revision) + ", " + release_state(matter);
  PdfFile pdf(options.paper, job.reference + ", revision " + std::to_string(job.revision),
              job.surveyed_on);
  const int holds = results.manufacture.holds;
  Paper paper(pdf, job.reference, rest,
              holds == 0   ? ""
              : holds == 1 ? "HOLD: 1 hold bars cutting and fitting; it stands under Findings."
                           : "HOLD: " + std::to_string(holds) +
                                 " holds bar cutting and fitting; they stand under Findings.");
  cover_page(paper, matter);
  const Index rooms = matter.rooms.size();
  for (Index r = 0; r < rooms; ++r) drawing_pages(paper, matter, r);
  for (Index r = 0; r < rooms; ++r) leg_pages(paper, matter, r);
  for (Index r = 0; r < rooms; ++r) card_pages(paper, matter, r);
  for (Index r = 0; r < rooms; ++r) plinth_pages(paper, matter, r);
  for (Index r = 0; r < rooms; ++r) board_pages(paper, matter, r);
  for (Index r = 0; r < rooms; ++r) wall_pages(paper, matter, r);
  for (Index r = 0; r < rooms; ++r) fit_pages(paper, matter, r);
  for (Index r = 0; r < rooms; ++r) service_pages(paper, matter, r);
  finding_pages(paper, matter);
  checklist_pages(paper, matter);
  caution_pages(paper, matter);
  sign_off_page(paper, matter);
  return finished(paper, text, options, error);
}

}  // namespace levelrun
