// A table for an 80-column page.
//
// Columns are as wide as their cells and the longest word of their heading. When the page is too
// narrow the widest columns of text give way and their cells go on below; columns of numbers
// never do, so what is left beside them must hold the text columns at 10 each. Cells are made
// printable.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace levelrun {

class Table {
 public:
  enum class Kind { text, number };  // left or right aligned
  struct Column {
    std::string heading;
    Kind kind = Kind::text;
  };

  explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}

  // One cell a column. strong: set bold where the page can.
  void row(std::vector<std::string> cells, bool strong = false);

  // Text under the last row, indented and wrapped across the page.
  void note(std::string_view text);

  // The same, indented but never wrapped: what is to be copied.
  void line(std::string_view text);

  // Numbers under the last row with a caption before each line: of each pair the first stands
  // above the second, as many beside each other as the page holds.
  void pairs(std::string_view upper_caption, std::string_view lower_caption,
             const std::vector<std::pair<std::string, std::string>>&);

  // The table with its headings, each line ended by a line feed. styled: with bold.
  std::string text(bool styled) const;

 private:
  struct Row {
    std::vector<std::string> cells;
    bool strong = false;
    std::string under;  // lines that stand below the cells
  };

  std::vector<int> widths() const;

  std::vector<Column> columns_;
  std::vector<Row> rows_;
};

}  // namespace levelrun
