// A job edited, closed, crashed, damaged and opened again: what was confirmed is there.
#include "survey/open_job.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "crash_disk.h"
#include "survey/json_patch.h"
#include "survey_texts.h"
#include "tests/simulate/random.h"

using namespace levelrun;

namespace {

const std::string path = "S-1.levelrun.json", journal = "S-1.levelrun.journal";
const std::string staff = "/rooms/0/levels/setups/0/readings/1/staff";
const By by{"R. Field", "2024-03-11T10:00:00+01:00"};

Json replace(const std::string& at, Json value) {
  return Json::array({{{"op", "replace"}, {"path", at}, {"value", std::move(value)}}});
}

CrashDisk new_disk() {
  CrashDisk disk;
  disk.put(path, small_job);
  return disk;
}

EditedJob opened(FileLayer& disk) {
  auto job = open_job(path, journal, disk);
  REQUIRE(job.ok());
  return std::move(job.value());
}

std::string text_of(const EditedJob& job) { return write_survey(job.document()); }

double second_staff(const EditedJob& job) {
  return job.document()[Json::json_pointer(staff)].get<double>();
}

bool tells(const EditedJob& job, const std::string& words) {
  return std::any_of(job.notices().begin(), job.notices().end(),
                     [&](const std::string& notice) { return notice.find(words) != notice.npos; });
}

void make_edits(EditedJob& job, int first, int last) {
  for (int i = first; i <= last; ++i) {
    REQUIRE(
        job.apply(replace(staff, 1000 + i), "P2 staff " + std::to_string(1000 + i), by).empty());
  }
}

// A model of what a person expects: the texts one could go back and forth through.
struct Expected {
  std::vector<std::string> texts;
  std::size_t now = 0;
  const std::string& text() const { return texts[now]; }
};

// One step of a random session; `may_be` collects what an unconfirmed step may have left.
void step(EditedJob& job, const CrashDisk& disk, Expected& expected, Random& random,
          std::vector<std::string>& may_be) {
  const std::size_t what = random.below(8), operations = disk.operations();
  Expected next = expected;
  std::vector<Problem> problems;
  if (what == 0) {
    problems = job.save_snapshot(by);
  } else if (what == 1 || what == 2) {
    problems = job.undo(by);
    if (next.now > 0) --next.now;
  } else if (what == 3) {
    problems = job.redo(by);
    if (next.now + 1 < next.texts.size()) ++next.now;
  } else {
    const double value = std::floor(random.uniform(900, 1100));
    const Json patches[] = {
        replace(staff, value),
        Json::array({{{"op", "add"}, {"path", "/job/notes"}, {"value", std::to_string(value)}}}),
        Json::array({{{"op", "remove"}, {"path", "/rooms/0/runs/0/units/0"}}}),
        Json::array({{{"op", "remove"}, {"path", "/rooms/0/walls/1/lengths"}}}),
        Json::array({{{"op", "add"},
                      {"path", "/rooms/0/walls/0/lengths/0"},
                      {"value", {{"height", 100}, {"length", 3 * value}}}}}),
        Json::array({{{"op", "remove"}, {"path", "/rooms/0/corners/0"}}})};  // no survey then
    const Json& patch = patches[random.below(6)];
    problems = job.apply(patch, "an edit", by);
    Json document = Json::parse(expected.text());
    if (apply_patch(document, patch).empty() && survey_from(document).ok()) {
      next.texts.resize(next.now + 1);
      next.texts.push_back(write_survey(document));
      ++next.now;
    }
  }
  if (problems.empty()) {
    expected = std::move(next);
    if (disk.operations() > operations) may_be.clear();  // saving what is saved writes nothing
  } else {
    may_be.push_back(next.text());
  }
  REQUIRE(text_of(job) == expected.text());
}

}  // namespace

