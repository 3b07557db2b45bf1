// The page that readings are booked on, whatever is read: the plan in sight, the value in large
// digits with its check beside it, the rows booked so far, and the pad under the thumb.
//
// Landscape: plan and rows on one half, value and pad on the other. Portrait: plan, value, then
// rows beside the pad. A phone: plan with the last readings beside it, value, words, pad. A phone
// on its side: plan and value on one half, the pad on the other. What is half typed is the
// caller's, so it survives rotation.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/touch/marks.h"
#include "app/touch/sheet.h"

namespace levelrun {

struct BookedRow {
  std::string id;           // its target's label
  std::string name, value;  // "W1", "3620"
  std::string words;        // "agrees", "−9.4 ±0.6"
  std::optional<Vial> vial;
  bool needs_a_person = false, chosen = false;
};

struct LikelySlip {
  std::string name, value, kind, odds;  // "W3", "3619", "two digits swapped", "93 %"
  std::string row;                      // a tap on it is one on that row; empty: it is no target
};

struct BookingView {
  std::string name, caption;  // "W3 length", "at 900, C3 to C4"
  std::string expected;       // "expected 3620 ±5"
  std::string typed;          // as it is shown: digits, or what is booked there now
  std::optional<Vial> vial;
  std::string check;  // "71 long", "agrees to 1.4"
  bool check_needs_a_person = false;
  std::string result, result_caption;  // "+0.6 ±0.6", "height on the plan"
  std::string advice;                  // computed, in blue: what to read next, when to stop
  std::string thought;                 // one crayon thought; suspicion is text, never a key
  std::string refused;                 // why it cannot be booked, beside the field
  std::vector<LikelySlip> slips;
  std::string after_slips;      // "Nothing is replaced for you. …"
  std::vector<BookedRow> rows;  // the latest first
  std::string row_heads[3];     // "Point", "Staff", "Height"
  std::string book_value;
  char decimal = '.';
  bool can_book = true;
  std::string undo_says;            // what Undo would take back; empty: nothing
  std::string done;                 // nothing is left to read: what to say instead of a name
  std::vector<std::string> offers;  // keys where the value stands, when nothing is asked for
  bool can_skip = true;
  bool can_delete = false;  // booked already: Delete stands where Skip does
  std::string more;         // a key for what else there is to read; empty: none
  bool needs_plan = false;  // places are tapped on it: it stays however small it comes
};

struct BookingEvent {
  bool book = false, skip = false, cant_reach = false, undo = false;
  bool remove = false, more = false;
  std::string row;    // id of a row tapped
  std::string offer;  // the words of an offer tapped
};

BookingEvent draw_booking_page(Sheet&, Box, const BookingView&, std::string& typed,
                               const std::function<void(Box)>& draw_plan);

}  // namespace levelrun
