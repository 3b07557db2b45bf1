// The levelling staff that leads from page to page: five marks a page, an E of three bars and two
// blocks, outlined, filled in ink as readings are booked; what is left is written. The page in use
// is blue, bold, on wash. Upright along the holding hand's edge in landscape, flat along the bottom
// in portrait and on a phone, where a page is as wide as its word.
#pragma once

#include <span>
#include <string>

#include "app/touch/sheet.h"

namespace levelrun {

struct StaffPage {
  std::string name, short_name;  // the second on a phone
  int done = 0, all = 0;         // readings booked of those asked for; all = 0: nothing asked yet
  std::string left;              // "11 left", "2 open", or empty
};

// How thick the staff is: its width upright, its height flat.
float staff_thickness(const Sheet&);
bool staff_upright(const Sheet&);

// The page tapped, or -1. in_use: which is on show.
int staff(Sheet&, Box, std::span<const StaffPage>, int in_use);

// The five marks alone, lying flat: in the list of jobs.
void staff_marks(Sheet&, Box, int done, int all, Ink);

}  // namespace levelrun
