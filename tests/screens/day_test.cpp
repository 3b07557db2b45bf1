// The install day by touch.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "app/entry/release_patch.h"
#include "app/sign_off_seal.h"
#include "checks/sign_off.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/invented_photos.h"

using namespace levelrun;

namespace {

std::string sample(const std::string& name) {
  return file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json");
}
std::string sample() { return file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"); }

const Box* box_of(const DrivenApp& d, std::string_view label) {
  for (const Touch::Target& t : d.app.touch().targets())
    if (t.label == label) return &t.box;
  return nullptr;
}

// Underside fixed where it came out, as the office does it.
void release(DrivenApp& d) {
  const double underside = d.app.session()->results().rooms[0].groups.at(0).underside;
  REQUIRE(d.app.session()->apply(
      Json::array(
          {{{"op", "add"},
            {"path", "/rooms/0/level_groups/0/underside_set"},
            {"value", {{"value", underside}, {"by", "o.f."}, {"at", "2026-03-20T09:00:00Z"}}}}}),
      "released"));
  d.window.settle(d.app);
}

const InstallResult& install_of(const DrivenApp& d) {
  REQUIRE(d.app.session()->results().install);
  return *d.app.session()->results().install;
}

// Books the laid floor wherever it is asked for.
void book_floor(DrivenApp& d, const std::string& thickness) {
  d.show(Page::arrival);
  for (int n = 0; n < 20 && !d.has("See what changed"); ++n) {
    d.window.type(d.app, thickness + "\n");
    d.window.settle(d.app);
  }
  REQUIRE(d.has("See what changed"));
}

void words(DrivenApp& d, std::string_view field, const std::string& text) {
  REQUIRE(d.tap(field));
  REQUIRE(d.tap(field));
  d.window.settle(d.app);
  d.window.type(d.app, text);
  d.window.settle(d.app);
}

// Everything of the checklist that the pages before have not ticked.
void tick_all(DrivenApp& d) {
  d.show(Page::hand_over);
  REQUIRE(d.tap("Show checklist"));
  for (int n = 0; n < 200 && d.has("Done"); ++n) REQUIRE(d.tap("Done"));
}

}  // namespace

TEST_CASE("legs are set one key a leg, in the order of setting, to the millimetre of the results") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  d.show(Page::legs);
  std::vector<LegResult> legs = d.app.session()->results().rooms[0].legs;
  std::sort(legs.begin(), legs.end(),
            [](const LegResult& a, const LegResult& b) { return a.order < b.order; });
  for (std::size_t n = 0; n < legs.size(); ++n) REQUIRE(d.tap("Set"));
  CHECK_FALSE(d.has("Set"));  // all are set: the key is no target any more
  const auto& set = d.app.session()->survey().install.set_legs;
  REQUIRE(set.size() == legs.size());
  for (std::size_t n = 0; n < legs.size(); ++n) {
    CAPTURE(n);
    CHECK(set[n].unit == legs[n].unit);
    CHECK(set[n].position == legs[n].position);
    CHECK(set[n].height == std::round(*legs[n].height));
    CHECK(set[n].by == "t.v.");
    CHECK_FALSE(set[n].at.empty());
  }
  REQUIRE(d.tap("Undo"));
  CHECK(d.app.session()->survey().install.set_legs.size() == legs.size() - 1);
  CHECK(d.has("Set"));
}

TEST_CASE("a drag over the key sets nothing: nothing is ticked by scrolling") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  for (const auto& [page, key] : {std::pair{Page::legs, "Set"}, {Page::plinths, "Cut"}}) {
    d.show(page);
    const Box* solid = box_of(d, key);
    REQUIRE(solid);
    const Spot from = solid->middle();
    d.window.drag(d.app, from, {from.x, from.y - 300});
    d.window.drag(d.app, {from.x, from.y - 300}, from);
    d.window.settle(d.app);
    CHECK(d.app.session()->version() == 0);
  }
}

