// A signed-off job that was changed by hand is told from one that was not.
#include "app/sign_off_seal.h"

#include <doctest/doctest.h>

#include "survey/survey_file.h"

using namespace levelrun;

namespace {

Json sealed(Json job) {
  const std::string seal = seal_of(job);
  job["install"]["sign_off"] = {
      {"by", "a.b."}, {"role", "fitter"}, {"at", "2026-04-20T16:05:00Z"}, {"seal", seal}};
  return job;
}

}  // namespace

TEST_CASE("what was signed off is known again, and an edit by hand is noticed") {
  const Json job = {{"format", "levelrun-survey"},
                    {"job", {{"reference", "T-1"}, {"revision", 1}}},
                    {"install", {{"set_legs", Json::array()}}}};
  CHECK_FALSE(changed_since_signed(job));
  const Json signed_off = sealed(job);
  CHECK_FALSE(changed_since_signed(signed_off));
  // Written, read again, and its members in another order.
  CHECK_FALSE(changed_since_signed(Json::parse(signed_off.dump(2))));
  CHECK_FALSE(changed_since_signed(Json(nlohmann::json(signed_off))));
  // The note of the sign-off is not sealed, all else is.
  Json noted = signed_off;
  noted["install"]["sign_off"]["note"] = "key under the mat";
  CHECK_FALSE(changed_since_signed(noted));
  for (const char* at : {"/job/reference", "/job/notes", "/install/snags"}) {
    CAPTURE(at);
    Json edited = signed_off;
    edited[Json::json_pointer(at)] = "by hand";
    CHECK(changed_since_signed(edited));
  }
  // One without a seal was signed by another program.
  Json unsealed = signed_off;
  unsealed["install"]["sign_off"].erase("seal");
  unsealed["job"]["reference"] = "T-2";
  CHECK_FALSE(changed_since_signed(unsealed));
}

TEST_CASE("a job that had no install part before its sign-off is sealed too") {
  const Json signed_off = sealed({{"job", {{"reference", "T-1"}}}});
  CHECK_FALSE(changed_since_signed(signed_off));
}
