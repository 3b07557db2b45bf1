// A picture of every page at every size: screenshots FOLDER. Paper at all sizes; Dark, Sun and
// large text on the phone and the tablet.
#include <cstdio>

#include "app/screens/outline_page.h"
#include "app/screens/screens.h"
#include "checks/solve.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/invented_photos.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

std::string far_into_the_day() {
  Json job = Json::parse(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"));
  const std::string now = "2026-03-12T14:32:08Z";
  const auto solved = [&] { return solve(read_survey(job.dump()).value().survey).rooms[0]; };
  const RoomResult released = solved();
  const double underside = released.groups[0].underside;
  job["rooms"][0]["level_groups"][0]["underside_set"] = {
      {"value", underside}, {"by", "o.f."}, {"at", now}};
  job["install"]["finished_floor"] = Json::array(
      {{{"place", {{"wall", "W1"}, {"along", 1500}, {"out", 800}}}, {"thickness", 17}}});
  job["install"]["setups"] = Json::array(
      {{{"id", "Day 1"},
        {"readings", Json::array({{{"point", job["rooms"][0]["levels"]["benchmark"]["point"]},
                                   {"staff", 1012.5}}})}}});
  const RoomResult today = solved();
  for (const LegResult& leg : today.legs)
    job["install"]["set_legs"].push_back({{"unit", leg.unit},
                                          {"position", leg.position},
                                          {"height", *leg.height},
                                          {"at", now},
                                          {"by", "t.v."}});
  const double top = 1012.5 + job["rooms"][0]["levels"]["benchmark"].value("height", 0.0) -
                     underside - job["furniture"].value("base_height", 720.0);
  double off = 0;
  for (const char* unit : {"S1", "S2", "S3"})
    for (const char* corner : {"front_left", "front_right", "back_left", "back_right"})
      job["install"]["unit_levels"].push_back(
          {{"unit", unit}, {"corner", corner}, {"setup", "Day 1"}, {"staff", top + (off += 0.2)}});
  job["install"]["snags"] = Json::array({{{"id", "N1"},
                                          {"text", "Front of S3 scratched at its lower edge"},
                                          {"at", now},
                                          {"by", "t.v."}},
                                         {{"id", "N2"},
                                          {"text", "Window board loose"},
                                          {"at", now},
                                          {"by", "t.v."},
                                          {"closed", now}}});
  return job.dump();
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return std::fputs("usage: screenshots FOLDER\n", stderr), 2;
  const std::string out = argv[1];
  std::filesystem::create_directories(out);
  const char* pages[] = {"jobs",        "settings", "job",      "walk",     "levels",
                         "walls",       "runs",     "findings", "release",  "arrival",
                         "setting-out", "legs",     "plinths",  "hand-over"};
  int pictures = 0;
  const auto take = [&](const ScreenSize& size, float text, InkSet inks, const std::string& kind) {
    DrivenApp d(size.w, size.h, text, inks);
    for (const char* name :
         {"small-l-kitchen", "knocked-through", "u-shape-island", "full-of-trouble"})
      d.open(file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json"),
             std::string(name) + ".levelrun.json");
    for (int page = int(Page::settings); page <= int(last_page) + 1; ++page) {
      const bool index = page > int(last_page);
      if (page == int(first_of_day)) d.app.open(d.folder + "/small-l-kitchen.levelrun.json");
      if (index)
        d.app.close();
      else
        d.show(Page(page));
      if (page == int(Page::walk)) {  // measured again, and wrong
        for (const char* key : {"3", "6", "9", "1"}) d.tap(key);
      }
      if (page == int(Page::arrival)) d.window.type(d.app, "17\n180");
      if (page == int(Page::setting_out)) {
        d.tap("Marked");
        d.tap("Unit T2");
      }
      if (page == int(Page::legs))
        for (int n = 0; n < 5; ++n) d.tap("Set");
      if (page == int(Page::hand_over)) d.tap("Done");
      if (page == int(Page::plinths)) {
        d.tap("Cut");
        if (kind != "-large") d.tap("Piece S front 1");
      }
      d.window.settle(d.app);
      const std::string name =
          std::string(pages[index ? 0 : page]) + "-" + size.name + kind + ".png";
      if (!write_png(d.window.picture(d.app), out + "/" + name)) return false;
      ++pictures;
    }
    // A day that has come far: the floor thicker than planned, legs set, tops read.
    d.open(far_into_the_day(), "day.levelrun.json");
    const auto shot = [&](const std::string& what) {
      d.window.settle(d.app);
      if (!write_png(d.window.picture(d.app), out + "/" + what + "-" + size.name + kind + ".png"))
        return false;
      ++pictures;
      return true;
    };
    d.show(Page::arrival);
    d.tap("Show what changed");
    if (!shot("day-changed")) return false;
    d.show(Page::legs);
    d.tap("Check levels");
    if (!shot("day-readings")) return false;
    d.tap("Show turns");
    if (!shot("day-turns")) return false;
    d.show(Page::hand_over);
    d.tap("Not needed");
    if (!shot("day-why")) return false;
    d.tap("Back to the list");
    d.tap("Show snags");
    d.tap("Snag N1");
    if (!shot("day-snags")) return false;
    d.tap("Show sign-off");
    if (!shot("day-sign-off")) return false;
    // Photos of a wall: the list, and one of them large.
    d.app.open(d.folder + "/knocked-through.levelrun.json");
    d.show(Page::walls);
    add_photos(d, "/rooms/0/walls/0");
    for (int n = 0; n < 60; ++n) {
      ImGui::GetIO().AddMousePosEvent(size.w * 0.8f, size.h * (size.w > size.h ? 0.45f : 0.56f));
      ImGui::GetIO().AddMouseWheelEvent(0, -5);
      d.window.settle(d.app);
    }
    if (!shot("photos")) return false;
    for (int n = 0; n < 20 && !d.has("Photo 1"); ++n) {
      ImGui::GetIO().AddMouseWheelEvent(0, 1);
      d.window.settle(d.app);
    }
    d.tap("Photo 1");
    if (!shot("photo-large")) return false;
    // Forms that stand instead of a page.
    d.show(Page::runs);
    d.app.screens().runs.about = true;
    if (!shot("run-about")) return false;
    d.show(Page::levels);
    PointsEntry& points = d.app.screens().levels.points;
    points.open = points.areas.open = true;
    if (!shot("floor-areas")) return false;
    points.areas.adding = FloorAreasEntry::Adding::area;
    if (!shot("floor-corners")) return false;
    points.areas = {};
    points.services.open = true;
    if (!shot("floor-services")) return false;
    DrivenApp fresh(size.w, size.h, text, inks);
    const auto outline_shot = [&](const std::string& what) {
      fresh.window.settle(fresh.app);
      ++pictures;
      return write_png(fresh.window.picture(fresh.app),
                       out + "/" + what + "-" + size.name + kind + ".png");
    };
    fresh.tap("New job");
    if (!outline_shot("new-job")) return false;
    fresh.tap("reference");
    fresh.window.type(fresh.app, "K-0417");
    fresh.tap(walked_room_words);
    fresh.window.type(fresh.app, "3600\n");
    fresh.tap("Right, square");
    fresh.window.type(fresh.app, "2400\n");
    fresh.tap("Right, by 45");
    fresh.tap("Not known");
    if (!outline_shot("outline-turn")) return false;
    fresh.tap("Right, by 45");
    fresh.window.type(fresh.app, "28");
    return outline_shot("outline-length");
  };
  for (const ScreenSize& size : screen_sizes)
    if (!take(size, 1, InkSet::paper, "")) return 1;
  for (const ScreenSize& size : {screen_sizes[0], screen_sizes[2]}) {
    if (!take(size, 1, InkSet::dark, "-dark") || !take(size, 1, InkSet::sun, "-sun") ||
        !take(size, 2, InkSet::paper, "-large"))
      return 1;
  }
  std::printf("%d pictures in %s\n", pictures, out.c_str());
}