TEST_CASE("a unit tapped at a glance brings its first leg that is open") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::legs);
  REQUIRE(d.tap("Unit T2"));
  REQUIRE(d.tap("Set"));
  CHECK(d.app.session()->survey().install.set_legs.at(0).unit == "T2");
  // A leg is set anew rather than twice.
  REQUIRE(d.tap("Undo"));
  REQUIRE(d.tap("Set"));
  CHECK(d.app.session()->survey().install.set_legs.size() == 1);
}

TEST_CASE("a leg set before the floor was known better is asked for again") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  // Released: the underside stays where it is.
  const double underside = d.app.session()->results().rooms[0].groups.at(0).underside;
  REQUIRE(d.app.session()->apply(
      Json::array(
          {{{"op", "add"},
            {"path", "/rooms/0/level_groups/0/underside_set"},
            {"value", {{"value", underside}, {"by", "o.f."}, {"at", "2026-03-20T09:00:00Z"}}}}}),
      "released"));
  d.show(Page::legs);
  REQUIRE(d.tap("Set"));
  const SetLeg first = d.app.session()->survey().install.set_legs.at(0);
  // The laid floor turns out 3 mm thicker than planned: a layer that runs under the legs.
  const Json& laid = d.app.session()->document()["rooms"][0]["flooring"]["laid"];
  REQUIRE(laid.size() > 0);
  double thickness = laid[0]["thickness"];
  const Json thicker = Json::array({{{"op", "replace"},
                                     {"path", "/rooms/0/flooring/laid/0/thickness"},
                                     {"value", thickness + 3}}});
  REQUIRE(d.app.session()->apply(thicker, "thicker"));
  d.window.settle(d.app);
  REQUIRE(d.tap("Unit " + first.unit));
  REQUIRE(d.tap("Set"));
  const auto& set = d.app.session()->survey().install.set_legs;
  CHECK(set.size() == 1);
  CHECK(set[0].unit == first.unit);
  CHECK(set[0].position == first.position);
  CHECK(set[0].height == first.height - 3);
}

TEST_CASE("plinths are ticked as they are cut, board by board") {
  DrivenApp d(800, 1280);
  REQUIRE(d.open(sample()));
  d.show(Page::plinths);
  const std::size_t all = d.app.session()->results().rooms[0].plinths.size();
  for (std::size_t n = 0; n < all; ++n) REQUIRE(d.tap("Cut"));
  CHECK_FALSE(d.has("Cut"));
  REQUIRE(d.app.session()->survey().install.tasks.size() == all);
  CHECK(d.app.session()->survey().install.tasks[0].state == "done");
}

TEST_CASE(
    "the laid floor is booked where it is asked for, a thickness ten times over is asked back") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::arrival);
  const auto& floor = d.app.session()->survey().install.finished_floor;
  d.window.type(d.app, "180");
  d.window.settle(d.app);
  CHECK(d.app.touch().said().find("Measure it again") != std::string::npos);
  CHECK(floor.empty());
  for (int i = 0; i < 3; ++i) REQUIRE(d.tap("rub out"));
  d.window.type(d.app, "17\n17\n17\n17\n");
  d.window.settle(d.app);
  REQUIRE(d.app.session()->survey().install.finished_floor.size() == 4);
  REQUIRE(d.tap("See what changed"));
  // Back on the floor's part everything is booked; Undo takes the last one back.
  REQUIRE(d.tap("Show laid floor"));
  REQUIRE(d.tap("Undo"));
  CHECK(d.app.session()->survey().install.finished_floor.size() == 3);
}

