// The checklist, what ticks count, what bars signing off; marks on the walls.
#include "checks/install_tasks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "checks/setting_out.h"
#include "checks/sign_off.h"
#include "checks/worktop_weight.h"
#include "survey/survey_file.h"
#include "tests/unit/fitted_room.h"

using namespace levelrun;

namespace {

InstallTasks tasks_of(const Survey& survey) { return install_tasks(survey, solve(survey)); }

const InstallTask* task(const InstallTasks& tasks, const std::string& id) {
  for (const InstallTask& t : tasks.tasks)
    if (t.id == id) return &t;
  return nullptr;
}

bool warns(const InstallTask& task, const std::string& of) {
  for (const std::string& caution : task.cautions)
    if (caution.find(of) != std::string::npos) return true;
  return false;
}

void tick(Survey& survey, const std::string& id, const std::string& state,
          const std::string& note = "") {
  survey.install.tasks.push_back({id, state, "2026-04-02T11:00:00+00:00", "k.r.", note});
}

void answer_all(Survey& survey) {
  for (const Finding& f : solve(survey).findings)
    survey.install.answers.push_back(
        {f.id, "so be it", "office", "2026-04-01T09:00:00+00:00", true});
}

}  // namespace

TEST_CASE("the checklist of every sample: ids are unique, short, and the same when solved again") {
  for (const char* name :
       {"small-l-kitchen", "u-shape-island", "knocked-through", "full-of-trouble"}) {
    CAPTURE(name);
    auto loaded = load_survey(std::string(SAMPLES) + "/" + name + ".levelrun.json");
    REQUIRE(loaded.ok());
    const InstallTasks first = tasks_of(loaded.value().survey);
    std::set<std::string> ids;
    for (const InstallTask& t : first.tasks) {
      CHECK(ids.insert(t.id).second);
      CHECK(t.id.size() <= 40);
    }
    // Another floor changes numbers, not what the tasks are about.
    Survey thicker = loaded.value().survey;
    for (Room& room : thicker.rooms)
      if (!room.flooring.laid.empty()) room.flooring.laid.back().thickness += 2;
    for (const InstallTask& t : tasks_of(thicker).tasks) CHECK(ids.contains(t.id));
    CHECK(int(first.tasks.size()) == first.open);
  }
}

TEST_CASE("tasks come in working order: wall units hang before base units stand, worktop last") {
  Survey survey = fitted_room(3);
  add_wall_units(survey, 2, 40);
  const InstallTasks tasks = tasks_of(survey);
  std::vector<std::string> order;
  for (const InstallTask& t : tasks.tasks) order.push_back(t.id);
  const auto at = [&](const char* id) {
    const auto found = std::find(order.begin(), order.end(), id);
    REQUIRE_MESSAGE(found != order.end(), id);
    return found - order.begin();
  };
  CHECK(at("level line") < at("mark W1"));
  CHECK(at("mark W1") < at("rail V"));
  CHECK(at("rail V") < at("hang V1"));
  CHECK(at("hang V2") < at("legs U1"));
  CHECK(at("legs U3") < at("level A"));
  CHECK(at("level A") < at("fix U"));
  CHECK(at("fix U") < at("plinth U front"));
  CHECK(at("plinth U front") < at("hand over"));
}

TEST_CASE("where work can hurt the task says so") {
  Survey survey = fitted_room(3);
  survey.rooms[0].walls[0].build = WallBuild::metal_stud;
  survey.rooms[0].runs[0].furniture.worktop.material = "Granite";
  NoDrill no;
  no.wall = 0;
  no.along = 1000;
  no.width = 300;
  no.height = 100;
  no.height_of = 200;
  no.why = "heating pipes";
  survey.rooms[0].no_drill.push_back(no);
  add_socket(survey, "SO1", 0, 2500, 1100);
  add_wall_units(survey, 1, 40);
  const InstallTasks tasks = tasks_of(survey);
  CHECK(warns(*task(tasks, "isolate"), "by a licensed person, to the local code"));
  const InstallTask& rail = *task(tasks, "rail V");
  CHECK(warns(rail, "Find cables and pipes before drilling"));
  CHECK(warns(rail, "metal stud"));
  CHECK(warns(rail, "No drilling 1000 to 1300 along"));
  CHECK(warns(*task(tasks, "hang V1"), "weight not known"));
  // Granite, from memory 2,750 kg/m³.
  CHECK(*worktop_weight("Granite", 2000, 600, 30) == doctest::Approx(99));
  CHECK_FALSE(worktop_weight("moon rock", 2000, 600, 30));
  for (const InstallTask& t : tasks.tasks)
    if (t.stage == TaskStage::worktop) CHECK(warns(t, "kg"));
}

