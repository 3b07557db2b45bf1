// The pages of the job pack, a function a kind, in the order of the pack.
#pragma once

#include "app/drawing/room_to_draw.h"
#include "app/entry/finding_rows.h"
#include "app/pack/job_pack.h"
#include "app/pack/paper.h"
#include "checks/install_tasks.h"
#include "checks/quantities.h"
#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

struct PackMatter {
  const SurveyFile& file;
  const Results& results;
  std::vector<RoomToDraw> rooms;  // as the survey's
  std::vector<FindingRow> findings;
  InstallTasks tasks;
  Quantities quantities;
  std::vector<std::string> missing_photos;

  const Survey& survey() const { return file.survey; }
  char decimal() const { return file.survey.job.decimal; }
  std::string room_name(Index room) const;
  // "Kitchen: " where the survey has several rooms.
  std::string room_prefix(Index room) const;
};

PackMatter pack_matter(const SurveyFile&, const Results&, const PackOptions&);
// Feet, the survey inside, and the bytes; empty: `error` says why.
std::string finished(Paper&, std::string_view text, const PackOptions&, std::string& error);

// "released 2026-03-20 by o.f.", "ready to release", "not released: 2 holds, 1 open query".
std::string release_state(const Survey&, const Results&);
inline std::string release_state(const PackMatter& m) {
  return release_state(m.survey(), m.results);
}

// The marks of the screen, in black, 4 wide: a solid block, an open bracket, a dot with its line; a
// closed square once it was answered.
void print_mark(PdfFile&, float x, float y, Severity, bool answered);

void cover_page(Paper&, const PackMatter&);
// Plan, floor map, and an elevation of each furnished or measured wall.
void drawing_pages(Paper&, const PackMatter&, Index room);
// Heights as a fitter takes them, from the finished floor: U at both ends of its units, level line
// of the wall, its services; and the void behind its units. Lines; none while the plan is not
// known.
std::vector<std::string> wall_heights(const PackMatter&, Index room, Index wall);
void leg_pages(Paper&, const PackMatter&, Index room);
// Cards to cut out and tape inside each unit.
void card_pages(Paper&, const PackMatter&, Index room);
void plinth_pages(Paper&, const PackMatter&, Index room);
void board_pages(Paper&, const PackMatter&, Index room);
void wall_pages(Paper&, const PackMatter&, Index room);
void fit_pages(Paper&, const PackMatter&, Index room);
void service_pages(Paper&, const PackMatter&, Index room);
void finding_pages(Paper&, const PackMatter&);
void checklist_pages(Paper&, const PackMatter&);
void caution_pages(Paper&, const PackMatter&);
void sign_off_page(Paper&, const PackMatter&);

}  // namespace levelrun