TEST_CASE("the day's level is set up and tied to the survey's benchmark") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::arrival);
  REQUIRE(d.tap("Show level"));
  REQUIRE(d.tap("Set up a level"));
  d.window.type(d.app, "1012.5\n");
  d.window.settle(d.app);
  const Install& install = d.app.session()->survey().install;
  REQUIRE(install.setups.size() == 1);
  CHECK(install.setups[0].instrument.has_value());
  REQUIRE(install.setups[0].readings.size() == 1);
  CHECK(install.setups[0].readings[0].staff == 1012.5);
  const Levels& levels = d.app.session()->survey().rooms[0].levels;
  CHECK(install.setups[0].readings[0].point == levels.benchmark->point);
}

TEST_CASE(
    "a floor 3 mm thicker under the units: U kept, 3 mm shorter legs, and U proposed 3 higher") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  release(d);
  const RoomResult before = d.app.session()->results().rooms[0];
  book_floor(d, "17");
  const auto& today = [&]() -> const RoomResult& { return d.app.session()->results().rooms[0]; };
  CHECK(today().groups[0].underside == before.groups[0].underside);
  REQUIRE(today().legs.size() == before.legs.size());
  for (std::size_t i = 0; i < before.legs.size(); ++i)
    CHECK(*today().legs[i].height == doctest::Approx(*before.legs[i].height - 3).epsilon(1e-9));
  REQUIRE(install_of(d).proposals.size() == 1);
  const UndersideProposal proposal = install_of(d).proposals[0];
  CHECK(proposal.proposed == doctest::Approx(before.groups[0].underside + 3).epsilon(0.001));
  CHECK(*proposal.worktop_then == doctest::Approx(*proposal.worktop_released).epsilon(0.0002));
  // Accepted by a key outside the list; where it was released is kept.
  REQUIRE(d.tap("See what changed"));
  char proposed[32];
  std::snprintf(proposed, sizeof proposed, "Accept U %.1f", proposal.proposed);
  REQUIRE(d.tap(proposed));
  const LevelGroup& group = d.app.session()->survey().rooms[0].level_groups[0];
  REQUIRE(group.underside_set);
  CHECK(group.underside_set->value == doctest::Approx(proposal.proposed));
  CHECK(*group.underside_set->released == before.groups[0].underside);
  CHECK(group.underside_set->by == "t.v.");
  for (std::size_t i = 0; i < before.legs.size(); ++i)
    CHECK(std::abs(*today().legs[i].height - *before.legs[i].height) < 0.06);  // U stands to 0.1
  REQUIRE(d.tap("Undo"));
  CHECK(today().groups[0].underside == before.groups[0].underside);
}

TEST_CASE("a floor 3 mm thicker that stops at the front legs: legs stay, plinths have 3 mm less") {
  DrivenApp d;
  REQUIRE(d.open(sample("u-shape-island")));
  release(d);
  const RoomResult before = d.app.session()->results().rooms[0];
  book_floor(d, "21");
  const RoomResult& today = d.app.session()->results().rooms[0];
  for (std::size_t i = 0; i < before.legs.size(); ++i)
    CHECK(*today.legs[i].height == *before.legs[i].height);
  int whole = 0, cut = 0;
  for (std::size_t i = 0; i < before.plinths.size(); ++i) {
    CHECK(today.plinths[i].height_left <= before.plinths[i].height_left + 1e-6);
    cut += today.plinths[i].top != TopCut::none && before.plinths[i].top == TopCut::none;
    if (before.plinths[i].top != TopCut::none || today.plinths[i].top != TopCut::none) continue;
    ++whole;
    CHECK(today.plinths[i].top_gap_least ==
          doctest::Approx(before.plinths[i].top_gap_least - 3).epsilon(1e-6));
  }
  CHECK(whole > 0);
  CHECK(cut > 0);
  REQUIRE(install_of(d).proposals.size() == 1);
  CHECK(*install_of(d).proposals[0].worktop_then ==
        doctest::Approx(*install_of(d).proposals[0].worktop_released).epsilon(0.0002));
}

