#include "app/install_day/cuts_to_make.h"

#include <algorithm>

#include "app/entry/schedule_rows.h"
#include "app/text_number.h"

namespace levelrun {

std::vector<CutToMake> cuts_to_make(const Survey& survey, const RoomResult& result,
                                    const InstallTasks& tasks) {
  const char decimal = survey.job.decimal;
  // The checklist has a task for each piece, in the order of the results.
  std::vector<const InstallTask*> own;
  for (const InstallTask& task : tasks.tasks)
    if (task.stage == TaskStage::plinth && task.room == result.id) own.push_back(&task);
  std::vector<CutToMake> cuts;
  for (const PlinthResult& p : result.plinths) {
    CutToMake cut;
    cut.plinth = &p;
    cut.name = p.run + " " + p.face;
    const auto same_face = [&](const PlinthResult& q) {
      return q.run == p.run && q.face == p.face;
    };
    if (std::count_if(result.plinths.begin(), result.plinths.end(), same_face) > 1)
      cut.name += " " + std::to_string(p.piece);
    if (cuts.size() < own.size()) {
      cut.task = own[cuts.size()]->id;
      cut.done = own[cuts.size()]->state != TaskState::open;
    }
    cut.captions = captions_of(p);
    for (std::size_t b = 0; b < result.boards.size(); ++b)
      for (const Board::Piece& piece : result.boards[b].pieces)
        if (piece.face == cut.name) {
          const Board& board = result.boards[b];
          cut.board = int(b) + 1;
          cut.stock_length = board.stock_length;
          cut.stock_height = board.height;
          cut.offcut = board.offcut;
          cut.board_words = "board " + std::to_string(cut.board) + ": " +
                            shown_short(board.stock_length, 1, decimal) + " × " +
                            shown_short(board.height, 1, decimal) + ", offcut " +
                            shown(board.offcut, 0, decimal);
        }
    if (cut.stock_height == 0) cut.stock_height = std::max(p.height_left, p.height_right);
    cuts.push_back(std::move(cut));
  }
  std::stable_sort(cuts.begin(), cuts.end(),
                   [](const CutToMake& a, const CutToMake& b) { return a.board < b.board; });
  return cuts;
}

}  // namespace levelrun
