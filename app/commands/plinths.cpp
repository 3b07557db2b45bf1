// The page has one row a piece, as it is cut, under it the ordinates of a sloping or shaped
// edge and the sum, then the boards that the pieces come out of.

#include "app/commands/plinths.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "app/csv.h"
#include "app/display_text.h"
#include "app/place_words.h"
#include "app/solved_file.h"
#include "app/table.h"
#include "app/terminal.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {

static std::string_view top_word(TopCut cut) {
  return cut == TopCut::parallel ? "parallel" : cut == TopCut::taper ? "taper" : "none";
}

static std::string_view bottom_word(BottomCut cut) {
  return cut == BottomCut::scribe ? "scribe" : "none";
}

static std::string cut_words(const PlinthResult& piece) {
  if (piece.bottom == BottomCut::none) return std::string(top_word(piece.top));
  if (piece.top == TopCut::none) return std::string(bottom_word(piece.bottom));
  return std::string(top_word(piece.top)) + " + " + std::string(bottom_word(piece.bottom));
}

// Runs that have pieces, in the order of the results.
static std::vector<std::string> runs_of(const RoomResult& room) {
  std::vector<std::string> runs;
  for (const PlinthResult& piece : room.plinths)
    if (std::find(runs.begin(), runs.end(), piece.run) == runs.end()) runs.push_back(piece.run);
  return runs;
}

// How high the board is, as cut, at each mm from its left end.
static std::vector<std::pair<std::string, std::string>> ordinates(const PlinthResult& piece,
                                                                  char decimal) {
  std::vector<std::pair<std::string, std::string>> pairs;
  for (const PlinthOrdinate& o : piece.ordinates)
    pairs.emplace_back(shown_short(o.along, 1, decimal), shown(o.height, 1, decimal));
  return pairs;
}

static std::string pieces_table(const RoomResult& room, const std::string& run, char decimal,
                                bool styled) {
  using enum Table::Kind;
  const auto mm = [&](double v) { return shown(v, 1, decimal); };
  Table table({{"Face", text},
               {"No.", number},
               {"Length", number},
               {"Cut", text},
               {"Left", number},
               {"Right", number},
               {"Top gap", number},
               {"Floor", number},
               {"Sealed", text},
               {"Verdict", text}});
  for (const PlinthResult& piece : room.plinths) {
    if (piece.run != run) continue;
    table.row({spaced(piece.face), std::to_string(piece.piece), mm(piece.length), cut_words(piece),
               mm(piece.height_left), mm(piece.height_right),
               mm(piece.top_gap_least) + "\u2013" + mm(piece.top_gap_greatest), mm(piece.floor_gap),
               piece.sealed_edge_down ? "yes" : "NO", std::string(word(piece.verdict))},
              piece.verdict != Verdict::within || !piece.sealed_edge_down);
    const bool shaped = piece.top == TopCut::taper || piece.bottom == BottomCut::scribe;
    if (shaped) table.pairs("from left", "height", ordinates(piece, decimal));
    if (!piece.sum.empty()) table.note(with_decimal_sign(piece.sum, decimal));
  }
  return table.text(styled);
}

static std::string boards_table(const RoomResult& room, char decimal, bool styled) {
  using enum Table::Kind;
  const auto mm = [&](double v) { return shown_short(v, 1, decimal); };
  Table table({{"Board", number}, {"Size", number}, {"Offcut", number}, {"Pieces", text}});
  for (size_t b = 0; b < room.boards.size(); ++b) {
    const Board& board = room.boards[b];
    std::string pieces;
    for (const Board::Piece& piece : board.pieces)
      pieces += (pieces.empty() ? "" : " + ") + spaced(piece.face) + " " +
                shown(piece.length, 1, decimal);
    table.row({std::to_string(b + 1), mm(board.stock_length) + " × " + mm(board.height),
               mm(board.offcut), pieces});
  }
  return table.text(styled);
}

