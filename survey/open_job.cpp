// File, journal, and the one from the other.
#include "survey/open_job.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "survey/json_patch.h"
#include "survey/parse_json.h"

namespace levelrun {
namespace {

constexpr int most_names_tried = 10'000;
constexpr std::string_view survey_ending = ".levelrun.json";

std::string without_ending(const std::string& path) {
  return path.ends_with(survey_ending) ? path.substr(0, path.size() - survey_ending.size()) : path;
}

std::string name_of(const std::string& path) { return path.substr(path.rfind('/') + 1); }

std::string counted(std::size_t count, const std::string& thing) {
  return std::to_string(count) + ' ' + thing + (count == 1 ? "" : "s");
}

// A document as far as the lines went.
struct Played {
  SurveyFile state;
  History history;
  std::size_t lines = 0;  // how many of the journal's fitted
};

bool play_line(const JournalLine& line, bool on_document, Json& document, History& history) {
  const Edit* edit = &line.edit;
  if (line.does == Deed::saved) return true;
  if (line.does == Deed::undo) edit = history.to_undo();
  if (line.does == Deed::redo) edit = history.to_redo();
  if (!edit || (line.does != Deed::edit && edit->n != line.of)) return false;
  const Json& patch = line.does == Deed::undo ? edit->inverse : edit->patch;
  if (on_document && !apply_patch(document, patch).empty()) return false;
  if (line.does == Deed::edit) history.did(line.edit);
  if (line.does == Deed::undo) history.undid();
  if (line.does == Deed::redo) history.redid();
  return true;
}

// Plays the journal on the state after its first `from` lines. Every line was a survey when it
// was written, so only the last state is read, and each one only if that is none.
std::optional<Played> played(const SurveyFile& start, const Journal& journal, std::size_t from,
                             bool reads_each = false) {
  Played result{start, {}, 0};
  const auto& lines = journal.lines;
  for (; result.lines < lines.size(); ++result.lines) {
    const bool newer = result.lines >= from;
    std::optional<Json> before;
    if (newer && reads_each) before = result.state.document;
    if (!play_line(lines[result.lines], newer, result.state.document, result.history)) break;
    if (!before) continue;
    Result<Survey> survey = survey_from(result.state.document);
    if (!survey.ok()) {
      result.state.document = std::move(*before);
      // The history has one line too many: play again up to here.
      Journal shorter;
      shorter.lines.assign(lines.begin(),
                           lines.begin() + static_cast<std::ptrdiff_t>(result.lines));
      return played(start, shorter, from, false);
    }
  }
  if (result.lines < from) return {};
  Result<Survey> survey = survey_from(result.state.document);
  if (!survey.ok()) {
    if (reads_each) return {};
    return played(start, journal, from, true);
  }
  result.state.survey = std::move(survey.value());
  return result;
}

class JobOpening {
 public:
  JobOpening(const std::string& path, const std::string& journal_path, FileLayer& files)
      : files_(files) {
    job_.path = path;
    job_.journal_path = journal_path;
  }

  Result<EditedJob> open() && {
    lock();
    // The file first: where another window goes on writing, its journal knows the older file too.
    std::string text;
    if (const auto error = files_.read(job_.path, most_text, text)) {
      return std::vector<Problem>{{"", error.message(), "a survey file that can be read"}};
    }
    read_the_journal();
    job_.file = identity_of(text);
    Result<SurveyFile> file = read_survey(text);
    if (!file.ok()) {
      const auto problems = give_back(text, file.problems());
      if (!problems.empty()) return problems;
    } else if (!plays_on(file.value())) {
      set_journal_aside();
      job_.document = std::move(file.value().document);
      job_.survey = std::move(file.value().survey);
      job_.base_text = std::move(text);
    }
    return EditedJob(std::move(job_), files_);
  }

 private:
  void looks_only(std::string why) {
    if (!job_.only_looks.empty()) return;
    tell("This job can be looked at, not changed: " + why + '.');
    job_.only_looks = std::move(why);
  }
  void tell(std::string notice) { job_.notices.push_back(std::move(notice)); }
  bool may_write() const { return job_.only_looks.empty(); }

  void lock() {
    const auto error = files_.lock(job_.journal_path + ".lock", job_.lock);
    if (error == std::errc::resource_unavailable_try_again) {
      looks_only("it is open in another window");
    } else if (error) {
      looks_only("its journal cannot be written (" + error.message() + ')');
    }
  }

  void read_the_journal() {
    const auto error = files_.read(job_.journal_path, most_journal, journal_text_);
    if (error == std::errc::no_such_file_or_directory) return;
    has_journal_ = error || !journal_text_.empty();
    if (error && error != std::errc::file_too_large) {
      looks_only("its journal cannot be read (" + error.message() + ')');
    }
    journal_ = read_journal(journal_text_);
    if (journal_.state == JournalState::newer) {
      looks_only("its journal is of a later version of this program");
    }
  }

  std::size_t lines_after_last_save() const {
    const auto& lines = journal_.lines;
    const auto last = std::find_if(lines.rbegin(), lines.rend(), [](const JournalLine& line) {
      return line.does == Deed::saved;
    });
    return static_cast<std::size_t>(last - lines.rbegin());
  }

  // After how many lines the survey file had the text it has now; the latest, as equal texts are
  // equal documents and the history is then the whole one.
  std::optional<std::size_t> lines_in_file() const {
    for (std::size_t i = journal_.lines.size(); i-- > 0;) {
      const JournalLine& line = journal_.lines[i];
      if (line.does == Deed::saved && line.file == job_.file) return i + 1;
    }
    return journal_.state == JournalState::good && journal_.base == job_.file
               ? std::optional<std::size_t>(0)
               : std::nullopt;
  }

