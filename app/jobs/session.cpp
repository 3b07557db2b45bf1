#include "app/jobs/session.h"

#include "checks/sign_off.h"
#include "checks/solve.h"
#include "survey/edited_job.h"
#include "survey/open_job.h"

namespace levelrun {
namespace {

// Of an RFC 3339 time.
std::string clock_part(const std::string& at) { return at.size() >= 19 ? at.substr(11, 8) : at; }

// One sentence for beside the field.
std::string in_words(const std::vector<Problem>& problems) {
  if (problems.empty()) return {};
  const Problem& p = problems.front();
  return "Not booked: " + p.found + (p.expected.empty() ? "" : "; expected " + p.expected) + ".";
}

const std::string& signed_off_words() {
  static const std::string words = "it is signed off; reopen it on Hand-over";
  return words;
}

// Takes the sign-off away, keeps it with a name and a reason, and does nothing else.
bool is_reopening(const Json& patch) {
  if (!patch.is_array()) return false;
  int lifted = 0, kept = 0;
  for (const Json& step : patch) {
    if (!step.is_object()) return false;
    const std::string op = step.value("op", ""), path = step.value("path", "");
    if (op == "remove" && path == "/install/sign_off") {
      ++lifted;
      continue;
    }
    if (op != "add" || !path.starts_with("/install/reopened") || !step.contains("value"))
      return false;
    const Json& value = step["value"];
    if (path == "/install/reopened" && (!value.is_array() || value.size() != 1)) return false;
    const Json& entry = path == "/install/reopened" ? value[0] : value;
    if (!entry.is_object() || entry.value("by", "").empty() || entry.value("why", "").empty() ||
        !entry.contains("sign_off"))
      return false;
    ++kept;
  }
  return lifted == 1 && kept == 1;
}

}  // namespace

Session::Session(Platform& platform, std::string author)
    : platform_(platform), author_(std::move(author)) {}
Session::~Session() = default;

std::unique_ptr<Session> Session::open(const std::string& path, const std::string& journal,
                                       FileLayer& files, Platform& platform,
                                       const std::string& author, std::vector<Problem>& problems) {
  auto opened = open_job(path, journal, files);
  if (!opened.ok()) {
    problems = opened.problems();
    return nullptr;
  }
  std::unique_ptr<Session> session(new Session(platform, author));
  session->job_ = std::make_unique<EditedJob>(std::move(opened.value()));
  session->notices_ = session->job_->notices();
  session->safe_at_ = clock_part(session->job_->safe_at());
  if (session->safe_at_.empty()) session->safe_at_ = clock_part(platform.now());
  if (!session->job_->only_looks().empty())
    session->notices_.push_back(session->job_->only_looks());
  session->results_ = solve(session->survey());
  return session;
}

const Json& Session::document() const { return job_->document(); }
const Survey& Session::survey() const { return job_->survey(); }
const std::string& Session::path() const { return job_->path(); }
bool Session::signed_off() const { return is_read_only(survey()); }
const std::string& Session::only_looks() const {
  if (job_->only_looks().empty() && signed_off()) return signed_off_words();
  return job_->only_looks();
}

bool Session::refused(bool reopening) {
  if (!signed_off() || reopening) return false;
  trouble_ = "Not booked: " + signed_off_words() + ".";
  return true;
}

bool Session::done(const std::vector<Problem>& problems) {
  trouble_ = in_words(problems);
  if (!problems.empty()) return false;
  safe_at_ = clock_part(platform_.now());
  results_ = solve(survey());
  if (room >= survey().rooms.size()) room = 0;
  ++version_;
  return true;
}

const RoomToDraw& Session::drawn() {
  if (drawn_version_ != version_ || drawn_.room != room) {
    drawn_ = survey().rooms.empty() ? RoomToDraw{} : room_to_draw(survey(), room);
    drawn_version_ = version_;
  }
  return drawn_;
}

const RoomResult* Session::room_result() const {
  return room < results_.rooms.size() ? &results_.rooms[room] : nullptr;
}

bool Session::apply(const Json& patch, const std::string& says) {
  if (refused(is_reopening(patch))) return false;
  return done(job_->apply(patch, says, {author_, platform_.now()}));
}
bool Session::undo() { return !refused(false) && done(job_->undo({author_, platform_.now()})); }
bool Session::redo() { return !refused(false) && done(job_->redo({author_, platform_.now()})); }

std::string Session::undo_says() const {
  if (signed_off()) return "";
  const std::string* says = job_->undo_says();
  return says ? *says : "";
}
std::string Session::redo_says() const {
  if (signed_off()) return "";
  const std::string* says = job_->redo_says();
  return says ? *says : "";
}

bool Session::save() {
  if (!job_->only_looks().empty() || job_->unsaved() == 0) return true;
  const auto problems = job_->save_snapshot({author_, platform_.now()});
  for (const Problem& p : problems) notices_.push_back(p.found + ".");
  return problems.empty();
}

}  // namespace levelrun
