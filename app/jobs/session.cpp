#include "app/jobs/session.h"

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
  if (session->read_only()) session->notices_.push_back(session->job_->only_looks());
  session->results_ = solve(session->survey());
  return session;
}

const Json& Session::document() const { return job_->document(); }
const Survey& Session::survey() const { return job_->survey(); }
const std::string& Session::path() const { return job_->path(); }
const std::string& Session::only_looks() const { return job_->only_looks(); }

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
  return done(job_->apply(patch, says, {author_, platform_.now()}));
}
bool Session::undo() { return done(job_->undo({author_, platform_.now()})); }
bool Session::redo() { return done(job_->redo({author_, platform_.now()})); }

std::string Session::undo_says() const {
  const std::string* says = job_->undo_says();
  return says ? *says : "";
}
std::string Session::redo_says() const {
  const std::string* says = job_->redo_says();
  return says ? *says : "";
}

bool Session::save() {
  if (read_only() || job_->unsaved() == 0) return true;
  const auto problems = job_->save_snapshot({author_, platform_.now()});
  for (const Problem& p : problems) notices_.push_back(p.found + ".");
  return problems.empty();
}

}  // namespace levelrun
