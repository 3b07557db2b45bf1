#include <algorithm>
#include <array>
#include <cmath>

#include "app/entry/agreement_mark.h"
#include "app/pack/pack_pages.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr float card_width = 88, card_height = 61;  // mm: two across A4 and Letter
constexpr float figure_em = 10, small_em = 3.1f;    // mm

std::string height_words(const LegResult& leg, char decimal) {
  return leg.height ? shown(std::round(*leg.height), 0, decimal) : "?";
}

// To half a turn, as it is turned.
std::string turns_words(const LegResult& leg, char decimal) {
  return leg.turns ? shown_change(std::round(*leg.turns * 2) / 2, 1, decimal) : "";
}

std::string verdict_word(const LegResult& leg) {
  return leg.verdict ? std::string(word(*leg.verdict)) : "not known";
}

struct UnitCard {
  const Run* run = nullptr;
  const Unit* unit = nullptr;
  const PlacedUnit* placed = nullptr;
  std::vector<const LegResult*> legs;
};

std::vector<UnitCard> unit_cards(const PackMatter& m, Index r) {
  std::vector<UnitCard> cards;
  const Room& room = m.survey().rooms[r];
  for (Index i = 0; i < room.runs.size(); ++i)
    for (Index u = 0; u < room.runs[i].units.size(); ++u) {
      UnitCard card{&room.runs[i], &room.runs[i].units[u], nullptr, {}};
      for (const LegResult& leg : m.results.rooms[r].legs)
        if (leg.unit == card.unit->id) card.legs.push_back(&leg);
      if (card.legs.empty()) continue;
      if (i < m.rooms[r].runs.size() && m.rooms[r].runs[i])
        for (const PlacedUnit& p : m.rooms[r].runs[i]->units)
          if (p.unit == u) card.placed = &p;
      cards.push_back(std::move(card));
    }
  return cards;
}

// The unit from above, back at the top, each leg with its height and turns.
void draw_card(Paper& paper, const PackMatter& m, Index r, const UnitCard& card, float x, float y) {
  PdfFile& pdf = paper.pdf();
  const char decimal = m.decimal();
  // Cut lines: the cards' edges, dashed.
  for (const auto& [x1, y1, x2, y2] : {std::array{x, y, x + card_width, y},
                                       {x, y + card_height, x + card_width, y + card_height},
                                       {x, y, x, y + card_height},
                                       {x + card_width, y, x + card_width, y + card_height}})
    pdf.line(x1, y1, x2, y2, 0.18f, Dash::dashed);
  const float in = x + 3, wide = card_width - 6;
  pdf.text(in, y + 6, card.unit->id, {5.5f, true});
  const std::string about = m.room_prefix(r) + "run " + card.run->id + ", " +
                            (card.unit->houses.empty() ? "" : card.unit->houses + " ") +
                            shown_short(card.unit->width, 1, decimal);
  const float from = pdf.text_width(card.unit->id, {5.5f, true}) + 4;
  pdf.text(in + from, y + 6, paper.broken(about, wide - from - 16, {small_em}).front(), {small_em});
  pdf.text(x + card_width - 3, y + 6, unit_mark(m.results.rooms[r], card.unit->id),
           {4.2f, true, TextAlign::right});
  const float bottom = y + card_height - 8, top = y + 11;
  pdf.line(in, top - 1.5f, in + wide, top - 1.5f, 0.7f);  // the wall
  pdf.rectangle(in + 2, top, wide - 4, bottom - top, 0.35f);
  std::size_t across = 1;
  if (card.placed) {
    std::size_t front = 0;
    const double middle = (card.placed->back + card.placed->front) / 2;
    for (const PlacedLeg& p : card.placed->legs) front += p.v > middle;
    across = std::max({across, front, card.placed->legs.size() - front});
  }
  const float em = across > 2 ? figure_em * 2 / float(across) : figure_em;
  for (const LegResult* leg : card.legs) {
    double u = 0.5, v = 0.5;
    if (card.placed && card.placed->right > card.placed->left)
      for (const PlacedLeg& p : card.placed->legs)
        if (p.position == leg->position) {
          u = (p.u - card.placed->left) / (card.placed->right - card.placed->left);
          v = (p.v - card.placed->back) / (card.placed->front - card.placed->back);
        }
    const float cell = (wide - 4) / float(across);
    const float cx =
        std::clamp(in + 2 + float(u) * (wide - 4), in + 2 + cell / 2, in + wide - 2 - cell / 2);
    const float cy = v > 0.5 ? bottom - 3 : top + em * 0.8f + 3;
    pdf.text(cx, cy - (v > 0.5 ? small_em + 0.8f : 0), height_words(*leg, decimal),
             {em, true, TextAlign::centre});
    const std::string turns = turns_words(*leg, decimal);
    pdf.text(cx, v > 0.5 ? cy : cy + small_em + 0.8f, turns.empty() ? "" : turns + " turns",
             {small_em, false, TextAlign::centre});
  }
  std::string foot = m.results.reference + ", rev. " + std::to_string(m.results.revision);
  const LegType* type = nullptr;
  for (const LegType& t : card.run->furniture.legs)
    if (t.id == card.legs.front()->type) type = &t;
  if (type) {
    foot += "; leg " + type->id + ", " + shown_short(type->min, 1, decimal) + " to " +
            shown_short(type->max, 1, decimal);
    if (type->supplied) foot += ", turns from " + shown_short(*type->supplied, 1, decimal);
  }
  pdf.text(in, y + card_height - 3, paper.broken(foot, wide, {2.6f}).front(), {2.6f});
}

}  // namespace

