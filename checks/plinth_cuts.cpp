#include "checks/plinth_cuts.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "checks/board_cutting.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double no_cut = 0.05;        // mm
constexpr double ordinate_step = 100;  // mm
constexpr double infinity = std::numeric_limits<double>::infinity();

// Where the cut line can bend: the hull's and (for a scribe) the floor's own points, ordinates,
// and where the top cut begins.
std::vector<double> knots(const PlinthPiece& piece, bool scribe, double begins_at_hull) {
  std::vector<double> at;
  for (double along = 0; along < piece.length; along += ordinate_step) at.push_back(along);
  at.push_back(piece.length);
  for (const ProfilePoint& p : piece.hull) at.push_back(p.along);
  if (scribe)
    for (const ProfilePoint& p : piece.floor) at.push_back(p.along);
  for (Index i = 0; i + 1 < piece.hull.size(); ++i) {
    const ProfilePoint a = piece.hull[i], b = piece.hull[i + 1];
    if ((a.height - begins_at_hull) * (b.height - begins_at_hull) < 0)
      at.push_back(a.along +
                   (b.along - a.along) * (begins_at_hull - a.height) / (b.height - a.height));
  }
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end(), [](double a, double b) { return b - a < 1e-6; }),
           at.end());
  return at;
}

std::string face_name(const RoomFacts& facts, const PlinthPiece& piece, bool many) {
  std::string out = facts.room.runs[piece.run].id + " " + piece.face;
  if (many) out += " " + std::to_string(piece.piece);
  return out;
}

bool jointed(const std::vector<PlinthPiece>& pieces, const PlinthPiece& piece) {
  return std::count_if(pieces.begin(), pieces.end(), [&](const PlinthPiece& other) {
           return other.run == piece.run && other.face == piece.face;
         }) > 1;
}

}  // namespace

PlinthResult cut_piece(const PlinthPiece& piece, const Plinth& plinth, double underside,
                       double board) {
  PlinthResult out;
  out.face = piece.face;
  out.piece = piece.piece;
  out.length = piece.length;
  out.sd = piece.sd;
  for (const ProfilePoint& p : piece.floor)
    out.floor_gap = std::max(out.floor_gap, height_on(piece.hull, p.along) - p.height);
  const bool scribe = out.floor_gap > plinth.floor_gap_max + no_cut;
  if (scribe) out.bottom = BottomCut::scribe;
  out.sealed_edge_down = !scribe && plinth.sealed_edges != SealedEdges::none;

  // Scribed, the board drops by the hollow's depth, so that the floor meets all of its bottom.
  const double drop = scribe ? out.floor_gap : 0;
  const double top_most = underside - plinth.top_gap_min;
  double least = infinity, most = -infinity, greatest_cut = 0;
  out.top_gap_least = infinity;
  out.top_gap_greatest = -infinity;
  for (const double along : knots(piece, scribe, top_most - board + drop)) {
    const double hull = height_on(piece.hull, along);
    const double uncut_top = hull - drop + board;
    const double top = std::min(uncut_top, top_most);
    const double foot = scribe ? height_on(piece.floor, along) : hull;
    const double height = top - foot;
    out.ordinates.push_back({along, height});
    greatest_cut = std::max(greatest_cut, uncut_top - top);
    least = std::min(least, height);
    most = std::max(most, height);
    out.top_gap_least = std::min(out.top_gap_least, underside - top);
    out.top_gap_greatest = std::max(out.top_gap_greatest, underside - top);
  }
  if (greatest_cut >= no_cut) out.top = most - least < no_cut ? TopCut::parallel : TopCut::taper;
  out.height_left = out.ordinates.front().height;
  out.height_right = out.ordinates.back().height;
  if (!scribe && out.top != TopCut::taper) {  // straight: its two ends say all
    out.ordinates.erase(out.ordinates.begin() + 1, out.ordinates.end() - 1);
    if (out.top == TopCut::none) {
      out.height_left = out.height_right = board;
      for (PlinthOrdinate& ordinate : out.ordinates) ordinate.height = board;
    }
  }
  out.verdict = at_most({out.top_gap_greatest, piece.sd}, plinth.top_gap_max);
  if (least <= 0) out.verdict = Verdict::outside;
  out.sum = out.top == TopCut::none
                ? decimal(underside) + " − " + term(piece.lowest) + " − " + decimal(board) +
                      (scribe ? " + " + decimal(drop) : "") + " = " +
                      decimal(underside - piece.lowest - board + drop) + " top gap"
                : decimal(underside) + " − " + term(piece.highest) + " − " +
                      decimal(plinth.top_gap_min) + " = " + decimal(top_most - piece.highest) +
                      " of " + decimal(board);
  return out;
}