TEST_CASE("each wall's marks are ticked once, and the next wall comes") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample("u-shape-island")));
  d.show(Page::setting_out);
  int walls = 0;
  while (d.has("Marked") && walls < 20) {
    REQUIRE(d.tap("Marked"));
    ++walls;
  }
  const auto& tasks = d.app.session()->survey().install.tasks;
  CHECK(int(tasks.size()) == walls);
  CHECK(walls == 4);  // three walls and the island
  for (const Task& task : tasks) CHECK(task.id.find("mark ") == 0);
}

TEST_CASE("a task that is not needed asks for a reason, and a drag over the keys ticks nothing") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  d.show(Page::hand_over);
  for (const char* key : {"Done", "Not needed"}) {
    const Box* box = box_of(d, key);
    REQUIRE(box);
    const Spot from = box->middle();
    d.window.drag(d.app, from, {from.x, from.y - 400});
    d.window.drag(d.app, {from.x, from.y - 400}, from);
    d.window.settle(d.app);
    CHECK(d.app.session()->version() == 0);
  }
  // A drag through the list scrolls; a tap on a row only chooses.
  d.window.drag(d.app, {200, 500}, {200, 200});
  d.window.settle(d.app);
  CHECK(d.app.session()->version() == 0);
  REQUIRE(d.tap("Not needed"));
  CHECK(d.app.session()->version() == 0);
  words(d, "why-not", "no laid floor here");
  REQUIRE(d.tap("Not needed"));
  const auto& tasks = d.app.session()->survey().install.tasks;
  REQUIRE(tasks.size() == 1);
  CHECK(tasks[0].state == "not_needed");
  CHECK(tasks[0].note == "no laid floor here");
  CHECK_FALSE(tasks[0].at.empty());
}

