// The plinth pieces of a room in the order they are cut (board by board), and which are cut.
#pragma once

#include <string>
#include <vector>

#include "checks/install_tasks.h"
#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct CutToMake {
  const PlinthResult* plinth = nullptr;  // held by the room's results
  std::string name;                      // as boards name their pieces: "S front 1"
  std::string task;                      // its id in the checklist
  int board = 0;                         // from which board, 1 = first; 0: from none
  double stock_length = 0, stock_height = 0, offcut = 0;
  std::string board_words;  // "board 1: 3000 × 150, offcut 812"
  std::vector<std::string> captions;
  bool done = false;
};

// tasks: of the same survey and results.
std::vector<CutToMake> cuts_to_make(const Survey&, const RoomResult&, const InstallTasks& tasks);

}  // namespace levelrun
