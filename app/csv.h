// Comma-separated values by RFC 4180: CRLF, quotes where needed, a header row first.
//
// A text that a spreadsheet would take for a formula (it begins with = + - @, a tab or a line
// break) gets an apostrophe before it. Numbers have "." whatever the job says.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace levelrun {

class Csv {
 public:
  Csv& text(std::string_view);
  // mm to 0.01, finer than any reading, so that sums can be checked; empty = not known.
  Csv& number(std::optional<double>);
  Csv& count(int);
  Csv& yes_no(bool);
  void end_row();

  const std::string& file() const { return file_; }

 private:
  void cell(std::string_view);

  std::string file_;
  bool row_begun_ = false;
};

}  // namespace levelrun
