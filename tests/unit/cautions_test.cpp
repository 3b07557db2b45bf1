#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "checks/published_limits.h"
#include "tests/unit/fitted_room.h"

using namespace levelrun;

namespace {

const std::vector<std::string> all = {
    "gas work", "electrical work", "water work", "structure", "suspected asbestos",
    "dust",     "lifting",         "drilling"};

std::multiset<std::string> told(const Survey& survey) {
  std::multiset<std::string> out;
  for (const Finding& f : solve(survey).findings)
    if (std::find(all.begin(), all.end(), f.code) != all.end()) out.insert(f.code);
  return out;
}

Survey bare_room() {
  Survey survey = fitted_room(0);
  survey.rooms[0].runs.clear();
  return survey;
}

}  // namespace

// Asbestos: HSE and NetRegs (UK). Silica: COSHH and EH40 (UK). Lifting: HSE INDG143, from memory.
TEST_CASE("the figures that cautions quote are their sources'") {
  CHECK(published_limit("built before").value == 2000);
  CHECK(published_limit("silica dust").value == 0.1);
  CHECK(published_limit("lift, men").value == 25);
  CHECK(published_limit("lift, women").value == 16);
  CHECK(published_limit("lift, men").source.find("from memory") != std::string::npos);
}

TEST_CASE("a room in which nothing is fitted or served has no caution") {
  CHECK(told(bare_room()).empty());
}

TEST_CASE("each service brings its own caution, and only that") {
  const struct {
    ServiceKind kind;
    const char* code;
  } cases[] = {{ServiceKind::gas, "gas work"},
               {ServiceKind::boiler, "gas work"},
               {ServiceKind::meter, "gas work"},
               {ServiceKind::socket, "electrical work"},
               {ServiceKind::fused_spur, "electrical work"},
               {ServiceKind::cooker_outlet, "electrical work"},
               {ServiceKind::switch_, "electrical work"},
               {ServiceKind::consumer_unit, "electrical work"},
               {ServiceKind::cold_water, "water work"},
               {ServiceKind::radiator, "water work"}};
  for (const auto& c : cases) {
    CAPTURE(c.code);
    Survey survey = bare_room();
    add_service(survey, "X", c.kind, 0, 1000, 500);
    CHECK(told(survey) == std::multiset<std::string>{c.code});
  }
}

TEST_CASE("new and moved services are chased into solid walls, not into studs") {
  for (const WallBuild build : {WallBuild::masonry, WallBuild::dot_and_dab, WallBuild::stud}) {
    for (const ServiceAction action :
         {ServiceAction::stay, ServiceAction::cap, ServiceAction::move, ServiceAction::new_}) {
      Survey survey = bare_room();
      survey.rooms[0].walls[0].build = build;
      add_service(survey, "X", ServiceKind::data, 0, 1000, 500).action = action;
      const bool cut = action == ServiceAction::move || action == ServiceAction::new_;
      CHECK(told(survey).count("structure") == (cut && build != WallBuild::stud));
    }
  }
}

TEST_CASE("asbestos is asked about in existing houses only") {
  Survey survey = bare_room();
  ExistingLayer tiles;
  tiles.name = "old tiles";
  tiles.thickness = 3;
  survey.rooms[0].flooring.existing = {tiles};
  const Results results = solve(survey);
  const Finding* caution = finding(results, "suspected asbestos");
  REQUIRE(caution);
  CHECK(caution->says.find("before 2000") != std::string::npos);
  CHECK(caution->says.find("old tiles") != std::string::npos);
  survey.rooms[0].flooring.existing[0].strip = false;
  CHECK(told(survey).empty());
  survey.rooms[0].flooring.existing[0].strip = true;
  survey.job.new_build = true;
  CHECK(told(survey).empty());
}

TEST_CASE("stone worktops and solid walls make dust, studs and wood none") {
  Survey survey = fitted_room(1);
  CHECK(told(survey).count("dust") == 1);
  survey.rooms[0].walls[0].build = WallBuild::stud;
  survey.rooms[0].runs[0].furniture.worktop.material = "oak";
  CHECK(told(survey).count("dust") == 0);
  survey.rooms[0].runs[0].furniture.worktop.material = "quartz";
  CHECK(told(survey).count("dust") == 1);
}

TEST_CASE("tall units, wall units and worktops over 2 m are lifted by two") {
  CHECK(told(fitted_room(3)).count("lifting") == 0);  // 1,800 of worktop
  CHECK(told(fitted_room(4)).count("lifting") == 1);  // 2,400
  Survey survey = fitted_room(1);
  survey.rooms[0].runs[0].units[0].kind = UnitKind::tall;
  CHECK(told(survey).count("lifting") == 1);
}

TEST_CASE("one note a kind, however many there are, each left to a licensed person") {
  Survey survey = fitted_room(5);
  add_wall_units(survey, 2, 500);
  for (const ServiceKind kind :
       {ServiceKind::gas, ServiceKind::boiler, ServiceKind::socket, ServiceKind::switch_,
        ServiceKind::cold_water, ServiceKind::hot_water})
    for (const double along : {500.0, 3500.0})
      add_service(survey, along < 1000 ? "left" : "right", kind, 0, along, 1700).action =
          ServiceAction::new_;
  for (Index s = 0; s < survey.rooms[0].services.size(); ++s)
    survey.rooms[0].services[s].id += std::to_string(s);
  const Results results = solve(survey);
  CHECK(told(survey) == std::multiset<std::string>(all.begin(), all.end()));
  for (const Finding& f : results.findings) {
    if (std::find(all.begin(), all.end(), f.code) == all.end()) continue;
    CAPTURE(f.code);
    CHECK(f.severity == Severity::note);
    CHECK(f.safety);
    CHECK(f.remedy.ends_with("by a licensed person, to the local code."));
    CHECK_FALSE(f.source.empty());
    CHECK(f.at.starts_with("/rooms/0/"));
  }
}
