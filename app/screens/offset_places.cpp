#include "app/screens/offset_places.h"

#include <algorithm>

#include "app/entry/typed_number.h"
#include "app/screens/booking_page.h"
#include "app/touch/keypad.h"
#include "checks/entry_check.h"

namespace levelrun {
namespace {

constexpr const char* to_heights_key = "Heights";
constexpr const char* done_key = "Done";

void want(OffsetPlaces& e) {
  e.wanted.clear();
  for (const double height : e.heights)
    for (const double along : e.along) e.wanted.push_back({along, height});
  e.open = e.to_heights = false;
  e.typed.clear();
}

}  // namespace

bool draw_offset_places(ScreenContext& c, Box page, Session& session, OffsetPlaces& e, Index wall,
                        const std::function<void(Box)>& draw_wall) {
  if (!e.open) return false;
  const Job& job = session.survey().job;
  const std::string& id = session.survey().rooms[session.room].walls[wall].id;
  const bool enter = typed_keys(e.typed);
  const TypedNumbers numbers = typed_numbers(e.typed, typed_unit(job));
  std::vector<double>& list = e.to_heights ? e.heights : e.along;
  BookingView v;
  v.decimal = job.decimal;
  v.name = e.to_heights ? "Offsets at height" : "Offsets along " + id;
  v.caption =
      e.to_heights ? "above the floor; one after another" : "from its left end; one after another";
  v.typed = e.typed;
  v.can_skip = false;
  v.undo_says = "the last place";
  if (!e.typed.empty()) v.refused = numbers.problem;
  for (const double number : numbers.values)
    if (v.refused.empty())
      v.refused = impossible(e.to_heights ? ReadingKind::level : ReadingKind::along, number);
  v.can_book = !numbers.values.empty() && v.refused.empty();
  if (numbers.values.size() == 1) v.book_value = shown_length(numbers.values.front(), job);
  if (e.to_heights ? !e.heights.empty() : !e.along.empty())
    v.more = e.to_heights ? done_key : to_heights_key;
  v.advice = e.along.empty()     ? "Then its heights; every place is read at every height."
             : !e.to_heights     ? "Heights when all places are typed."
             : e.heights.empty() ? "From the floor."
                                 : "Done when all heights are typed.";
  for (std::size_t i = list.size(); i-- > 0;)
    v.rows.push_back({"place " + std::to_string(i),
                      e.to_heights ? "height" : "along",
                      shown_length(list[i], job),
                      "",
                      {},
                      false,
                      false});
  const BookingEvent event = draw_booking_page(c.sheet, page, v, e.typed, draw_wall);
  if (event.undo) {
    e.typed.clear();
    if (!list.empty())
      list.pop_back();
    else if (e.to_heights)
      e.to_heights = false;
    else
      e.open = false;
    return true;
  }
  if (event.more) {
    e.typed.clear();
    if (e.to_heights)
      want(e);
    else
      e.to_heights = true;
    return true;
  }
  if ((event.book || enter) && v.can_book) {
    list.insert(list.end(), numbers.values.begin(), numbers.values.end());
    e.typed.clear();
  }
  return true;
}

}  // namespace levelrun