TEST_CASE("a tick counts with a name; not needed only with a reason") {
  Survey survey = fitted_room(2);
  tick(survey, "clean", "done");
  tick(survey, "fix U", "not_needed");
  tick(survey, "level A", "not_needed", "one cabinet");
  tick(survey, "legs U9", "done");
  const InstallTasks tasks = tasks_of(survey);
  CHECK(task(tasks, "clean")->state == TaskState::done);
  CHECK(task(tasks, "clean")->by == "k.r.");
  CHECK(task(tasks, "fix U")->state == TaskState::open);
  CHECK(task(tasks, "fix U")->trouble == "not needed, but no reason is given");
  CHECK(task(tasks, "level A")->state == TaskState::not_needed);
  REQUIRE(tasks.unmatched.size() == 1);
  CHECK(tasks.unmatched[0].id == "legs U9");
  CHECK(tasks.done == 1);
  CHECK(tasks.not_needed == 1);
  CHECK(tasks.open + 2 == int(tasks.tasks.size()));
}

TEST_CASE("legs that are all set need no tick, until today's height is another") {
  Survey survey = fitted_room(1);
  for (const char* position : {"front_left", "front_right", "back_left", "back_right"})
    survey.install.set_legs.push_back(
        {"U1", position, "2026-04-01T10:00:00+00:00", "k.r.", 150, survey.rooms[0].id});
  CHECK(task(tasks_of(survey), "legs U1")->state == TaskState::done);
  CHECK(task(tasks_of(survey), "legs U1")->by == "k.r.");
  survey.rooms[0].level_groups[0].underside_set->value = 153;
  const InstallTasks moved = tasks_of(survey);
  CHECK(task(moved, "legs U1")->state == TaskState::open);
  CHECK(task(moved, "legs U1")->trouble == "front left was set to 150.0, today it is 153.0");
}

TEST_CASE("sign-off is barred by open holds, queries, tasks, snags and cabinets off level") {
  Survey survey = fitted_room(2);
  survey.install.snags.push_back({"N1", "door scratched", "2026-04-02", "k.r.", "", {}});
  Survey held = survey;
  held.rooms[0].runs[0].furniture.legs[0].max = 120;  // no leg reaches
  const auto state_of = [](const Survey& s) {
    const Results results = solve(s);
    return sign_off_state(s, results, install_tasks(s, results));
  };
  const SignOffState barred = state_of(held);
  CHECK_FALSE(barred.may_sign);
  REQUIRE(!barred.bars.empty());
  CHECK(barred.bars.front().kind == SignOffBar::Kind::hold);
  CHECK(barred.says.find("Not to be signed off yet: ") == 0);
  CHECK(barred.says.find("open hold") != std::string::npos);

  answer_all(survey);
  for (const InstallTask& t : tasks_of(survey).tasks) tick(survey, t.id, "done");
  const SignOffState one_snag = state_of(survey);
  REQUIRE(one_snag.bars.size() == 1);
  CHECK(one_snag.says == "Not to be signed off yet: 1 open snag.");
  survey.install.snags[0].closed = "2026-04-02T15:00:00+00:00";
  CHECK(state_of(survey).may_sign);

  survey.install.sign_off = SignOff{"k.r.", "fitter", "2026-04-02T16:00:00+00:00", ""};
  CHECK(state_of(survey).signed_off);
  CHECK_FALSE(state_of(survey).may_sign);
  CHECK(is_read_only(survey));
}