  // False if the journal has nothing to do with this file, or there is none.
  bool plays_on(const SurveyFile& file) {
    const auto from = lines_in_file();
    if (!from) return false;
    auto result = played(file, journal_, *from);
    if (!result) return false;
    take(std::move(*result), *from);
    return true;
  }

  void take(Played result, std::size_t from) {
    job_.document = std::move(result.state.document);
    job_.survey = std::move(result.state.survey);
    job_.history = std::move(result.history);
    job_.lines = result.lines;
    for (std::size_t i = from; i < result.lines; ++i) {
      job_.unsaved += journal_.lines[i].does == Deed::saved ? 0 : 1;
    }
    if (result.lines > 0) job_.safe_at = journal_.lines[result.lines - 1].edit.by.at;
    mend_journal(result.lines);
  }

  // Leaves the first `lines` lines in the journal.
  void mend_journal(std::size_t lines) {
    const std::size_t unplayed = journal_.lines.size() - lines;
    const std::size_t good = unplayed > 0 ? journal_.lines[lines].begins : journal_.good;
    const std::size_t lost = unplayed + journal_.lost;
    job_.bytes = good;
    if (good == journal_text_.size()) return;
    if (lost > 0) {
      const std::string last = lines == 0 ? "its beginning" : "line " + std::to_string(lines);
      std::string kept;
      if (may_write()) kept = copied_aside(job_.journal_path, journal_text_.substr(good));
      tell("The journal is damaged after " + last + ": " + counted(lost, "line") + " not used" +
           (kept.empty() ? "." : ", kept in " + kept + '.'));
      if (may_write() && kept.empty()) return looks_only("its damaged journal cannot be mended");
    } else if (journal_.unfinished) {
      tell("The journal's last line was cut: 1 unfinished edit dropped.");
    }
    if (!may_write()) return;
    auto error = files_.cut(job_.journal_path, good);
    if (!error) error = files_.sync(job_.journal_path);
    job_.ragged = bool(error);
    if (error && lost > 0) looks_only("its damaged journal cannot be mended");
  }

  bool is_free(const std::string& path) {
    std::size_t size = 0;
    return files_.size(path, size) == std::errc::no_such_file_or_directory;
  }

  std::string free_name(const std::string& before, const std::string& after, int first) {
    for (int i = first; i < most_names_tried; ++i) {
      const std::string path = before + std::to_string(i) + after;
      if (is_free(path)) return path;
    }
    return {};
  }

  // The path of the copy, or nothing if it could not be made.
  std::string copied_aside(const std::string& path, std::string_view text) {
    const std::string aside = free_name(path + ".set-aside-", "", 1);
    return !aside.empty() && !replace_file(files_, aside, text) ? aside : std::string();
  }

  // The state of the whole journal from its own base.
  std::optional<Played> from_base() const {
    if (journal_.base_text.empty()) return {};
    const Result<SurveyFile> base = read_survey(journal_.base_text);
    return base.ok() ? played(base.value(), journal_, 0) : std::nullopt;
  }

  // The survey file is not what this journal knows.
  void set_journal_aside() {
    if (!has_journal_) return;
    if (!may_write()) {
      if (journal_.state == JournalState::good) {
        tell("The survey file was changed by someone else; it is shown as it is now.");
      }
      return;
    }
    std::string second;
    const std::size_t newer = lines_after_last_save();
    const auto ours = newer > 0 ? from_base() : std::nullopt;
    if (ours) {
      const std::size_t slash = job_.journal_path.rfind('/') + 1;
      second =
          free_name(job_.journal_path.substr(0, slash) + name_of(without_ending(job_.path)) + " (",
                    ")" + std::string(survey_ending), 2);
      if (second.empty() || replace_file(files_, second, write_survey(ours->state.document))) {
        second.clear();
      }
    }
    const std::string aside = free_name(job_.journal_path + ".set-aside-", "", 1);
    if (aside.empty() || files_.rename(job_.journal_path, aside)) {
      return looks_only("its journal, which does not belong to this file, cannot be set aside");
    }
    files_.sync_folder(aside);  // if that is lost, the next opening does it again
    std::string notice = journal_.state == JournalState::good
                             ? "The survey file was changed by someone else; it is shown as it is "
                               "now. The journal of before is kept in " +
                                   aside
                             : "The journal is damaged from its first line; it is kept in " + aside;
    if (newer > 0) notice += ", with " + counted(newer, "edit") + " newer than the last save";
    if (!second.empty()) notice += "; the job with these edits is " + second;
    tell(notice + '.');
  }

  // The survey file is damaged: the journal gives the job back, if it can.
  std::vector<Problem> give_back(const std::string& text, const std::vector<Problem>& problems) {
    auto ours = from_base();
    if (!ours) return problems;
    std::string kept;
    if (may_write()) {
      kept = copied_aside(job_.path, text);
      if (kept.empty()) kept = copied_aside(job_.journal_path, text);
      if (kept.empty()) looks_only("its damaged survey file cannot be set aside");
    }
    tell("The survey file is damaged; the job was given back from its journal" +
         (kept.empty() ? "." : ". The damaged file is kept in " + kept + '.'));
    take(std::move(*ours), 0);
    job_.unsaved = std::max<std::size_t>(job_.unsaved, 1);  // the file itself is to be written
    return {};
  }

  FileLayer& files_;
  OpenedJob job_;
  std::string journal_text_;
  Journal journal_;
  bool has_journal_ = false;
};

}  // namespace

std::string journal_path_beside(const std::string& path) {
  return without_ending(path) + ".levelrun.journal";
}

Result<EditedJob> open_job(const std::string& path, const std::string& journal_path,
                           FileLayer& files) {
  return JobOpening(path, journal_path, files).open();
}

}  // namespace levelrun