TEST_CASE(
    "from arrival to sign-off by touch; then it only looks, until it is reopened with a reason") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  release(d);
  Session& session = *d.app.session();
  // The way in.
  d.show(Page::job);
  REQUIRE(d.tap("Install day"));
  CHECK(d.app.page() == Page::arrival);
  book_floor(d, "17");
  REQUIRE(d.tap("Show level"));
  REQUIRE(d.tap("Set up a level"));
  d.window.type(d.app, "1012.5\n");
  d.window.settle(d.app);
  d.show(Page::setting_out);
  for (int n = 0; n < 20 && d.has("Marked"); ++n) REQUIRE(d.tap("Marked"));
  d.show(Page::legs);
  for (int n = 0; n < 500 && d.has("Set"); ++n) REQUIRE(d.tap("Set"));

  // Levels of the tops: S1 leans to its left front by 2, all others stand level.
  REQUIRE(install_of(d).setups.size() == 1);
  REQUIRE(install_of(d).setups[0].height);
  const Survey& survey = session.survey();
  const double level = *install_of(d).setups[0].height -
                       session.results().rooms[0].groups[0].underside -
                       survey.furniture.base_height;
  const auto read = [&](double staff) {
    char typed[32];
    std::snprintf(typed, sizeof typed, "%.1f\n", staff);
    d.window.type(d.app, typed);
    d.window.settle(d.app);
  };
  REQUIRE(d.tap("Check levels"));
  int corners = 0;
  for (const Unit& unit : survey.rooms[0].runs[0].units) corners += unit.id.empty() ? 0 : 4;
  for (const Unit& unit : survey.rooms[0].runs[1].units) corners += unit.id.empty() ? 0 : 4;
  const double lean[] = {2, 1, 1, 0};  // a plane: front left, front right, back left, back right
  for (int n = 0; n < corners; ++n) read(level + (n < 4 ? lean[n] : 0));
  REQUIRE(session.survey().install.unit_levels.size() == std::size_t(corners));
  REQUIRE(d.has("See the turns"));
  REQUIRE(d.tap("See the turns"));
  const UnitLevelResult first = install_of(d).unit_levels.at(0);
  CHECK_FALSE(first.level);
  REQUIRE(d.tap("Turned"));
  for (const LegTurn& leg : first.legs) {
    bool anew = false;
    for (const SetLeg& set : session.survey().install.set_legs)
      anew = anew || (set.unit == first.unit && set.position == leg.position &&
                      std::abs(set.height - leg.height) < 0.06);
    CHECK(anew);
  }
  CHECK_FALSE(d.has("Turned"));  // it is to be read again before anything else is turned
  REQUIRE(d.tap("Read on"));
  for (int n = 0; n < 4; ++n) read(level);
  // What was read before stays.
  CHECK(session.survey().install.unit_levels.size() == std::size_t(corners + 4));
  for (const UnitLevelResult& unit : install_of(d).unit_levels) CHECK(unit.level);
  REQUIRE(d.tap("Back to the legs"));
  CHECK_FALSE(d.has("Set"));  // legs turned to level are not asked for again

  d.show(Page::plinths);
  for (int n = 0; n < 20 && d.has("Cut"); ++n) REQUIRE(d.tap("Cut"));

  // A snag bars it until it is closed.
  d.show(Page::hand_over);
  REQUIRE(d.tap("Show snags"));
  words(d, "snag", "front of S3 scratched");
  REQUIRE(d.tap("Add snag"));
  REQUIRE(session.survey().install.snags.size() == 1);
  tick_all(d);
  REQUIRE(d.tap("Show sign-off"));
  CHECK_FALSE(d.has("Sign off"));
  REQUIRE(d.tap("Bar N1"));
  REQUIRE(d.tap("Close snag"));
  CHECK_FALSE(session.survey().install.snags[0].closed.empty());
  // What the thicker floor brought up is answered by the office.
  for (const Finding& f : Results(session.results()).findings)
    if (f.severity != Severity::note && !f.answered)
      REQUIRE(session.apply(
          answer_patch(session.document(), f.id, "seen", "o.f.", "2026-03-12T15:00:00Z", true),
          "answered"));
  d.window.settle(d.app);
  REQUIRE(d.tap("Show sign-off"));
  for (const SignOffBar& bar : sign_off_state(session.survey(), session.results(),
                                              install_tasks(session.survey(), session.results()))
                                   .bars) {
    CAPTURE(bar.says);
    CHECK(bar.id == "");
  }
  CHECK_FALSE(d.has("Sign off"));  // as what, it still asks
  words(d, "sign-role", "fitter");
  REQUIRE(d.tap("Sign off"));
  REQUIRE(session.survey().install.sign_off);
  CHECK(session.survey().install.sign_off->by == "t.v.");
  CHECK(session.survey().install.sign_off->role == "fitter");

  // Read-only: no key ticks, no edit is taken, nothing is undone.
  CHECK(session.read_only());
  const int version = session.version();
  CHECK_FALSE(session.apply(
      Json::array({{{"op", "replace"}, {"path", "/job/reference"}, {"value", "another"}}}),
      "another"));
  CHECK(session.trouble().find("reopen it on Hand-over") != std::string::npos);
  CHECK_FALSE(
      session.apply(Json::array({{{"op", "remove"}, {"path", "/install/sign_off"}}}), "lifted"));
  CHECK_FALSE(session.undo());
  CHECK_FALSE(session.redo());
  CHECK(session.version() == version);
  d.show(Page::legs);
  CHECK_FALSE(d.has("Undo"));
  // It is signed off in the file too, and after it was opened again.
  const std::string path = d.path;
  d.app.close();
  REQUIRE(d.app.open(path));
  d.window.settle(d.app);
  REQUIRE(d.app.session()->signed_off());
  // Sealed as it was saved; an edit by hand would show.
  Json by_hand = d.app.session()->document();
  CHECK_FALSE(changed_since_signed(by_hand));
  by_hand["install"]["snags"][0]["text"] = "front of S3 polished";
  CHECK(changed_since_signed(by_hand));

  d.show(Page::hand_over);
  REQUIRE(d.tap("Show sign-off"));
  CHECK_FALSE(d.has("Reopen"));
  words(d, "reopen-why", "plinth exchanged");
  REQUIRE(d.tap("Reopen"));
  const Install& install = d.app.session()->survey().install;
  CHECK_FALSE(install.sign_off);
  REQUIRE(install.reopened.size() == 1);
  CHECK(install.reopened[0].why == "plinth exchanged");
  REQUIRE(install.reopened[0].sign_off);
  CHECK(install.reopened[0].sign_off->role == "fitter");
  CHECK_FALSE(d.app.session()->read_only());
}

