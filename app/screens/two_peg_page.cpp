#include "app/screens/two_peg_page.h"

#include <cmath>

#include "app/entry/set_patch.h"
#include "app/entry/typed_number.h"
#include "app/screens/booking_page.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"
#include "checks/two_peg.h"

namespace levelrun {
namespace {

struct Asked {
  const char *name, *caption;
};
// Two marks some 6 m apart; first the level midway, then near one of them.
constexpr Asked asked[] = {{"Staff at A", "level midway between A and B"},
                           {"Staff at B", "level midway between A and B"},
                           {"Staff at A", "level moved near A"},
                           {"Staff at B", "level moved near A"},
                           {"Distance to A in mm", "from where the level stands now"},
                           {"Distance to B in mm", "from where the level stands now"}};

}  // namespace

bool draw_two_peg(ScreenContext& c, Box page, Session& session, TwoPegEntry& e, Index setup) {
  if (!e.open) return false;
  const Survey& survey = session.survey();
  const SetUp& level = survey.rooms[session.room].levels.setups[setup];
  BookingView v;
  v.decimal = survey.job.decimal;
  v.undo_says = e.numbers.empty() ? "the check" : "the last number";
  v.can_skip = false;
  const bool enter = typed_keys(e.typed);
  const std::size_t n = e.numbers.size();
  std::optional<Estimate> found;
  if (n < std::size(asked)) {
    v.name = asked[n].name;
    v.caption = asked[n].caption;
    v.typed = e.typed;
    const TypedNumber number = typed_number(e.typed, typed_unit(survey.job));
    v.refused = e.typed.empty() ? "" : number.problem;
    v.can_book = number.value.has_value();
    if (number.value) v.book_value = shown_length(*number.value, survey.job);
  } else {
    const double sd = level.instrument ? survey.instruments[*level.instrument].sd : 2;
    found = collimation_of({e.numbers[0], e.numbers[1], e.numbers[2], e.numbers[3],
                            e.numbers[4] / 1000, e.numbers[5] / 1000},
                           sd);
    v.done = "Set-up " + level.id;
    v.can_book = false;
    if (!found)
      v.thought =
          "The level stood as far from A as from B: that shows nothing. Move it and begin again.";
    else
      v.advice =
          "The line of sight rises " + shown_change(found->value, 2, v.decimal) + " ±" +
          shown(band95 * found->sd, 2, v.decimal) + " mm a metre." +
          (std::abs(found->value) <= band95 * found->sd
               ? " That is no more than the readings themselves are good for."
               : " Readings at unequal distances are wrong by that: set it, and book distances.");
    v.offers = {"Set it", "Leave it"};
  }
  for (std::size_t i = n; i-- > 0;)
    v.rows.push_back({"peg " + std::to_string(i),
                      asked[i].name,
                      shown_length(e.numbers[i], survey.job),
                      asked[i].caption,
                      {},
                      false,
                      false});
  const BookingEvent event = draw_booking_page(c.sheet, page, v, e.typed, [&](Box box) {
    c.sheet.paragraph(
        box.inset(margin),
        "Two-peg check. Mark two points A and B on the floor, about as far apart as the "
        "room is long. Read both with the level midway, where its error cancels, then "
        "both again with the level near A.",
        {});
  });
  if (event.undo) {
    if (e.numbers.empty())
      e = {};
    else
      e.numbers.pop_back();
    e.typed.clear();
    return true;
  }
  if (event.offer == "Set it" && found) {
    const std::string at = "/rooms/" + std::to_string(session.room) + "/levels/setups/" +
                           std::to_string(setup) + "/collimation";
    session.apply(set_patch(session.document(), at, std::round(found->value * 1000) / 1000),
                  "collimation of set-up " + level.id);
  }
  if (!event.offer.empty()) e = {};
  if ((event.book || enter) && n < std::size(asked)) {
    const TypedNumber number = typed_number(e.typed, typed_unit(survey.job));
    if (number.value) {
      e.numbers.push_back(*number.value);
      e.typed.clear();
    }
  }
  return true;
}

}  // namespace levelrun
