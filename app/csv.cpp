#include "app/csv.h"

#include "app/text_number.h"

namespace levelrun {

static constexpr std::string_view begins_formula = "=+-@\t\r\n";
static constexpr int csv_decimals = 2;

void Csv::cell(std::string_view value) {
  if (row_begun_) file_ += ',';
  row_begun_ = true;
  if (value.find_first_of(",\"\r\n") == std::string_view::npos) {
    file_ += value;
    return;
  }
  file_ += '"';
  for (char c : value) {
    if (c == '"') file_ += '"';
    file_ += c;
  }
  file_ += '"';
}

Csv& Csv::text(std::string_view value) {
  const bool formula = !value.empty() && begins_formula.find(value[0]) != std::string_view::npos;
  cell(formula ? "'" + std::string(value) : std::string(value));
  return *this;
}

Csv& Csv::number(std::optional<double> value) {
  cell(value ? fixed(*value, csv_decimals) : "");
  return *this;
}

Csv& Csv::count(int value) {
  cell(std::to_string(value));
  return *this;
}

Csv& Csv::yes_no(bool value) {
  cell(value ? "yes" : "no");
  return *this;
}

void Csv::end_row() {
  file_ += "\r\n";
  row_begun_ = false;
}

}  // namespace levelrun