TEST_CASE("a snag has a place on the plan and photos that are seen, and both are in the print") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  Session& session = *d.app.session();
  std::ofstream(d.folder + "/p.jpg", std::ios::binary) << wall_photo(300, 200);
  d.show(Page::hand_over);
  REQUIRE(d.tap("Show snags"));
  words(d, "snag", "front of S3 scratched");
  REQUIRE(d.tap("Add snag"));
  // It is chosen: where it is and what it looks like are the next taps.
  REQUIRE(d.tap("Where is it?"));
  REQUIRE(box_of(d, "plan"));
  d.window.tap_at(d.app, box_of(d, "plan")->middle());
  d.window.settle(d.app);
  REQUIRE(session.survey().install.snags.at(0).place);
  CHECK(session.survey().install.snags[0].place->wall);
  REQUIRE(d.tap("Undo"));
  CHECK_FALSE(session.survey().install.snags.at(0).place);
  d.window.tap_at(d.app, box_of(d, "plan")->middle());
  d.window.settle(d.app);
  REQUIRE(d.tap("Back to the snags"));

  REQUIRE(d.tap("Add a photo"));
  words(d, "photo", d.folder + "/nowhere.jpg\n");
  CHECK(session.survey().rooms[0].photos.empty());
  d.app.close();
  REQUIRE(d.app.open(d.path));
  d.window.settle(d.app);
  d.show(Page::hand_over);
  REQUIRE(d.tap("Show snags"));
  REQUIRE(d.tap("Snag N1"));
  REQUIRE(d.tap("Add a photo"));
  words(d, "photo", d.folder + "/p.jpg\n");
  Session& again = *d.app.session();
  REQUIRE(again.survey().rooms[0].photos.size() == 1);
  const Photo photo = again.survey().rooms[0].photos[0];
  CHECK(photo.at == "/install/snags/0");
  CHECK(d.platform.pictures == 1);  // it is seen, not only named
  REQUIRE(d.tap("Photo 1"));
  CHECK(d.platform.pictures >= 1);
  REQUIRE(d.tap("Back"));
  REQUIRE(d.has("Close snag"));

  REQUIRE(d.tap("Show sign-off"));
  REQUIRE(d.tap("As built"));
  const std::string pdf = file_text(d.folder + "/MH-26-031 as built.pdf");
  CHECK(pdf.find("/DCTDecode") != std::string::npos);
  // The picture's file is gone: the snag still opens, and the sheets still come.
  std::filesystem::remove(d.folder + "/" + photo.file);
  REQUIRE(d.tap("As built"));
  const std::string without = file_text(d.folder + "/MH-26-031 as built.pdf");
  CHECK(without.starts_with("%PDF"));
  CHECK(without.find("/DCTDecode") == std::string::npos);
}