PlinthCuts plinth_cuts(const RoomFacts& facts, const std::vector<GroupResult>& groups) {
  PlinthCuts out;
  struct Stock {
    double length, height, thickness, kerf;
    std::vector<double> pieces;
    std::vector<std::string> names;
  };
  std::vector<Stock> stocks;

  for (const PlinthPiece& piece : facts.plinths) {
    const Run& run = facts.room.runs[piece.run];
    const Plinth& plinth = run.furniture.plinth;
    const std::string name = face_name(facts, piece, jointed(facts.plinths, piece));
    const auto stock = std::find_if(stocks.begin(), stocks.end(), [&](const Stock& s) {
      return s.length == plinth.stock_length && s.height == plinth.height &&
             s.thickness == plinth.thickness && s.kerf == plinth.kerf;
    });
    Stock& from =
        stock != stocks.end()
            ? *stock
            : stocks.emplace_back(
                  Stock{plinth.stock_length, plinth.height, plinth.thickness, plinth.kerf, {}, {}});
    from.pieces.push_back(piece.length);
    from.names.push_back(name);

    const auto finding = [&](const char* code, Severity severity) -> Finding& {
      Finding& f = out.findings.emplace_back();
      f.code = code;
      f.severity = severity;
      f.id = run.id + "/" + piece.face + "/" + std::to_string(piece.piece);
      f.at = pointer(facts.index, "runs", piece.run);
      f.unit = "mm";
      return f;
    };
    const auto group = std::find_if(groups.begin(), groups.end(),
                                    [&](const GroupResult& g) { return g.id == run.level_group; });
    if (piece.floor.empty() || group == groups.end()) {
      Finding& f = finding("floor not read along a plinth", Severity::query);
      f.says = "Plinth " + name + ": the floor along it was not read, so no cut is given.";
      f.remedy = "Read the floor along the front of run " + run.id + ".";
      continue;
    }
    const double underside = group->underside + facts.runs[piece.run]->frame.offset;
    PlinthResult cut = cut_piece(piece, plinth, underside, plinth.height);
    cut.run = run.id;

    if (cut.top != TopCut::none) {
      Finding& f = finding("plinth top edge cut", Severity::note);
      double least = infinity;
      for (const PlinthOrdinate& ordinate : cut.ordinates) least = std::min(least, ordinate.height);
      const bool dips = least < std::min(cut.height_left, cut.height_right) - no_cut;
      f.measured = least;
      f.limit = plinth.height;
      f.source = "board as supplied";
      f.says = "Plinth " + name + ": cut the top edge to " + decimal(cut.height_left) + " left, " +
               (dips ? decimal(least) + " between, " : "") + decimal(cut.height_right) +
               " right. " + cut.sum;
      f.remedy = "The sealed edge stays down; seal the cut edge again.";
    }
    if (cut.bottom == BottomCut::scribe) {
      Finding& f = finding("sealed edge would be cut", Severity::query);
      f.measured = cut.floor_gap;
      f.limit = plinth.floor_gap_max;
      f.source = "plinth floor_gap_max of this job";
      f.says = "Plinth " + name + ": hollow of " + decimal(cut.floor_gap) +
               " under the board; scribing takes its sealed edge out of the wet.";
      f.remedy = "Fill the hollow with compound before fitting, or cover it with a seal strip.";
    }
    if (cut.verdict != Verdict::within) {
      // By the best estimate a board that reaches its limit still reaches: the datum puts it
      // there on purpose, so that is worth a note only.
      Finding& f = finding("plinth too short", cut.verdict == Verdict::outside ? Severity::hold
                                               : cut.top_gap_greatest <= plinth.top_gap_max + no_cut
                                                   ? Severity::note
                                                   : Severity::query);
      f.measured = cut.top_gap_greatest;
      f.limit = plinth.top_gap_max;
      f.source = "plinth top_gap_max of this job";
      f.says = "Plinth " + name + ": top gap up to " + decimal(cut.top_gap_greatest) + " ±" +
               decimal(band95 * piece.sd) + "; the carcass covers " +
               millimetres(plinth.top_gap_max) + ".";
      f.remedy = f.severity == Severity::note
                     ? "It reaches by the best estimate; read the floor along it again to be sure."
                     : "A taller board; cutting never mends a short one.";
      if (f.severity == Severity::note) f.code = "plinth at the end of its reach";
      // Unscribed it would stand higher by the hollow.
      const bool fill = f.severity != Severity::note && cut.bottom == BottomCut::scribe &&
                        cut.top_gap_greatest - cut.floor_gap <= plinth.top_gap_max;
      if (fill) f.remedy = "Fill the hollow rather than scribe: unscribed, the board reaches.";
      std::vector<double> heights = plinth.other_heights;
      std::sort(heights.begin(), heights.end());
      for (const double height : heights)
        if (f.severity != Severity::note && !fill && height > plinth.height &&
            cut_piece(piece, plinth, underside, height).verdict == Verdict::within) {
          f.remedy = "Order the board " + millimetres(height) + " high: it reaches.";
          break;
        }
    }
    const RestingLine rest = resting_line(piece.floor);
    if (rest.rocks && rest.gap > plinth.floor_gap_max && cut.bottom == BottomCut::none) {
      Finding& f = finding("plinth rocks on a crown", Severity::note);
      f.measured = rest.gap;
      f.limit = plinth.floor_gap_max;
      f.source = "plinth floor_gap_max of this job";
      f.says = "Plinth " + name + " rocks on a crown in the floor: up to " + decimal(rest.gap) +
               " open at an end.";
      f.remedy = "Pull it down at its clips, or joint it at the crown.";
    }
    out.plinths.push_back(std::move(cut));
  }

  for (const Stock& stock : stocks) {
    const CutPlan plan = cut_boards(stock.pieces, stock.length, stock.kerf);
    for (const auto& pieces : plan.boards) {
      Board board{stock.length, stock.height, {}, stock.length};
      for (const Index i : pieces) {
        board.pieces.push_back({stock.names[i], stock.pieces[i]});
        board.offcut -= stock.pieces[i];
      }
      board.offcut = std::max(0.0, board.offcut - stock.kerf * double(pieces.size()));
      out.boards.push_back(std::move(board));
    }
    out.boards_bound += int(plan.bound);
  }
  return out;
}

}  // namespace levelrun