static std::string board_count(const RoomResult& room) {
  const int count = static_cast<int>(room.boards.size());
  return std::to_string(count) + (count == 1 ? " board" : " boards") +
         (count <= room.boards_bound
              ? ", none fewer possible"
              : ", at least " + std::to_string(room.boards_bound) + " needed");
}

static std::string page(const SolvedFile& solved, PlinthLists lists, bool styled) {
  const char decimal = solved.file.survey.job.decimal;
  std::string out = heading("Plinths: " + reference_line(solved.results), styled);
  out += hold_warning(solved.results, styled);
  if (lists != PlinthLists::boards)
    out += paragraph("",
                     "Lengths in mm, heights as cut. Top gap: board to carcass, least to "
                     "greatest. Floor: greatest gap under the board. Sealed: the sealed edge "
                     "stands on the floor.");
  for (const RoomResult& room : solved.results.rooms) {
    out += "\n" + heading("Room " + room_words(solved.file.survey, room.id), styled);
    if (room.plinths.empty() && room.boards.empty()) {
      out += "No plinths in this room.\n";
      continue;
    }
    if (lists != PlinthLists::boards)
      for (const std::string& run : runs_of(room)) {
        out += "\n" + heading("Run " + run, styled);
        out += pieces_table(room, run, decimal, styled);
      }
    out += "\n" + heading("Boards: " + board_count(room), styled);
    if (!room.boards.empty()) out += boards_table(room, decimal, styled);
  }
  return out;
}

static std::string pieces_csv(const Results& results) {
  Csv out;
  for (const char* heading : {"room", "run", "face", "piece", "length", "top", "bottom",
                              "height_left", "height_right", "top_gap_least", "top_gap_greatest",
                              "floor_gap", "sealed_edge_down", "sd", "verdict", "ordinates", "sum"})
    out.text(heading);
  out.end_row();
  for (const RoomResult& room : results.rooms)
    for (const PlinthResult& p : room.plinths) {
      std::string ordinates;
      for (const PlinthOrdinate& o : p.ordinates)
        ordinates += (ordinates.empty() ? "" : " ") + fixed(o.along, 2) + ":" + fixed(o.height, 2);
      out.text(room.id).text(p.run).text(p.face).count(p.piece).number(p.length);
      out.text(top_word(p.top)).text(bottom_word(p.bottom));
      out.number(p.height_left).number(p.height_right);
      out.number(p.top_gap_least).number(p.top_gap_greatest).number(p.floor_gap);
      out.yes_no(p.sealed_edge_down).number(p.sd).text(word(p.verdict));
      out.text(ordinates).text(p.sum).end_row();
    }
  return out.file();
}

static std::string boards_csv(const Results& results) {
  Csv out;
  for (const char* heading :
       {"room", "board", "stock_length", "height", "face", "length", "offcut"})
    out.text(heading);
  out.end_row();
  for (const RoomResult& room : results.rooms)
    for (size_t b = 0; b < room.boards.size(); ++b)
      for (const Board::Piece& piece : room.boards[b].pieces) {
        out.text(room.id).count(static_cast<int>(b) + 1).number(room.boards[b].stock_length);
        out.number(room.boards[b].height).text(piece.face).number(piece.length);
        out.number(room.boards[b].offcut).end_row();
      }
  return out.file();
}

int plinths_command(const std::string& file, TableFormat format, PlinthLists lists, Output& out) {
  const auto solved = load_and_solve(file, out);
  if (!solved) return exit_unusable;
  const bool boards_alone = lists == PlinthLists::boards;
  switch (format) {
    case TableFormat::page:
      out.print(page(*solved, lists, output_is_styled()));
      break;
    case TableFormat::csv:
      out.print(boards_alone ? boards_csv(solved->results) : pieces_csv(solved->results));
      break;
    case TableFormat::json:
      out.print(json_text(boards_alone ? results_part("levelrun-boards", solved->results,
                                                      {"boards", "boards_bound"})
                                       : results_part("levelrun-plinths", solved->results,
                                                      {"plinths", "boards", "boards_bound"})));
      break;
  }
  return exit_ok;
}

}  // namespace levelrun
