// Reads cutting lists, prints what we make of them; boards_against_milp.py compares.
// A line in: board kerf length length …   A line out: boards bound
#include <iostream>
#include <sstream>
#include <string>
#include <vector>

#include "checks/board_cutting.h"

int main() {
  std::string line;
  while (std::getline(std::cin, line)) {
    std::istringstream numbers(line);
    double board = 0, kerf = 0, length = 0;
    if (!(numbers >> board >> kerf)) continue;
    std::vector<double> lengths;
    while (numbers >> length) lengths.push_back(length);
    const levelrun::CutPlan plan = levelrun::cut_boards(lengths, board, kerf);
    std::cout << plan.boards.size() << ' ' << plan.bound << '\n';
  }
}