TEST_CASE("an edit is in the journal when apply returns, and there after a crash") {
  CrashDisk disk = new_disk();
  {
    EditedJob job = opened(disk);
    CHECK(disk.names() == std::vector<std::string>{path});  // looking leaves nothing behind
    make_edits(job, 1, 3);
    CHECK(job.survey().rooms[0].levels.setups[0].readings[1].staff == 1003);
    CHECK(job.safe_at() == by.at);
    CHECK(job.unsaved() == 3);
  }
  disk.crash(CrashDisk::After::least);
  CHECK(disk.text(path) == small_job);
  const EditedJob job = opened(disk);
  CHECK(second_staff(job) == 1003);
  CHECK(job.survey().rooms[0].levels.setups[0].readings[1].staff == 1003);
  CHECK(job.unsaved() == 3);
  CHECK(job.safe_at() == by.at);
  CHECK(job.notices().empty());
}

TEST_CASE("undo and redo say what they move, and go on after a save and a restart") {
  CrashDisk disk = new_disk();
  {
    EditedJob job = opened(disk);
    CHECK(job.undo_says() == nullptr);
    CHECK(job.undo(by).size() == 1);
    make_edits(job, 1, 3);
    REQUIRE(job.save_snapshot(by).empty());
    CHECK(job.unsaved() == 0);
    CHECK(disk.text(path) == text_of(job));
    REQUIRE(job.undo(by).empty());
  }
  {
    EditedJob job = opened(disk);
    CHECK(second_staff(job) == 1002);
    REQUIRE(job.undo_says());
    CHECK(*job.undo_says() == "P2 staff 1002");
    REQUIRE(job.redo_says());
    CHECK(*job.redo_says() == "P2 staff 1003");
    REQUIRE(job.undo(by).empty());
    REQUIRE(job.undo(by).empty());
    CHECK(job.undo_says() == nullptr);
    CHECK(text_of(job) == write_survey(document_of(small_job)));
    REQUIRE(job.redo(by).empty());
    make_edits(job, 7, 7);
    CHECK(job.redo_says() == nullptr);
  }
  EditedJob job = opened(disk);
  CHECK(second_staff(job) == 1007);
  CHECK(job.redo_says() == nullptr);
  CHECK(*job.undo_says() == "P2 staff 1007");
}

TEST_CASE("an edit that does not fit, or would leave no survey, is refused and not written") {
  CrashDisk disk = new_disk();
  EditedJob job = opened(disk);
  make_edits(job, 1, 1);
  const std::string before = disk.text(journal), text = text_of(job);
  const struct {
    Json patch;
    const char* at;
  } cases[] = {
      {replace("/rooms/7/id", "R8"), "/rooms/7/id"},
      {replace(staff, "2.4m"), staff.c_str()},
      {replace(staff, 1e7), staff.c_str()},
      {replace("/rooms/0/runs/0/wall", "W9"), "/rooms/0/runs/0/wall"},
  };
  for (const auto& c : cases) {
    CAPTURE(c.patch.dump());
    const auto problems = job.apply(c.patch, "no", by);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].at == c.at);
    CHECK(text_of(job) == text);
    CHECK(disk.text(journal) == before);
  }
  CHECK(job.apply(Json::array(), "nothing", by).empty());
  CHECK(disk.text(journal) == before);
}

TEST_CASE("whatever is done, undone and saved, opening again gives the same, forwards and back") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    CrashDisk disk = new_disk();
    Expected expected{{write_survey(document_of(small_job))}};
    std::vector<std::string> ignored;
    for (int session = 0; session < 4; ++session) {
      EditedJob job = opened(disk);
      CHECK(job.notices().empty());
      REQUIRE(text_of(job) == expected.text());
      for (int i = 0; i < 12; ++i) step(job, disk, expected, random, ignored);
    }
    EditedJob job = opened(disk);
    for (std::size_t i = expected.now; i-- > 0;) {
      REQUIRE(job.undo(by).empty());
      REQUIRE(text_of(job) == expected.texts[i]);
    }
    CHECK(job.undo_says() == nullptr);
    for (std::size_t i = 1; i < expected.texts.size(); ++i) {
      REQUIRE(job.redo(by).empty());
      REQUIRE(text_of(job) == expected.texts[i]);
    }
    CHECK(job.redo_says() == nullptr);
  }
}