TEST_CASE("numbers in the wrong unit are asked about while they are typed") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  release(d);
  d.show(Page::arrival);
  const auto said = [&](const char* words) {
    return d.app.touch().said().find(words) != std::string::npos;
  };
  const auto typed = [&](const std::string& digits) {
    d.window.type(d.app, digits);
    d.window.settle(d.app);
  };
  const auto rubbed = [&](std::size_t n) {
    for (; n > 0; --n) REQUIRE(d.tap("rub out"));
  };
  typed("1.7");  // 3 thicker than the 14 planned, in cm
  CHECK(said("It may be 17, cm for mm"));
  rubbed(3);
  typed("0.018");
  CHECK(said("It may be 18, metres for mm"));
  rubbed(5);
  typed("180");
  CHECK(said("It may be 18, a digit too many"));
  rubbed(3);
  typed("17");
  CHECK_FALSE(said("It may be"));
  rubbed(2);
  REQUIRE(d.tap("Show level"));
  REQUIRE(d.tap("Set up a level"));
  typed("101.25");
  CHECK(said("(cm for mm)"));
  rubbed(6);
  typed("1.0125");
  CHECK(said("(metres for mm)"));
  typed("\n");
  // Booked all the same, it ties nothing.
  CHECK(d.app.session()->survey().install.setups.at(0).readings.size() == 1);
  CHECK_FALSE(install_of(d).setups.at(0).height);
  REQUIRE(d.tap("Undo"));
  typed("1012.5");
  CHECK_FALSE(said("for mm"));
  typed("\n");
  CHECK(install_of(d).setups.at(0).height);
}

TEST_CASE("with the benchmark gone and the floor laid over, the page says how to go on") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  d.show(Page::arrival);
  REQUIRE(d.tap("Show level"));
  REQUIRE(d.tap("Set up a level"));
  REQUIRE(d.tap("Can’t reach"));
  REQUIRE(d.tap("no line of sight"));
  CHECK(d.app.touch().said().find("No other mark keeps its height") != std::string::npos);
  // Tops are read from it all the same, and levelled in themselves.
  d.show(Page::legs);
  for (int n = 0; n < 500 && d.has("Set"); ++n) REQUIRE(d.tap("Set"));
  REQUIRE(d.tap("Check levels"));
  d.window.type(d.app, "132\n130\n132\n130\n");
  d.window.settle(d.app);
  const UnitLevelResult& first = install_of(d).unit_levels.at(0);
  CHECK(first.relative);
  CHECK_FALSE(first.legs.empty());
}

TEST_CASE(
    "with the benchmark gone three points of untouched floor are asked for, and tie the level") {
  DrivenApp d;
  REQUIRE(d.open(sample("knocked-through")));  // nothing is laid in its dining room
  Session& session = *d.app.session();
  d.show(Page::arrival);
  REQUIRE(d.tap("Show level"));
  REQUIRE(d.tap("Set up a level"));
  REQUIRE(d.tap("Can’t reach"));
  REQUIRE(d.tap("no line of sight"));
  for (int n = 0; n < 3; ++n) {
    CHECK((n == 0 || !install_of(d).setups.at(0).height));
    std::string point = "E" + std::to_string(n + 1);
    double height = 0;
    for (const LevelResult& level : session.results().rooms[0].levels)
      if (level.point == point) height = *level.height;
    char staff[32];
    std::snprintf(staff, sizeof staff, "%.1f\n", 1300 - height);
    d.window.type(d.app, staff);
    d.window.settle(d.app);
    REQUIRE(session.survey().install.setups[0].readings.size() == std::size_t(n + 1));
    const Index read = session.survey().install.setups[0].readings.back().point;
    CHECK(session.survey().rooms[0].levels.points[read].id == point);
  }
  REQUIRE(install_of(d).setups.at(0).height);
  CHECK(std::abs(*install_of(d).setups[0].height - 1300) < 0.1);
  CHECK_FALSE(install_of(d).setups[0].by_benchmark);
}

TEST_CASE("a floor that cannot be reached is not asked for again") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  d.show(Page::arrival);
  for (int n = 0; n < 4; ++n) {
    REQUIRE(d.tap("Can’t reach"));
    REQUIRE(d.tap("furniture in the way"));
  }
  CHECK(d.app.session()->survey().rooms[0].skipped.size() == 4);
  CHECK(d.has("See what changed"));
}
