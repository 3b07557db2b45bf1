// What a person types or pastes, and what is printed and written for others: numbers, CSV and text
// for a terminal.
#include <cmath>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>
#include <vector>

#include "app/csv.h"
#include "app/display_text.h"
#include "app/entry/typed_number.h"
#include "app/text_number.h"
#include "tests/fuzz/must.h"

using namespace levelrun;

namespace {

void type(std::string_view text) {
  for (const TypedUnit unit : {TypedUnit::mm, TypedUnit::inch, TypedUnit::degrees}) {
    const TypedNumber one = typed_number(text, unit);
    must(one.value.has_value() != !one.problem.empty(), "a number or the reason, never both");
    if (one.value) must(std::isfinite(*one.value), "a typed number is finite");
    const TypedNumbers all = typed_numbers(text, unit);
    must(all.values.empty() || all.problem.empty(), "a problem with one gives none");
    for (const double value : all.values) must(std::isfinite(value), "a pasted number is finite");
    if (one.value && unit == TypedUnit::mm) {
      const TypedNumber turned = typed_number(sign_turned(text), unit);
      // Of a sum it is the first number's.
      const bool sum = text.find_first_of("+-") != text.npos ||
                       text.find("\xE2\x88\x92") != text.npos || text.find("\xC2\xB1") != text.npos;
      if (turned.value && !sum) must(std::abs(*turned.value + *one.value) < 1e-6, "the sign turns");
      if (std::abs(*one.value) < 1e6) {
        const TypedNumber back = typed_number(shown_length(*one.value, Job{}), unit);
        must(back.value && std::abs(*back.value - *one.value) <= 0.0501, "shown can be typed");
      }
    }
  }
}

// RFC 4180, as a spreadsheet reads it.
std::vector<std::string> cells_of(std::string_view row) {
  std::vector<std::string> cells{""};
  bool quoted = false;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const char c = row[i];
    if (quoted && c == '"' && i + 1 < row.size() && row[i + 1] == '"')
      cells.back() += row[++i];
    else if (c == '"')
      quoted = !quoted;
    else if (c == ',' && !quoted)
      cells.emplace_back();
    else
      cells.back() += c;
  }
  must(!quoted, "quotes are closed");
  return cells;
}

void write_csv(std::string_view text) {
  const std::string_view half = text.substr(0, text.size() / 2);
  Csv csv;
  csv.text(text).text(half).number(1.25).end_row();
  const std::string& file = csv.file();
  must(file.ends_with("\r\n"), "a row ends as RFC 4180 has it");
  const auto cells = cells_of(std::string_view(file).substr(0, file.size() - 2));
  must(cells.size() == 3 && cells[2] == "1.25", "text cannot make cells");
  for (const auto& [cell, was] : {std::pair{cells[0], text}, {cells[1], half}}) {
    must(cell == was || cell == "'" + std::string(was), "a cell gives its text back");
    must(cell.empty() || std::string_view("=+-@\t\r\n").find(cell[0]) == std::string_view::npos,
         "no cell begins a formula");
  }
}

void print(std::string_view text) {
  const std::string safe = printable(text);
  for (const char c : safe) must(static_cast<unsigned char>(c) >= 32 && c != 127, "no control");
  must(printable(safe) == safe, "what is printable stays");
  for (const int columns : {1, 2, 17, page_columns})
    for (const std::string& line : wrap(safe, columns))
      must(display_width(line) <= std::max(columns, 2), "lines are no wider than asked");
}

void show(std::string_view bytes) {
  double value = 0;
  if (bytes.size() < sizeof value) return;
  std::memcpy(&value, bytes.data(), sizeof value);
  for (int decimals = 0; decimals <= 6; ++decimals) {
    must(!fixed(value, decimals).empty(), "a number has a text");
    shown(value, decimals, ',');
    shown_change(value, decimals, '.');
    shown_short(value, decimals, '.');
  }
  inches(value);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  type(text);
  write_csv(text);
  print(text);
  show(text);
  return 0;
}
