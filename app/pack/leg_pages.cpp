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
  return shown(leg.height, 0, decimal);
}

// To half a turn, as it is turned; and what is wrong with the height.
std::string turns_words(const LegResult& leg, char decimal) {
  std::string words =
      leg.turns ? shown_change(std::round(*leg.turns * 2) / 2, 1, decimal) + " turns" : "";
  if (leg.verdict && *leg.verdict != Verdict::within)
    words += (words.empty() ? "" : ", ") + std::string(word(*leg.verdict));
  return words;
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

struct LegSpot {
  const LegResult* leg = nullptr;
  float across = 0.5f;  // of the unit's width, from its left
};

// The legs of the front or of the back half, from the left; evenly where they stand too close to
// be written where they are.
std::vector<LegSpot> leg_spots(const UnitCard& card, bool front) {
  std::vector<LegSpot> spots;
  for (const LegResult* leg : card.legs) {
    float across = 0.5f;
    bool in_front = leg->position.starts_with("front");
    if (card.placed && card.placed->right > card.placed->left)
      for (const PlacedLeg& p : card.placed->legs)
        if (p.position == leg->position) {
          across = float((p.u - card.placed->left) / (card.placed->right - card.placed->left));
          in_front = p.v > (card.placed->back + card.placed->front) / 2;
        }
    if (in_front == front) spots.push_back({leg, across});
  }
  std::stable_sort(spots.begin(), spots.end(),
                   [](const LegSpot& a, const LegSpot& b) { return a.across < b.across; });
  const float cell = 1 / std::max(2.f, float(spots.size()));
  bool close = false;
  for (std::size_t i = 0; i + 1 < spots.size(); ++i) {
    const auto inside = [&](float at) { return std::clamp(at, cell / 2, 1 - cell / 2); };
    close = close || inside(spots[i + 1].across) - inside(spots[i].across) < cell * 0.99f;
  }
  if (close)
    for (std::size_t i = 0; i < spots.size(); ++i)
      spots[i].across = (float(i) + 0.5f) / float(spots.size());
  return spots;
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
  const PdfFile::Text name{5.5f, true}, beside{small_em}, letters{4.2f, true, TextAlign::right};
  const std::string id = paper.fitted(card.unit->id, wide * 0.45f, name);
  pdf.text(in, y + 6, id, name);
  const std::string about = m.room_prefix(r) + "run " + card.run->id + ", " +
                            (card.unit->houses.empty() ? "" : card.unit->houses + " ") +
                            shown_short(card.unit->width, 1, decimal);
  const std::string mark = unit_mark(m.results.rooms[r], card.unit->id);
  const float from = pdf.text_width(id, name) + 4;
  pdf.text(in + from, y + 6,
           paper.fitted(about, wide - from - pdf.text_width(mark, letters) - 3, beside), beside);
  pdf.text(x + card_width - 3, y + 6, mark, letters);
  const float bottom = y + card_height - 10, top = y + 11;
  pdf.line(in, top - 1.5f, in + wide, top - 1.5f, 0.7f);  // the wall
  pdf.rectangle(in + 2, top, wide - 4, bottom - top, 0.35f);
  pdf.text(in + wide / 2, (top + bottom) / 2 + small_em * 0.35f, "back above, front below",
           {2.6f, false, TextAlign::centre});
  for (const bool front : {false, true}) {
    const std::vector<LegSpot> row = leg_spots(card, front);
    const float cell = (wide - 4) / std::max(2.f, float(row.size()));
    const float em = std::min(figure_em, cell / 2.2f);
    for (const LegSpot& spot : row) {
      const float cx = in + 2 + std::clamp(spot.across * (wide - 4), cell / 2, wide - 4 - cell / 2);
      const float cy = front ? bottom - 3 : top + em * 0.8f + 3;
      pdf.text(cx, cy - (front ? small_em + 0.8f : 0), height_words(*spot.leg, decimal),
               {em, true, TextAlign::centre});
      const bool within = spot.leg->verdict == Verdict::within;
      const PdfFile::Text small{std::min(small_em, cell / 8), !within, TextAlign::centre};
      pdf.text(cx, front ? cy : cy + small_em + 0.8f, turns_words(*spot.leg, decimal), small);
    }
  }
  // A card leaves the pack: it says itself whether it may be worked to.
  const PdfFile::Text foot{2.6f};
  std::string type_words;
  for (const LegType& t : card.run->furniture.legs)
    if (t.id == card.legs.front()->type) {
      type_words = "Leg " + t.id + ", " + shown_short(t.min, 1, decimal) + " to " +
                   shown_short(t.max, 1, decimal);
      if (t.supplied) type_words += ", turns from " + shown_short(*t.supplied, 1, decimal);
    }
  pdf.text(in, y + card_height - 6, paper.fitted(type_words, wide, foot), foot);
  const bool hold = m.results.manufacture.holds > 0;
  const std::string state = release_state(m);  // why not stands on the cover
  pdf.text(in, y + card_height - 2.6f,
           paper.fitted((hold ? "HOLD. " : "") + m.results.reference + ", revision " +
                            std::to_string(m.results.revision) + ", " +
                            state.substr(0, state.find_first_of(":;")),
                        wide, {2.6f, hold}),
           {2.6f, hold});
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
             false,
             !rows.empty() && rows.back().cells.front() == leg.unit});
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
