#include <doctest/doctest.h>

#include <algorithm>

#include "app/jobs/job_list.h"
#include "app/jobs/new_job.h"
#include "tests/screens/driven_app.h"

using namespace levelrun;

namespace {

const std::string troubled = file_text(SAMPLES "/full-of-trouble.levelrun.json");
const std::string calm = file_text(SAMPLES "/small-l-kitchen.levelrun.json");

void put(const std::string& folder, const std::string& name, std::string text,
         const std::string& reference, const std::string& day) {
  const auto set = [&](const std::string& key, const std::string& value) {
    const std::size_t at = text.find("\"" + key + "\": \"");
    REQUIRE(at != std::string::npos);
    const std::size_t from = at + key.size() + 5, to = text.find('"', from);
    text.replace(from, to - from, value);
  };
  set("reference", reference);
  set("surveyed_on", day);
  std::ofstream(folder + "/" + name + ".levelrun.json", std::ios::binary) << text;
}

// Six surveys and one file that is none.
void fill(const std::string& folder) {
  put(folder, "a", calm, "K-5", "2026-05-01");
  put(folder, "b", calm, "K-4", "2026-01-15");
  put(folder, "c", calm, "K-3", "2026-03-01");
  put(folder, "d", troubled, "K-2", "2026-06-01");
  put(folder, "e", troubled, "K-1", "2026-02-01");
  put(folder, "f", troubled, "K-6", "2025-12-24");
  std::ofstream(folder + "/g.levelrun.json", std::ios::binary) << "{";
}

// The letters of the jobs in the order in which they stand on the page.
std::string letters(const App& app) {
  std::vector<std::pair<float, std::string>> rows;
  for (const Touch::Target& t : const_cast<App&>(app).touch().targets())
    if (const std::size_t at = t.label.find(".levelrun.json"); at != std::string::npos)
      rows.push_back({t.box.y, t.label.substr(at - 1, 1)});
  std::sort(rows.begin(), rows.end());
  std::string out;
  for (const auto& row : rows) out += row.second;
  return out;
}

}  // namespace

TEST_CASE("the list of jobs reads every survey of the folder, and says which file is none") {
  DrivenApp d;
  fill(d.folder);
  const std::vector<JobLine> jobs = jobs_on(d.files, d.folder, {});
  REQUIRE(jobs.size() == 7);
  CHECK(jobs.back().path.ends_with("g.levelrun.json"));
  CHECK_FALSE(jobs.back().trouble.empty());
  int with_holds = 0;
  for (const JobLine& job : jobs) with_holds += job.holds > 0;
  CHECK(with_holds == 3);
  // The same list whoever of the cores was first.
  for (int n = 0; n < 5; ++n) {
    const std::vector<JobLine> again = jobs_on(d.files, d.folder, {});
    REQUIRE(again.size() == jobs.size());
    for (std::size_t i = 0; i < jobs.size(); ++i) CHECK(again[i].path == jobs[i].path);
  }
}

TEST_CASE(
    "jobs stand oldest first, with holds first or by name, as a key says; a broken file last") {
  DrivenApp d(800, 1280);
  fill(d.folder);
  d.open(calm, "a.levelrun.json");  // and back: the page looks again
  put(d.folder, "a", calm, "K-5", "2026-05-01");
  d.app.close();
  d.window.settle(d.app);
  // Troubled ones have readings open (to survey), calm ones are in the office.
  CHECK(letters(d.app) == "fedbcag");
  REQUIRE(d.tap("Order of the jobs"));
  CHECK(letters(d.app).size() == 7);
  REQUIRE(d.tap("Order of the jobs"));
  CHECK(letters(d.app) == "edfcbag");  // K-1 K-2 K-6, K-3 K-4 K-5
  REQUIRE(d.tap("Order of the jobs"));
  CHECK(letters(d.app) == "fedbcag");
}

TEST_CASE("a search finds a job by reference, client or file, however it is written") {
  DrivenApp d;
  fill(d.folder);
  const std::vector<JobLine> jobs = jobs_on(d.files, d.folder, {});
  CHECK(jobs_that_say(jobs, "").size() == 7);
  REQUIRE(jobs_that_say(jobs, "k-3").size() == 1);
  CHECK(jobs_that_say(jobs, "k-3").front().reference == "K-3");
  CHECK(jobs_that_say(jobs, "PENHALLOW").size() == 3);  // the calm one's client
  CHECK(jobs_that_say(jobs, "nobody of that name").empty());
}
