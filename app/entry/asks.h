// Which readings a page asks for, in the order a surveyor takes them, and what booking one does to
// the survey's document.
//
// An ask is one number of one place of the protocol (protocol.h). The n-th ask of a place stands
// for the n-th booking of it. A place that was skipped and has no booking is not asked again.
// Asks are made anew after each edit; their ids stay, so that a half-typed value finds its field.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/entry/protocol.h"
#include "checks/entry_check.h"
#include "survey/survey_file.h"

namespace levelrun {

struct Ask {
  std::string id;       // "rooms/0/walls/2/lengths@900", the second "…#2"
  std::string name;     // "W3 length", "W3 length at 2000": one of its kind in the room
  std::string caption;  // "at 900, C3 to C4"
  ReadingKind kind = ReadingKind::length;
  std::string at;                     // JSON Pointer where the number goes; "…/-" adds to a list
  std::optional<std::string> booked;  // pointer of the number booked already
  std::optional<double> value;        // and that number
  std::optional<double> step;         // mm or degrees; to what it is usually read
  std::optional<Expected> planned;    // what it should come to; else the other readings are asked
  std::optional<Index> by;            // the instrument, where neither booking nor set-up says it

  // What it is of, as far as it has such.
  Index room = 0;
  std::optional<Index> wall, corner, to_corner, setup, point;
  std::optional<Index> own;  // its booking's place in the list
  double along = 0, height = 0, out = 0, leg_a = 0, leg_b = 0;

  Json entry;         // what is added to the list, without number and instrument; null: no list
  std::string field;  // the number's name in it
};

// Lengths wall by wall and height by height, a corner's angles after both its walls; then
// diagonals and ceilings.
std::vector<Ask> walk_asks(const Survey&, Index room, const Protocol&);
// Staff readings, set-up by set-up.
std::vector<Ask> level_asks(const Survey&, Index room, const Protocol&);
// Of one wall: offsets, then numbers of its openings and services.
std::vector<Ask> wall_asks(const Survey&, Index room, Index wall, const Protocol&);

// The same, with the usual protocol.
std::vector<Ask> walk_asks(const Survey&, Index room);
std::vector<Ask> level_asks(const Survey&, Index room);
std::vector<Ask> wall_asks(const Survey&, Index room, Index wall);

// What the others say of it (expected_reading.h), its own booking left out.
std::optional<Expected> expected_for(const Survey&, const Ask&,
                                     std::optional<Index> instrument = {});

// The instrument of its booking, else the first one of the job that fits; staff: the set-up's.
std::optional<Index> usual_instrument(const Survey&, const Ask&);
// Of one reading by it, mm or degrees; none named: the tape's.
double reading_sd(const Survey&, const Ask&, std::optional<Index> instrument);

// RFC 6902 patches. book: adds the reading to its list, which is made if it is missing, or sets
// the number where there is one; instrument: an id, kept as it is when empty. Staff readings,
// openings and services name none.
Json book_patch(const Json& document, const Ask&, double value,
                const std::optional<std::string>& instrument = {});
Json skip_patch(const Json& document, const Ask&, const std::string& why);

}  // namespace levelrun
