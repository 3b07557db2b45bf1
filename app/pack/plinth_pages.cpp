#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "app/drawing/board_drawing.h"
#include "app/drawing/print_scale.h"
#include "app/entry/agreement_mark.h"
#include "app/pack/pack_pages.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr float mm = float(dp_in_mm);
constexpr float board_high = 46;  // mm of a drawn piece
constexpr float strip_high = 13;  // mm of a board in the cutting list

// As boards name their pieces: numbered where a face is jointed.
std::string piece_name(const RoomResult& room, const PlinthResult& p) {
  const auto same = [&](const PlinthResult& q) { return q.run == p.run && q.face == p.face; };
  const bool many = std::count_if(room.plinths.begin(), room.plinths.end(), same) > 1;
  return p.run + " " + p.face + (many ? " " + std::to_string(p.piece) : "");
}

double stock_of(const RoomResult& room, const PlinthResult& p) {
  const std::string name = piece_name(room, p);
  for (const Board& board : room.boards)
    for (const Board::Piece& piece : board.pieces)
      if (piece.face == name) return board.height;
  return std::max(p.height_left, p.height_right);
}

std::string cut_words(const PlinthResult& p) {
  std::string words = p.top == TopCut::none       ? "top edge whole"
                      : p.top == TopCut::parallel ? "top edge cut parallel, seal it again"
                                                  : "top edge cut to a taper, seal it again";
  if (p.bottom == BottomCut::scribe) words += "; bottom edge scribed";
  words += p.sealed_edge_down ? "; sealed edge down" : "; SEALED EDGE LOST at the floor: seal it";
  return words;
}

// What is open between floor and carcass, least and greatest. Without a scribe the board stands on
// the hull, so that clear = height + top gap wherever it is cut or whole; scribed it drops by the
// hollow, and is as the stock less the drop while its top is whole. Both cut: the results do not
// say.
std::optional<std::pair<double, double>> clear_heights(const PlinthResult& p, double stock) {
  if (p.bottom == BottomCut::scribe) {
    if (p.top != TopCut::none) return std::nullopt;
    const double lies = stock - p.floor_gap;
    return std::pair{lies + p.top_gap_least, lies + p.top_gap_greatest};
  }
  const auto [least, most] = std::minmax_element(
      p.ordinates.begin(), p.ordinates.end(),
      [](const PlinthOrdinate& a, const PlinthOrdinate& b) { return a.height < b.height; });
  if (least == p.ordinates.end()) return std::nullopt;
  return std::pair{least->height + p.top_gap_least, most->height + p.top_gap_greatest};
}

// How far down a drawing reaches, dp.
float drawn_high(const Drawing& drawing) {
  float low = 0;
  for (const Primitive& primitive : drawing.primitives) {
    if (const auto* s = std::get_if<Stroke>(&primitive))
      for (const Spot& spot : s->points) low = std::max(low, spot.y);
    if (const auto* l = std::get_if<Lettering>(&primitive)) {
      const float half = l->turned != 0 ? lettering_width(*l, print_text_scale) / 2
                                        : lettering_height(l->height, print_text_scale) / 2;
      low = std::max(low, l->at.y + half);
    }
  }
  return low;
}

}  // namespace