TEST_CASE("a journal cut at any byte opens with every edit whose line is whole") {
  CrashDisk disk = new_disk();
  std::vector<std::size_t> ends;
  {
    EditedJob job = opened(disk);
    for (int i = 1; i <= 5; ++i) {
      make_edits(job, i, i);
      ends.push_back(disk.text(journal).size());
    }
  }
  const std::string whole = disk.text(journal);
  for (std::size_t size = 0; size <= whole.size(); ++size) {
    CAPTURE(size);
    CrashDisk cut = new_disk();
    cut.put(journal, whole.substr(0, size));
    const auto confirmed =
        std::count_if(ends.begin(), ends.end(), [&](std::size_t end) { return end <= size; });
    EditedJob job = opened(cut);
    CHECK(second_staff(job) == (confirmed == 0 ? 1004 : 1000 + double(confirmed)));
    const bool at_an_end = std::find(ends.begin(), ends.end(), size) != ends.end();
    if (confirmed > 0) CHECK(tells(job, "1 unfinished edit dropped") == !at_an_end);
    make_edits(job, 9, 9);
    job = opened((cut.crash(CrashDisk::After::least), cut));
    CHECK(second_staff(job) == 1009);
    CHECK(job.notices().empty());
  }
}

TEST_CASE("at whatever write, sync or rename the disk fails or the power goes, no edit is lost") {
#ifdef SANITISED
  constexpr int steps = 15;  // the time grows with their square
#else
  constexpr int steps = 40;
#endif
  // once: one operation fails; twice: so does the mending of it; on: the disk stays full.
  const struct {
    const char* name;
    std::size_t more;
  } kinds[] = {{"once", 0}, {"twice", 1}, {"thrice", 2}, {"on", CrashDisk::never / 2}};
  const CrashDisk::After afters[] = {CrashDisk::After::least, CrashDisk::After::most,
                                     CrashDisk::After::torn};
  for (const auto& kind : kinds) {
    for (const auto after : afters) {
      bool failed = true;
      for (std::size_t n = 1; failed; ++n) {
        CAPTURE(std::string(kind.name));
        CAPTURE(int(after));
        CAPTURE(n);
        CrashDisk disk = new_disk();
        Random random(7);
        Expected expected{{write_survey(document_of(small_job))}};
        std::vector<std::string> may_be;
        std::optional<EditedJob> job = opened(disk);
        disk.fail(n, n + kind.more);
        for (int i = 0; i < steps; ++i) step(*job, disk, expected, random, may_be);
        failed = disk.operations() >= n;
        disk.crash(after);
        job.reset();

        job = opened(disk);
        CHECK(job->only_looks().empty());
        const std::string text = text_of(*job);
        const bool attempted = std::find(may_be.begin(), may_be.end(), text) != may_be.end();
        CHECK((text == expected.text() || attempted));
        CHECK_FALSE(tells(*job, "someone else"));
        make_edits(*job, 50, 50);
        REQUIRE(job->save_snapshot(by).empty());
        job.reset();
        CHECK(second_staff(opened(disk)) == 1050);
      }
    }
  }
}

TEST_CASE("a full disk says so, leaves all as it was, and goes on when there is room again") {
  CrashDisk disk = new_disk();
  EditedJob job = opened(disk);
  make_edits(job, 1, 1);
  const std::string before = text_of(job);
  disk.fail(disk.operations() + 1, CrashDisk::never);
  for (int i = 0; i < 3; ++i) {
    const auto problems = job.apply(replace(staff, 1002), "two", by);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].found == "not saved: No space left on device");
    CHECK(job.save_snapshot(by).size() == 1);
  }
  CHECK(text_of(job) == before);
  CHECK(*job.undo_says() == "P2 staff 1001");
  disk.fail(CrashDisk::never, CrashDisk::never);
  make_edits(job, 3, 4);
  job = opened((disk.crash(CrashDisk::After::least), disk));
  CHECK(second_staff(job) == 1004);
  REQUIRE(job.undo(by).empty());
  CHECK(second_staff(job) == 1003);
}

