// The document that a new job starts from: a room with its corners, instruments with the usual
// deviations, and a leg stock, all to be changed on the Job page; and the five-minute practice job.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "survey/survey_file.h"

namespace levelrun {

struct RoomStart {
  std::vector<double> corners;               // nominal interior angles, clockwise
  std::vector<std::optional<double>> rough;  // mm, of the walls, as paced; may be shorter
};

// Outlines that need no walk: "4 corners".
struct UsualRoom {
  std::string words;
  RoomStart start;
};
const std::vector<UsualRoom>& usual_rooms();

// date: YYYY-MM-DD. like: a job whose instruments, furniture, tolerance table and units it begins
// with; null: the usual ones.
Json new_job(const std::string& reference, const std::string& surveyor, const std::string& date,
             const RoomStart&, const Json& like = {});

// A small kitchen with everything placed and nothing read; its notes say which numbers to type.
Json practice_job(const std::string& surveyor, const std::string& date);

// The next revision of a job: the number goes up, the day's own part stays behind.
Json next_revision(const Json& document);

// A file name for it: the reference's letters and digits, and the revision beyond the first.
std::string job_file_name(const Json& document);

// Corners and walls of another room, as a patch that appends it.
Json room_patch(const Json& document, const RoomStart&);

// Another outline for a room. With as many walls as before they keep all that stands on them and
// get the new angles and rough lengths; else the room must have nothing but its outline and its
// levels' beginnings, and an empty patch says that it has more.
Json outline_patch(const Json& document, std::size_t room, const RoomStart&);

}  // namespace levelrun