TEST_CASE("reopening keeps the sign-off it lifted, in the file and in its reading") {
  const auto loaded = load_survey(SAMPLES "/small-l-kitchen.levelrun.json");
  REQUIRE(loaded.ok());
  Json document = loaded.value().document;
  document["install"]["reopened"] =
      Json::parse(R"([{"by": "k.r.", "at": "2026-04-03T08:00:00+00:00",
      "why": "plinth came loose", "sign_off": {"by": "m.h.", "role": "client", "at": "2026-04-02"}}])");
  const auto read = survey_from(document);
  REQUIRE(read.ok());
  const Install& install = read.value().install;
  CHECK_FALSE(is_read_only(read.value()));
  REQUIRE(install.reopened.size() == 1);
  CHECK(install.reopened[0].why == "plinth came loose");
  CHECK(install.reopened[0].sign_off->role == "client");
  // Without a reason it is refused.
  document["install"]["reopened"][0].erase("why");
  CHECK_FALSE(survey_from(document).ok());
}

TEST_CASE("marks from the level line and from the floor add up as printed") {
  Survey survey = fitted_room(3);  // plane of set-up S at 1,000, U 150, floor 0
  survey.rooms[0].flooring.laid = {laid_layer(18, LaidTo::wall)};
  Run& hung = add_wall_units(survey, 2, 40);
  hung.furniture.wall_unit.rail_drop = 60;
  const Results results = solve(survey);
  const std::vector<SettingOut> out = setting_out(survey, results);
  REQUIRE(out.size() == 1);
  const auto mark = [&](const std::string& what, bool right) -> const HeightMark& {
    for (const HeightMark& m : out[0].heights)
      if (m.what == what && m.right == right) return m;
    FAIL("no such mark");
    return out[0].heights.front();
  };
  CHECK(mark("underside", false).height == doctest::Approx(150));
  CHECK(mark("underside", false).lines.at(0).down == doctest::Approx(850));
  CHECK(*mark("underside", true).above_floor == doctest::Approx(132));
  CHECK(mark("underside", false).sum ==
        "1000.0 − 150.0 = 850.0 down from S; 150.0 − 0.0 − 18.0 = 132.0 above the floor");
  CHECK(mark("worktop", false).height == doctest::Approx(worktop_top));
  // Worktop 908 + 450 + 720 - 60.
  CHECK(mark("rail", true).height == doctest::Approx(2018));
  CHECK(mark("rail", true).lines[0].down == doctest::Approx(-1018));
  CHECK(mark("rail", true).along == doctest::Approx(4000).epsilon(0.001));
  REQUIRE(out[0].units.size() == 5);
  CHECK(out[0].units[1].left == doctest::Approx(640));
  CHECK(out[0].units[1].sum == "640.0 + 600.0 = 1240.0");
  REQUIRE(out[0].first.size() == 1);
  CHECK(out[0].first[0].order.size() == 3);
  CHECK(out[0].missing.empty());
}

TEST_CASE("the first unit stands in the inside corner, else on the highest floor") {
  Survey survey = fitted_room(3);
  survey.rooms[0].runs[0].ends_at = RunEnd::corner;
  FirstUnit corner = setting_out(survey, solve(survey))[0].first.at(0);
  CHECK(corner.unit == "U3");
  CHECK(corner.why.find("inside corner") != std::string::npos);

  Survey sloped = simple_survey();
  sloped.furniture.legs = {leg_type("A", 100, 200)};
  read_grid(sloped, 2400, 600, 600, [](double x, double) { return -x / 300; });
  add_run(sloped, "R", 4);
  const FirstUnit highest = setting_out(sloped, solve(sloped))[0].first.at(0);
  CHECK(highest.unit == "R1");
  CHECK(highest.order == std::vector<std::string>{"R1", "R2", "R3", "R4"});
  CHECK(highest.why.find("highest bearing floor") != std::string::npos);
}

TEST_CASE("wall units without a rail drop have no rail height, and that is said") {
  Survey survey = fitted_room(1);
  add_wall_units(survey, 1, 40);
  const std::vector<SettingOut> out = setting_out(survey, solve(survey));
  REQUIRE(out[0].missing.size() == 1);
  CHECK(out[0].missing[0] == "Run V: rail_drop is not given, so its rail has no height.");
}
