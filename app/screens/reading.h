// The reading on the pad: which is asked for, what is typed of it, what the others say, and what
// Book, Skip, Can't reach and Undo do. Shared by all pages that book readings.
#pragma once

#include <functional>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "app/entry/asks.h"
#include "app/jobs/session.h"
#include "app/screens/booking_page.h"
#include "app/screens/screen_context.h"

namespace levelrun {

struct ReadingEntry {
  std::string ask;  // id of the reading on the pad; empty: the next that is open
  std::string typed;
  std::string stray;             // of it, what came whole, by Enter, while no reading waited
  bool idle = false;             // no reading waited when it was drawn last
  std::vector<double> pasted;    // more numbers of a paste, to be booked one after another
  std::set<std::string> passed;  // skipped for now; asked again at the end
  bool asking_why = false;
  std::string why;

  // Worked out when first needed, for one state of the survey.
  std::vector<Ask> asks;
  int version = -1;
  std::string expected_for, checked;
  std::optional<Expected> expected;
  EntryCheck check;
  std::optional<double> value;
  std::string problem;
};

// Brings the asks and the check up to date; `asks` makes the list.
void refresh(ReadingEntry&, const Session&,
             const std::function<std::vector<Ask>(const Session&, Index which)>& asks,
             Index which = 0);

// The reading on the pad; null: all are booked.
const Ask* current(const ReadingEntry&);

// Name, value, check, thought and keys; rows are the page's own.
BookingView view_of(const ReadingEntry&, const Session&);

// True if a reading was booked or passed, so that the page may move on.
bool act(ReadingEntry&, const BookingEvent&, ScreenContext&, Session&);

// What was typed while no reading waited is forgotten: the page is left.
void drop_stray(ReadingEntry&);

// While Can't reach asks why, this stands instead of the page; false: it does not.
bool draw_why(ReadingEntry&, ScreenContext&, Box, Session&);

// "±1.6" of a band, as the job shows numbers.
std::string band_words(double sd, const Job&);

}  // namespace levelrun
