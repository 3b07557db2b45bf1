// The job that is open: its facts, what follows from them, and the one way to change them.
//
// Only an edit changes facts. `apply` puts it in the journal and on disk, then solves again; what
// it refuses changes nothing, and `trouble` says why in words for beside the field.
//
// A job that was signed off takes nothing but its reopening, neither edits nor Undo nor Redo.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "app/drawing/room_to_draw.h"
#include "app/windows/platform.h"
#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

class EditedJob;
class FileLayer;

class Session {
 public:
  // Opens a survey with its journal; what could not be opened is null and `problems` says why.
  static std::unique_ptr<Session> open(const std::string& path, const std::string& journal,
                                       FileLayer&, Platform&, const std::string& author,
                                       std::vector<Problem>& problems);
  ~Session();

  const Json& document() const;
  const Survey& survey() const;
  const Results& results() const { return results_; }
  int version() const { return version_; }  // grows with every change: what is cached compares it

  // The room on show, for drawings; worked out when first asked for after a change.
  const RoomToDraw& drawn();
  const RoomResult* room_result() const;  // null: the survey has no rooms

  // An RFC 6902 patch, and the words that Undo will say it takes back ("W3 length 2435").
  bool apply(const Json& patch, const std::string& says);
  bool undo();
  bool redo();
  std::string undo_says() const;
  std::string redo_says() const;

  // Writes the survey file itself, which also happens when the job is left.
  bool save();

  const std::string& path() const;
  const std::string& safe_at() const { return safe_at_; }  // HH:MM:SS of the last safe save
  const std::string& trouble() const { return trouble_; }  // empty: the last edit was taken
  const std::vector<std::string>& notices() const { return notices_; }  // on opening, and since
  void dismiss_notices() { notices_.clear(); }
  bool read_only() const { return !only_looks().empty(); }
  const std::string& only_looks() const;  // why nothing can be changed ("it is open in …")
  bool signed_off() const;

  // Which room is on show.
  Index room = 0;

 private:
  Session(Platform&, std::string author);
  bool done(const std::vector<Problem>&);
  bool refused(bool reopening);  // the job is signed off

  Platform& platform_;
  std::string author_, safe_at_, trouble_;
  std::unique_ptr<EditedJob> job_;
  Results results_;
  std::vector<std::string> notices_;
  int version_ = 0;
  RoomToDraw drawn_;
  int drawn_version_ = -1;
};

}  // namespace levelrun
