// Change in memory, then the line on disk, then it counts; else the change is taken back.
//
// The document is patched in place, so an edit costs one reading of it and no copy.
#include "survey/edited_job.h"

#include <utility>

#include "survey/json_patch.h"
#include "survey/parse_json.h"

namespace levelrun {
namespace {

std::vector<Problem> not_saved(const std::string& why) {
  return {{"", "not saved: " + why, "a job that can be saved"}};
}

}  // namespace

const std::string* EditedJob::undo_says() const {
  const Edit* edit = job_.history.to_undo();
  return edit ? &edit->says : nullptr;
}

const std::string* EditedJob::redo_says() const {
  const Edit* edit = job_.history.to_redo();
  return edit ? &edit->says : nullptr;
}

std::vector<Problem> EditedJob::apply(const Json& patch, const std::string& says, const By& by) {
  if (patch.is_array() && patch.empty()) return {};
  JournalLine line;
  line.does = Deed::edit;
  line.edit = {0, patch, Json::array(), says, by};
  return change(patch, std::move(line));
}

std::vector<Problem> EditedJob::undo(const By& by) {
  const Edit* edit = job_.history.to_undo();
  if (!edit) return {{"", "nothing to undo", "an edit"}};
  JournalLine line;
  line.does = Deed::undo;
  line.edit.by = by;
  line.of = edit->n;
  return change(edit->inverse, std::move(line));
}

std::vector<Problem> EditedJob::redo(const By& by) {
  const Edit* edit = job_.history.to_redo();
  if (!edit) return {{"", "nothing to redo", "an edit that was undone"}};
  JournalLine line;
  line.does = Deed::redo;
  line.edit.by = by;
  line.of = edit->n;
  return change(edit->patch, std::move(line));
}

std::vector<Problem> EditedJob::change(const Json& patch, JournalLine line) {
  if (!job_.only_looks.empty()) return not_saved(job_.only_looks);
  Json inverse;
  std::vector<Problem> problems = apply_patch(job_.document, patch, &inverse);
  if (!problems.empty()) return problems;

  line.edit.n = job_.lines + 1;
  if (line.does == Deed::edit) line.edit.inverse = inverse;
  Result<Survey> survey = survey_from(job_.document);
  problems = survey.ok() ? write_line(line) : survey.problems();
  if (!problems.empty()) {
    take_back(job_.document, inverse);
    return problems;
  }

  job_.survey = std::move(survey.value());
  ++job_.unsaved;
  if (line.does == Deed::edit) job_.history.did(std::move(line.edit));
  if (line.does == Deed::undo) job_.history.undid();
  if (line.does == Deed::redo) job_.history.redid();
  return {};
}

std::vector<Problem> EditedJob::write_line(const JournalLine& line) {
  std::string text = line_text(line);
  if (!reads_back(text, line)) {
    return {{"", "an edit that the journal cannot hold", "one that is smaller, and all text"}};
  }
  std::vector<Problem> problems = append_line(std::move(text));
  if (!problems.empty()) return problems;
  job_.lines = line.edit.n;
  job_.safe_at = line.edit.by.at;
  return {};
}

std::vector<Problem> EditedJob::append_line(std::string text) {
  if (!job_.bytes) {
    const std::string whole = journal_head(job_.base_text) + text;
    if (const auto error = replace_file(*files_, job_.journal_path, whole)) {
      return not_saved(error.message());
    }
    job_.bytes = whole.size();
    job_.base_text.clear();
    return {};
  }

  // What a failed append left is cut off now if it could not be then, else it stays as a line of
  // its own, which the next reading passes over.
  if (job_.ragged) job_.ragged = bool(files_->cut(job_.journal_path, *job_.bytes));
  std::size_t size = 0;
  if (const auto error = files_->size(job_.journal_path, size)) return not_saved(error.message());
  if (job_.ragged) {
    text.insert(text.begin(), '\n');
  } else if (size != *job_.bytes) {
    return not_saved("the journal was changed by someone else; open the job again");
  }
  if (size + text.size() > most_journal) return not_saved("the journal is full");

  std::error_code error = files_->append(job_.journal_path, text);
  if (!error) error = files_->sync(job_.journal_path);
  if (error) {
    job_.ragged = bool(files_->cut(job_.journal_path, *job_.bytes));
    return not_saved(error.message());
  }
  job_.bytes = size + text.size();
  job_.ragged = false;
  return {};
}

bool EditedJob::changed_outside() const {
  std::string text;
  if (files_->read(job_.path, most_text, text)) return true;
  const TextIdentity now = identity_of(text);
  return now != job_.file && now != being_saved_;
}

std::vector<Problem> EditedJob::save_snapshot(const By& by) {
  if (!job_.only_looks.empty()) return not_saved(job_.only_looks);
  if (job_.unsaved == 0) return {};
  if (changed_outside()) {
    return not_saved("the survey file was changed by someone else; every edit is in the journal");
  }
  const std::string text = write_survey(job_.document);
  if (text.size() > most_text) {
    return not_saved(std::to_string(text.size()) + " bytes are more than a survey file may have");
  }

  // The line comes first: were the file first and the power gone between them, the file would
  // be one that the journal does not know.
  JournalLine line;
  line.does = Deed::saved;
  line.edit.n = job_.lines + 1;
  line.edit.by = by;
  line.file = identity_of(text);
  if (being_saved_ != line.file) {
    std::vector<Problem> problems = write_line(line);
    if (!problems.empty()) return problems;
    being_saved_ = line.file;
  }
  if (const auto error = replace_file(*files_, job_.path, text)) {
    return not_saved(error.message());
  }
  job_.file = line.file;
  being_saved_.reset();
  job_.unsaved = 0;
  return {};
}

}  // namespace levelrun