TEST_CASE("a second window looks on, and is told") {
  CrashDisk disk = new_disk();
  std::optional<EditedJob> first = opened(disk);
  make_edits(*first, 1, 2);
  const std::string before = disk.text(journal);
  EditedJob second = opened(disk);
  CHECK(second_staff(second) == 1002);
  CHECK(second.only_looks() == "it is open in another window");
  CHECK(tells(second, "open in another window"));
  CHECK(second.apply(replace(staff, 5), "no", by)[0].found ==
        "not saved: it is open in another window");
  CHECK(second.save_snapshot(by).size() == 1);
  CHECK(disk.text(journal) == before);
  first.reset();
  CHECK(opened(disk).only_looks().empty());
}

TEST_CASE("a folder that cannot be written gives a job to look at") {
  CrashDisk disk = new_disk();
  disk.read_only = true;
  EditedJob job = opened(disk);
  CHECK(tells(job, "Read-only file system"));
  CHECK(job.apply(replace(staff, 1001), "no", by).size() == 1);
  CHECK(second_staff(job) == 1004);
}

TEST_CASE("a file changed by someone else is not overwritten, and both are kept") {
  CrashDisk disk = new_disk();
  Json theirs = document_of(small_job);
  theirs["job"]["reference"] = "S-1 b";
  {
    EditedJob job = opened(disk);
    make_edits(job, 1, 2);
    CHECK_FALSE(job.changed_outside());
    disk.put(path, write_survey(theirs));
    CHECK(job.changed_outside());
    const auto problems = job.save_snapshot(by);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].found.find("changed by someone else") != std::string::npos);
    CHECK(disk.text(path) == write_survey(theirs));
    make_edits(job, 3, 3);  // editing goes on: the journal takes it
  }
  EditedJob job = opened(disk);
  CHECK(text_of(job) == write_survey(theirs));
  CHECK(tells(job, "3 edits newer than the last save"));
  CHECK(tells(job, "S-1 (2).levelrun.json"));
  CHECK(disk.exists(journal + ".set-aside-1"));
  CHECK_FALSE(disk.exists(journal));
  const auto ours = open_job("S-1 (2).levelrun.json", "S-1 (2).levelrun.journal", disk);
  REQUIRE(ours.ok());
  CHECK(second_staff(ours.value()) == 1003);

  make_edits(job, 8, 8);
  REQUIRE(job.save_snapshot(by).empty());
  disk.put(path, write_survey(theirs));  // an old file put back: the journal knows it
  CHECK(second_staff(opened((disk.crash(CrashDisk::After::most), disk))) == 1008);
}

TEST_CASE("a journal with nothing newer is set aside without a second file") {
  CrashDisk disk = new_disk();
  {
    EditedJob job = opened(disk);
    make_edits(job, 1, 2);
    REQUIRE(job.save_snapshot(by).empty());
  }
  Json theirs = document_of(small_job);
  theirs["job"]["notes"] = "theirs";
  disk.put(path, write_survey(theirs));
  CHECK(tells(opened(disk), "changed by someone else"));
  CHECK(disk.names() == std::vector<std::string>{journal + ".set-aside-1", path});
}

