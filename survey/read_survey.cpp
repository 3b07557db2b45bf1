// Document to typed survey.
//
// Every part is read in turn, wrong fields leave a problem and a harmless value behind, and the
// survey is handed over only if no problem was found.
#include <string>

#include "survey/check_values.h"
#include "survey/limits.h"
#include "survey/parse_json.h"
#include "survey/read_parts.h"
#include "survey/survey_file.h"
#include "survey/thing_names.h"

namespace levelrun {
namespace {

constexpr Index most_rooms = 100;  // bounds the search for what an install refers to

// What all rooms hold together.
void check_totals(const Fields& document, const std::vector<Room>& rooms) {
  const auto check = [&](const char* what, Index most, const auto& count_of) {
    Index count = 0;
    for (const Room& room : rooms) count += count_of(room);
    if (count > most)
      document.problem("rooms", std::to_string(count) + " " + what + " in all rooms",
                       "up to " + std::to_string(most));
  };
  check("openings", all_openings, [](const Room& r) { return r.openings.size(); });
  check("services", all_services, [](const Room& r) { return r.services.size(); });
  check("set-ups", all_setups, [](const Room& r) { return r.levels.setups.size(); });
  check("staff readings", all_staff, [](const Room& r) {
    Index count = 0;
    for (const SetUp& setup : r.levels.setups) count += setup.readings.size();
    return count;
  });
  check("units", all_units, [](const Room& r) {
    Index count = 0;
    for (const Run& run : r.runs) count += run.units.size();
    return count;
  });
}

void read_head(const Fields& document) {
  if (!document.says("format", "levelrun-survey")) {
    document.refuse("format", "\"levelrun-survey\"");
  }
  if (document.peek_number("version") != 1.0) document.refuse("version", "1");
}

Survey read_parts(const Fields& document) {
  Survey survey;
  Ids instrument_ids("instruments"), leg_ids("furniture.legs"), room_ids("rooms");
  read_head(document);
  survey.job = read_job(document.object("job"));
  survey.instruments =
      read_instruments(document.list("instruments", most_instruments), instrument_ids);
  read_furniture(document.object_if("furniture"), survey.furniture, leg_ids);

  const JobParts job{instrument_ids, survey.furniture, leg_ids};
  const FieldList rooms = document.list("rooms", most_rooms);
  std::vector<RoomIds> ids_of_rooms(rooms.size());
  for (const Fields& fields : rooms) {
    const Index index = survey.rooms.size();
    std::string id = fields.new_id(room_ids, index);
    survey.rooms.push_back(read_room(fields, job, ids_of_rooms[index]));
    survey.rooms.back().id = std::move(id);
  }
  check_totals(document, survey.rooms);
  survey.install =
      read_install(document.object_if("install"), survey.rooms, ids_of_rooms, instrument_ids);
  return survey;
}

Result<Survey> survey_after(std::vector<Problem> problems, const Json& document) {
  Reading reading{std::move(problems), {}};
  if (!document.is_object()) {
    reading.problem(At{}, found_text(document), "an object with format, version and job");
    return reading.problems;
  }
  Survey survey = read_parts(Fields(&document, At{}, reading));
  // Last, for a field that is read says more exactly what it may hold.
  check_values(document, reading);
  if (!reading.problems.empty()) return reading.problems;
  survey.unknown_words = std::move(reading.unknown_words);
  return survey;
}

}  // namespace

Result<Survey> survey_from(const Json& document) { return survey_after({}, document); }

Result<SurveyFile> read_survey(std::string_view text) {
  ParsedJson parsed = parse_json(text);
  if (!parsed.complete) return std::move(parsed.problems);
  Result<Survey> survey = survey_after(std::move(parsed.problems), parsed.document);
  if (!survey.ok()) {
    std::vector<Problem> problems = survey.problems();
    for (Problem& problem : problems)
      if (const std::string names = thing_names(parsed.document, problem.at); !names.empty())
        problem.expected += " (" + names + ")";
    return problems;
  }
  return SurveyFile{std::move(parsed.document), std::move(survey.value())};
}

}  // namespace levelrun