void plinth_pages(Paper& paper, const PackMatter& m, Index r) {
  const RoomResult& result = m.results.rooms[r];
  const char d = m.decimal();
  if (result.plinths.empty()) {
    if (!result.legs.empty()) {
      paper.page(m.room_prefix(r) + "Plinths");
      paper.words("No plinth could be worked out: the floor was not read under any face.");
    }
    return;
  }
  paper.page(m.room_prefix(r) + "Plinths");
  paper.words("Agreement mark " + plinths_mark(result) +
              ". Lengths in mm, heights as cut; the board stands on the floor, sealed edge down. "
              "Clear height is what is open between floor and carcass.");
  for (const PlinthResult& p : result.plinths) {
    const std::string name = piece_name(result, p);
    const double stock = stock_of(result, p);
    const Box box{0, 0, paper.width() / mm, board_high / mm};
    const Drawing board = board_drawing(p, stock, d, box, print_text_scale);
    const float high = drawn_high(board) * mm;
    paper.need(high + 26);
    paper.heading("Plinth " + name + "   " + plinth_mark(p));
    std::string says =
        shown(p.length, 1, d) + " long, " + shown(p.height_left, 1, d) +
        (std::abs(p.height_left - p.height_right) >= 0.05 ? " to " + shown(p.height_right, 1, d)
                                                          : "") +
        " high; " + cut_words(p);
    if (const auto clear = clear_heights(p, stock))
      says += "; clear height " + shown(clear->first, 1, d) + " to " + shown(clear->second, 1, d);
    says += "; top gap " + shown(p.top_gap_least, 1, d) + " to " + shown(p.top_gap_greatest, 1, d) +
            "; gap at the floor " + shown(p.floor_gap, 1, d) + "; " + std::string(word(p.verdict)) +
            ".";
    paper.words(says);
    if (!p.sum.empty()) paper.words(with_decimal_sign(p.sum, d), {caption_em}, 6);
    paper.gap(1);
    paper.pdf().drawing(board, box, paper.x(), paper.y(), print_text_scale);
    paper.gap(high + 2);
    if (p.top == TopCut::none && p.bottom == BottomCut::none) continue;  // nothing to cut
    std::vector<std::pair<std::string, std::string>> ordinates;
    for (const PlinthOrdinate& o : p.ordinates)
      ordinates.emplace_back(shown_short(o.along, 1, d), shown(o.height, 1, d));
    paper.pairs("From left", "Height as cut", ordinates);
  }
}

void board_pages(Paper& paper, const PackMatter& m, Index r) {
  const RoomResult& result = m.results.rooms[r];
  if (result.boards.empty()) return;
  const char d = m.decimal();
  paper.page(m.room_prefix(r) + "Boards to cut");
  const int bound = result.boards_bound, count = int(result.boards.size());
  paper.words(std::to_string(count) + (count == 1 ? " board" : " boards") +
              (bound >= count ? ": it cannot be done with fewer."
                              : ": at least " + std::to_string(bound) + " are needed."));
  paper.gap(2);
  double longest = 1;
  for (const Board& b : result.boards) longest = std::max(longest, b.stock_length);
  PdfFile& pdf = paper.pdf();
  for (std::size_t i = 0; i < result.boards.size(); ++i) {
    const Board& b = result.boards[i];
    paper.need(strip_high + 11);
    paper.words("Board " + std::to_string(i + 1) + ": " + shown_short(b.stock_length, 1, d) +
                    " × " + shown_short(b.height, 1, d) + ", offcut " + shown(b.offcut, 1, d),
                {text_em, true});
    const float scale = paper.width() / float(longest);
    const float top = paper.y() + 1;
    pdf.rectangle(paper.x(), top, float(b.stock_length) * scale, strip_high, 0.35f);
    float x = paper.x();
    for (const Board::Piece& piece : b.pieces) {
      const float w = float(piece.length) * scale;
      pdf.rectangle(x, top, w, strip_high, 0.35f);
      const std::string length = shown(piece.length, 1, d);
      const auto fits = [&](const std::string& s) {
        return pdf.text_width(s, {caption_em}) < w - 1;
      };
      if (fits(length) && fits(piece.face)) {
        pdf.text(x + w / 2, top + 5, piece.face, {caption_em, true, TextAlign::centre});
        pdf.text(x + w / 2, top + 9.5f, length, {caption_em, false, TextAlign::centre});
      }
      x += w;
    }
    // The offcut: what is left of the board, struck through.
    const float end = paper.x() + float(b.stock_length) * scale;
    if (end - x > 1) pdf.line(x, top + strip_high, end, top, 0.18f);
    paper.gap(strip_high + 2);
    std::string pieces;
    for (const Board::Piece& piece : b.pieces)
      pieces += (pieces.empty() ? "" : ",  ") + piece.face + " " + shown(piece.length, 1, d);
    paper.words(pieces, {caption_em});
    paper.gap(3);
  }
}

}  // namespace levelrun