TEST_CASE("a journal damaged in the middle gives what is before, and sets the rest aside") {
  CrashDisk disk = new_disk();
  std::size_t second = 0;
  {
    EditedJob job = opened(disk);
    make_edits(job, 1, 2);
    second = disk.text(journal).size();
    make_edits(job, 3, 5);
  }
  std::string damaged = disk.text(journal);
  damaged[second + 10] = '#';
  disk.put(journal, damaged);
  {
    EditedJob job = opened(disk);
    CHECK(second_staff(job) == 1002);
    CHECK(tells(job, "damaged after line 2: 3 lines not used, kept in"));
    CHECK(disk.text(journal + ".set-aside-1") == damaged.substr(second));
    make_edits(job, 6, 6);
  }
  const EditedJob job = opened(disk);
  CHECK(second_staff(job) == 1006);
  CHECK(job.notices().empty());
}

TEST_CASE("a journal whose first line is damaged is set aside whole") {
  CrashDisk disk = new_disk();
  make_edits(*std::make_unique<EditedJob>(opened(disk)), 1, 2);
  std::string damaged = disk.text(journal);
  damaged[3] = '#';
  disk.put(journal, damaged);
  const EditedJob job = opened(disk);
  CHECK(second_staff(job) == 1004);
  CHECK(tells(job, "damaged from its first line"));
  CHECK(disk.text(journal + ".set-aside-1") == damaged);
}

TEST_CASE("a damaged survey file is given back from its journal") {
  CrashDisk disk = new_disk();
  {
    EditedJob job = opened(disk);
    make_edits(job, 1, 2);
    REQUIRE(job.save_snapshot(by).empty());
    make_edits(job, 3, 3);
  }
  disk.put(path, std::string(500, '\0'));
  {
    EditedJob job = opened(disk);
    CHECK(second_staff(job) == 1003);
    CHECK(tells(job, "given back from its journal"));
    CHECK(disk.text(path + ".set-aside-1") == std::string(500, '\0'));
    CHECK(*job.undo_says() == "P2 staff 1003");
    REQUIRE(job.save_snapshot(by).empty());
  }
  const EditedJob job = opened(disk);
  CHECK(second_staff(job) == 1003);
  CHECK(job.notices().empty());

  CrashDisk without_journal;
  without_journal.put(path, "{");
  CHECK_FALSE(open_job(path, journal, without_journal).ok());
  CHECK_FALSE(open_job("none.levelrun.json", journal, without_journal).ok());
}

TEST_CASE("a journal that someone else touches is not written into") {
  CrashDisk disk = new_disk();
  EditedJob job = opened(disk);
  make_edits(job, 1, 1);
  disk.put(journal, disk.text(journal) + "theirs\n");
  CHECK(job.apply(replace(staff, 1002), "no", by)[0].found.find("changed by someone else") !=
        std::string::npos);
  disk.drop(journal);
  CHECK(job.apply(replace(staff, 1002), "no", by).size() == 1);
  CHECK(second_staff(job) == 1001);
}

TEST_CASE("lines that fit no document are set aside, not obeyed") {
  // A journal with right checksums, but an undo of nothing, a patch of nothing, or no survey after.
  JournalLine undo, lost, wrong;
  undo.does = Deed::undo;
  undo.of = 5;
  lost.edit.patch = replace("/nowhere", 1);
  wrong.edit.patch = replace("/rooms/0/id", 5);
  for (JournalLine line : {undo, lost, wrong}) {
    CrashDisk disk = new_disk();
    make_edits(*std::make_unique<EditedJob>(opened(disk)), 1, 1);
    line.edit.n = 2;
    line.edit.inverse = Json::array();
    if (line.edit.patch.is_null()) line.edit.patch = Json::array();
    disk.put(journal, disk.text(journal) + line_text(line));
    CAPTURE(disk.text(journal));
    const EditedJob job = opened(disk);
    CHECK(second_staff(job) == 1001);
    CHECK(*job.undo_says() == "P2 staff 1001");
    CHECK(tells(job, "damaged after line 1: 1 line not used"));
  }
}

TEST_CASE("the journal stands beside the survey") {
  CHECK(journal_path_beside("a/K-104.levelrun.json") == "a/K-104.levelrun.journal");
  CHECK(journal_path_beside("survey.json") == "survey.json.levelrun.journal");
}
