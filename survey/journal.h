// The journal of a job: every edit, undo and redo, a line each, and never rewritten.
//
//     {"format":"levelrun-journal","version":1,"base":{"crc":"…","length":15178},"crc":"…"}
//     the text of the survey file that it starts from, `length` bytes, and a newline
//     {"n":1,"does":"edit","says":"…","by":"…","at":"…","patch":[…],"inverse":[…],"crc":"…"}
//     {"n":2,"does":"undo","of":1,"by":"…","at":"…","crc":"…"}
//     {"n":3,"does":"redo","of":1,…}
//     {"n":4,"does":"saved","file":{"crc":"…","length":15190},…}
//
// A line is a JSON object (RFC 8259); `crc` is the CRC-32, in hexadecimal, of all before its own
// comma. `saved` says: a survey file with this text is the state after the lines before; it is
// written before the file is. With the base in it the journal alone can give the job back.
//
// A line numbered n withdraws earlier lines numbered n or more: what a failing disk took half,
// or took whole but never confirmed, need not be removed before the next line. What is no line is
// passed over where the numbers go on without a gap. Where they do not, a line that was
// confirmed is damaged, and the journal counts up to there.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "survey/crc32.h"
#include "survey/edit.h"

namespace levelrun {

enum class Deed { edit, undo, redo, saved };

struct JournalLine {
  Deed does = Deed::edit;
  Edit edit;               // n and by for every deed, the rest for an edit
  std::size_t of = 0;      // undo, redo: which edit
  TextIdentity file;       // saved
  std::size_t begins = 0;  // bytes before it in the journal; as read
};

enum class JournalState {
  good,
  unusable,  // no journal, or one whose first line is damaged
  newer,     // of a later version than this program knows
};

struct Journal {
  JournalState state = JournalState::unusable;
  TextIdentity base;
  std::string_view base_text;      // part of the text that was read; empty if damaged
  std::vector<JournalLine> lines;  // those that count, numbered 1, 2, 3 …
  std::size_t good = 0;            // bytes up to the end of the last of them
  std::size_t lost = 0;            // whole lines after that, good or damaged
  bool unfinished = false;         // a piece of a line without its end after that
};

Journal read_journal(std::string_view text);

// The beginning of a journal, up to its first line.
std::string journal_head(std::string_view base_text);

// With its newline.
std::string line_text(const JournalLine& line);

// Would a reader get this very line back? False for what JSON cannot hold (a number that is not
// finite, text that is not Unicode) and for a line past the bounds of a survey file (16 MiB, 32
// levels of nesting, these three deeper than the patch's values).
bool reads_back(std::string_view text, const JournalLine& line);

}  // namespace levelrun
