#include "app/table.h"

#include <algorithm>
#include <numeric>

#include "app/display_text.h"
#include "app/terminal.h"

namespace levelrun {

static constexpr int gap = 2;              // between columns
static constexpr int narrowest_text = 10;  // a longer word is broken if need be
static constexpr int indent = 4;           // of what stands under a row

static int longest_word(std::string_view text) {
  int longest = 0;
  while (!text.empty()) {
    const size_t space = std::min(text.find(' '), text.size());
    longest = std::max(longest, display_width(text.substr(0, space)));
    text.remove_prefix(std::min(space + 1, text.size()));
  }
  return longest;
}

static std::string padded(const std::string& cell, int width, Table::Kind kind) {
  const std::string space(std::max(0, width - display_width(cell)), ' ');
  return kind == Table::Kind::number ? space + cell : cell + space;
}

void Table::row(std::vector<std::string> cells, bool strong) {
  cells.resize(columns_.size());
  for (std::string& cell : cells) cell = printable(cell);
  rows_.push_back({std::move(cells), strong, ""});
}

void Table::note(std::string_view text) {
  rows_.back().under += paragraph(std::string(indent, ' '), printable(text));
}

void Table::line(std::string_view text) {
  rows_.back().under += std::string(indent, ' ') + printable(text) + "\n";
}

void Table::pairs(std::string_view upper_caption, std::string_view lower_caption,
                  const std::vector<std::pair<std::string, std::string>>& pairs) {
  const int caption = std::max(display_width(upper_caption), display_width(lower_caption));
  int width = 0;
  for (const auto& [upper, lower] : pairs)
    width = std::max({width, display_width(upper), display_width(lower)});
  const size_t across = std::max(1, (page_columns - indent - caption) / (width + gap));
  for (size_t from = 0; from < pairs.size(); from += across) {
    std::string upper(indent, ' '), lower(indent, ' ');
    upper += padded(std::string(upper_caption), caption, Kind::text);
    lower += padded(std::string(lower_caption), caption, Kind::text);
    for (size_t i = from; i < std::min(from + across, pairs.size()); ++i) {
      upper += padded(pairs[i].first, width + gap, Kind::number);
      lower += padded(pairs[i].second, width + gap, Kind::number);
    }
    rows_.back().under += upper + "\n" + lower + "\n";
  }
}

std::vector<int> Table::widths() const {
  std::vector<int> widths, narrowest;
  for (size_t c = 0; c < columns_.size(); ++c) {
    const int heading = longest_word(columns_[c].heading);
    int width = heading, word = heading;
    for (const Row& row : rows_) {
      width = std::max(width, display_width(row.cells[c]));
      word = std::max(word, longest_word(row.cells[c]));
    }
    widths.push_back(width);
    narrowest.push_back(columns_[c].kind == Kind::number ? width : std::min(word, narrowest_text));
  }
  const int room = page_columns - gap * (static_cast<int>(columns_.size()) - 1);
  while (std::accumulate(widths.begin(), widths.end(), 0) > room) {
    size_t widest = columns_.size();
    for (size_t c = 0; c < columns_.size(); ++c)
      if (widths[c] > narrowest[c] && (widest == columns_.size() || widths[c] > widths[widest]))
        widest = c;
    if (widest == columns_.size()) break;
    --widths[widest];
  }
  return widths;
}

std::string Table::text(bool styled) const {
  const std::vector<int> width = widths();
  std::string out;
  const auto add = [&](const std::vector<std::string>& cells, bool strong) {
    std::vector<std::vector<std::string>> lines;
    size_t deepest = 1;
    for (size_t c = 0; c < columns_.size(); ++c) {
      lines.push_back(wrap(cells[c], width[c]));
      deepest = std::max(deepest, lines.back().size());
    }
    for (size_t l = 0; l < deepest; ++l) {
      std::string line;
      for (size_t c = 0; c < columns_.size(); ++c) {
        if (c > 0) line.append(gap, ' ');
        line += padded(l < lines[c].size() ? lines[c][l] : "", width[c], columns_[c].kind);
      }
      line.erase(line.find_last_not_of(' ') + 1);
      out += (strong && styled ? bold(line) : line) + "\n";
    }
  };
  std::vector<std::string> headings;
  for (const Column& column : columns_) headings.push_back(column.heading);
  add(headings, true);
  for (const Row& row : rows_) {
    add(row.cells, row.strong);
    out += row.under;
  }
  return out;
}

}  // namespace levelrun