void leg_pages(Paper& paper, const PackMatter& m, Index r) {
  const RoomResult& result = m.results.rooms[r];
  const Room& room = m.survey().rooms[r];
  const char decimal = m.decimal();
  paper.page(m.room_prefix(r) + "Leg heights");
  if (result.legs.empty()) {
    paper.words(room.runs.empty() ? "No runs were entered, so there are no legs."
                                  : "No unit of this room stands on legs of a known type.");
    return;
  }
  paper.words("Agreement mark " + legs_mark(result) +
              ": the app shows these letters beside the same numbers. Heights in mm, ± is half the "
              "95 % band; turns from as supplied, + winds out; set in the order given.");
  for (const GroupResult& g : result.groups) {
    std::string says = "Level group " + g.id + ": underside U " + shown(g.underside, 1, decimal) +
                       (g.set ? ", set" : "");
    if (g.worktop_above_floor.at)
      says += "; worktop top " + shown(*g.worktop_above_floor.at, 1, decimal) +
              " above the finished floor";
    paper.words(says + ".", {text_em, true});
    if (!g.sum.empty()) paper.words(with_decimal_sign(g.sum, decimal), {caption_em}, 6);
  }
  for (const Run& run : room.runs) {
    std::vector<Paper::Row> rows;
    for (const Unit& unit : run.units)
      for (const LegResult& leg : result.legs) {
        if (leg.unit != unit.id) continue;
        rows.push_back(
            {{leg.unit, spaced(leg.position), shown(leg.height, 1, decimal),
              leg.sd ? shown(1.96 * *leg.sd, 1, decimal) : "?",
              leg.turns ? shown_change(leg.turns, 1, decimal) : "", verdict_word(leg),
              leg.order > 0 ? std::to_string(leg.order) : "", with_decimal_sign(leg.sum, decimal)},
             {},
             false});
      }
    if (rows.empty()) continue;
    paper.heading("Run " + run.id + ", level group " + run.level_group);
    paper.table({{"Unit", 1.1f, TextAlign::left, true},
                 {"Leg", 2.1f},
                 {"Height", 1.4f, TextAlign::right, true},
                 {"±", 0.8f, TextAlign::right},
                 {"Turns", 1.1f, TextAlign::right},
                 {"Verdict", 1.7f},
                 {"Set", 0.8f, TextAlign::right},
                 {"Sum", 5}},
                rows);
  }
}

void card_pages(Paper& paper, const PackMatter& m, Index r) {
  const std::vector<UnitCard> cards = unit_cards(m, r);
  std::size_t n = 0;
  while (n < cards.size()) {
    paper.page(m.room_prefix(r) + "Cards: cut out, one inside each unit");
    const int rows = std::max(1, int((paper.left_mm() - 2) / card_height));
    const float left = paper.x() + (paper.width() - 2 * card_width) / 2, top = paper.y() + 1;
    for (int slot = 0; slot < rows * 2 && n < cards.size(); ++slot, ++n)
      draw_card(paper, m, r, cards[n], left + float(slot % 2) * card_width,
                top + float(slot / 2) * card_height);
  }
}

}  // namespace levelrun
