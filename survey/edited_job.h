// A job that is being edited: nothing that was confirmed is ever lost.
//
// The survey file is a snapshot, the journal beside it holds every edit. When apply, undo or redo
// return no problem the change is on the disk; when they return one, the document, the survey and
// the journal are as they were, and the problem says why (the edit does not fit the document, the
// survey would be no survey, or the system's words, "not saved: No space left on device").
//
// One window at a time may edit a job; a second one looks on. Times and names come from the
// caller. Nothing here throws.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "survey/crc32.h"
#include "survey/edit.h"
#include "survey/file_layer.h"
#include "survey/journal.h"
#include "survey/problem.h"
#include "survey/survey_file.h"

namespace levelrun {

inline constexpr std::size_t most_journal = 256U << 20;  // bytes; some 500,000 edits

// What opening found out: all that an EditedJob starts from.
struct OpenedJob {
  std::string path, journal_path;
  Json document;
  Survey survey;
  History history;
  TextIdentity file;                 // of the survey file as last read or written by us
  std::string base_text;             // that text, while there is no journal yet
  std::optional<std::size_t> bytes;  // of the journal that count; none: no journal yet
  bool ragged = false;               // the journal has more bytes than those
  std::size_t lines = 0;             // the number of the journal's last line
  std::size_t unsaved = 0;           // edits, undos and redos that the survey file has not got
  std::string safe_at;               // the time of the last of them all; "" if there is none
  std::string only_looks;            // why nothing can be changed; "": it can
  std::vector<std::string> notices;  // what a person should be told, a sentence each
  std::unique_ptr<FileLock> lock;
};

class EditedJob {
 public:
  // `files` outlives the job.
  EditedJob(OpenedJob opened, FileLayer& files) : job_(std::move(opened)), files_(&files) {}

  const Json& document() const { return job_.document; }
  const Survey& survey() const { return job_.survey; }
  const std::string& path() const { return job_.path; }
  const std::vector<std::string>& notices() const { return job_.notices; }
  const std::string& only_looks() const { return job_.only_looks; }
  const std::string& safe_at() const { return job_.safe_at; }
  std::size_t unsaved() const { return job_.unsaved; }

  // Changes the document by a JSON Patch (json_patch.h). An empty patch does and writes nothing.
  std::vector<Problem> apply(const Json& patch, const std::string& says, const By& by);
  std::vector<Problem> undo(const By& by);
  std::vector<Problem> redo(const By& by);

  // What undo and redo would move, in the words of the edit; nullptr: nothing to move.
  const std::string* undo_says() const;
  const std::string* redo_says() const;

  // Brings the survey file up to date; the journal goes on, so everything can still be undone.
  // Refused, with every edit safe in the journal, if the file was changed by someone else: the
  // next opening keeps both (open_job.h).
  std::vector<Problem> save_snapshot(const By& by);

  // Does the survey file hold another text than we read or wrote last? A file that is gone or
  // cannot be read does. Reads the file.
  bool changed_outside() const;

 private:
  std::vector<Problem> change(const Json& patch, JournalLine line);
  std::vector<Problem> write_line(const JournalLine& line);
  std::vector<Problem> append_line(std::string text);

  OpenedJob job_;
  FileLayer* files_;
  std::optional<TextIdentity> being_saved_;  // by a save that failed half-way, perhaps done
};

}  // namespace levelrun
