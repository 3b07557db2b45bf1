// The journal's text: lines, their checksums, and what counts of a damaged one.
#include "survey/journal.h"

#include <doctest/doctest.h>

#include <cstdio>
#include <limits>
#include <string>
#include <vector>

#include "survey/crc32.h"

using namespace levelrun;

namespace {

const std::string base = "{\n  \"any\": \"text\"\n}\n";

JournalLine edit_line(std::size_t n) {
  JournalLine line;
  line.edit = {n,
               Json::array({{{"op", "remove"}, {"path", "/a"}}}),
               Json::array({{{"op", "add"}, {"path", "/a"}, {"value", 2435.5}}}),
               "W3 length \"2435\"\n",
               {"R. Field", "2024-03-11T10:00:00+01:00"}};
  return line;
}

std::string journal_of(const std::vector<std::size_t>& numbers) {
  std::string text = journal_head(base);
  for (const std::size_t n : numbers) text += line_text(edit_line(n));
  return text;
}

std::vector<std::size_t> numbers(const Journal& journal) {
  std::vector<std::size_t> all;
  for (const auto& line : journal.lines) all.push_back(line.edit.n);
  return all;
}

}  // namespace

TEST_CASE("the checksum is CRC-32 of IEEE 802.3") {
  // The check value that catalogues of CRCs give for it.
  CHECK(crc32("123456789") == 0xCBF43926);
  CHECK(crc32("") == 0);
}

TEST_CASE("what is written to the journal is read from it") {
  JournalLine undo, saved;
  undo.does = Deed::undo;
  undo.edit = {2, {}, {}, "", {"R. Field", "2024-03-11T10:01:00+01:00"}};
  undo.of = 1;
  saved.does = Deed::saved;
  saved.edit.n = 3;
  saved.file = {0x00ABCDEF, 42};
  const std::string text = journal_of({1}) + line_text(undo) + line_text(saved);
  const Journal journal = read_journal(text);
  CHECK(journal.state == JournalState::good);
  CHECK(journal.base == identity_of(base));
  CHECK(journal.base_text == base);
  REQUIRE(journal.lines.size() == 3);
  CHECK(journal.lines[0].does == Deed::edit);
  CHECK(journal.lines[0].edit.says == edit_line(1).edit.says);
  CHECK(journal.lines[0].edit.patch == edit_line(1).edit.patch);
  CHECK(journal.lines[0].edit.inverse == edit_line(1).edit.inverse);
  CHECK(journal.lines[0].edit.by.at == "2024-03-11T10:00:00+01:00");
  CHECK(journal.lines[1].does == Deed::undo);
  CHECK(journal.lines[1].of == 1);
  CHECK(journal.lines[1].edit.by.name == "R. Field");
  CHECK(journal.lines[2].does == Deed::saved);
  CHECK(journal.lines[2].file == saved.file);
  CHECK(journal.good == text.size());
  CHECK(journal.lost == 0);
  CHECK_FALSE(journal.unfinished);
}

TEST_CASE("a journal cut at any byte counts up to its last whole line") {
  const std::string text = journal_of({1, 2, 3});
  const std::string head = journal_head(base);
  for (std::size_t size = 0; size <= text.size(); ++size) {
    CAPTURE(size);
    const std::string cut = text.substr(0, size);
    const Journal journal = read_journal(cut);
    if (size < head.size()) {
      CHECK(journal.state == JournalState::unusable);
      continue;
    }
    std::size_t whole = 0, good = head.size();
    while (whole < 3 && good + line_text(edit_line(whole + 1)).size() <= size) {
      good += line_text(edit_line(++whole)).size();
    }
    CHECK(journal.lines.size() == whole);
    CHECK(journal.good == good);
    CHECK(journal.unfinished == (good < size));
    CHECK(journal.lost == 0);
  }
}

TEST_CASE("one byte changed anywhere never gives another line than was written") {
  const std::string text = journal_of({1, 2, 3});
  const std::size_t head = journal_head(base).size();
  for (std::size_t i = head; i < text.size(); ++i) {
    CAPTURE(i);
    std::string damaged = text;
    damaged[i] = static_cast<char>(damaged[i] ^ 0x15);
    const Journal journal = read_journal(damaged);
    CHECK(journal.lines.size() < 3);
    CHECK(journal.lost + journal.unfinished > 0);
    for (const auto& line : journal.lines) {
      CHECK(line.edit.patch == edit_line(line.edit.n).edit.patch);
    }
  }
}

TEST_CASE("lines that a failing disk left are passed over or withdrawn") {
  const std::string two = line_text(edit_line(2)), three = line_text(edit_line(3));
  const struct {
    const char* name;
    std::string text;
    std::vector<std::size_t> lines;
    std::size_t lost;
  } cases[] = {
      {"half a line, then the line again",
       journal_of({1}) + two.substr(0, 20) + '\n' + two,
       {1, 2},
       0},
      {"a whole line never confirmed", journal_of({1, 2}) + '\n' + two + three, {1, 2, 3}, 0},
      {"two of them", journal_of({1, 2, 3}) + two, {1, 2}, 0},
      {"a confirmed line is damaged", journal_of({1}) + "x" + two + three, {1}, 2},
      {"a line is gone", journal_of({1, 3}), {1}, 1},
      {"all after a gap is damage", journal_of({1, 3}) + two, {1}, 2},
      {"the last line is damaged", journal_of({1}) + "x" + two, {1}, 1},
  };
  for (const auto& c : cases) {
    CAPTURE(c.name);
    const Journal journal = read_journal(c.text);
    CHECK(numbers(journal) == c.lines);
    CHECK(journal.lost == c.lost);
  }
}

TEST_CASE("a journal that is none, or of a later version, is told apart") {
  CHECK(read_journal("").state == JournalState::unusable);
  CHECK(read_journal("{}\n").state == JournalState::unusable);
  CHECK(read_journal(base + "\n\n").state == JournalState::unusable);
  std::string head = journal_head(base);
  std::string body = head.substr(0, head.find(",\"crc\":\"", head.find('}')));
  body.replace(body.find("\"version\":1"), 11, "\"version\":2");
  char crc[9];
  std::snprintf(crc, sizeof crc, "%08x", crc32(body));
  CHECK(read_journal(body + ",\"crc\":\"" + crc + "\"}\n").state == JournalState::newer);

  // A damaged base leaves the lines as they are.
  std::string damaged = journal_of({1});
  damaged[damaged.find("any")] = 'x';
  CHECK(read_journal(damaged).lines.size() == 1);
  CHECK(read_journal(damaged).base_text.empty());
}

TEST_CASE("a line that no reader would give back is known before it is written") {
  JournalLine line = edit_line(1);
  CHECK(reads_back(line_text(line), line));
  line.edit.patch[0]["value"] = std::numeric_limits<double>::quiet_NaN();
  CHECK_FALSE(reads_back(line_text(line), line));
  line.edit.patch[0]["value"] = "\xff";
  CHECK_FALSE(reads_back(line_text(line), line));
  Json deep = 1;
  for (int i = 0; i < 40; ++i) deep = Json::array({deep});
  line.edit.patch[0]["value"] = deep;
  CHECK_FALSE(reads_back(line_text(line), line));
}
