#include "app/pack/paper.h"

#include <algorithm>
#include <utility>

namespace levelrun {
namespace {

constexpr float line_height = 1.3f;              // em
constexpr float cell_gap = 4;                    // mm between columns
constexpr std::size_t most_lines_a_row = 20;     // of a cell: no row is higher than a page
constexpr std::size_t most_bytes_a_line = 2048;  // no line of our letters is longer

bool inside_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

}  // namespace

Paper::Paper(PdfFile& pdf, std::string reference, std::string rest, std::string warning)
    : pdf_(pdf),
      reference_(std::move(reference)),
      rest_(std::move(rest)),
      warning_(std::move(warning)) {}

void Paper::page(const std::string& name, bool landscape) {
  name_ = name;
  landscape_ = landscape;
  pdf_.add_page(landscape);
  head();
}

void Paper::head() {
  y_ = 14;
  const PdfFile::Text title{title_em, true};
  const auto lines = broken(name_, width(), title);
  for (const std::string& one : lines) {
    pdf_.text(margin_, y_ + title_em * 0.8f, one, title);
    y_ += title_em * 1.25f;
  }
  pdf_.line(margin_, y_ + 1, margin_ + width(), y_ + 1, 0.7f);
  const float title_line = y_ - title_em * 0.45f;
  y_ += 4;
  if (warning_.empty()) return;
  // Beside a short title, so that drawings keep the page's height.
  const PdfFile::Text beside{text_em, true, TextAlign::right};
  if (lines.size() == 1 &&
      pdf_.text_width(warning_, beside) + 10 < width() - pdf_.text_width(name_, title)) {
    pdf_.text(margin_ + width(), title_line, warning_, beside);
    return;
  }
  words(warning_, {text_em, true});
  gap(2);
}

void Paper::need(float mm) {
  if (left_mm() >= mm) return;
  pdf_.add_page(landscape_);
  head();
}

void Paper::heading(const std::string& text) {
  need(18);
  gap(2.5f);
  words(text, {4.2f, true});
  gap(0.8f);
}

std::vector<std::string> Paper::broken(const std::string& text, float wide,
                                       const PdfFile::Text& t) const {
  std::vector<std::string> lines;
  std::string line;
  const auto fits = [&](std::string_view s) { return pdf_.text_width(s, t) <= wide; };
  const auto put = [&](std::string_view word) {
    if (!line.empty() && word.size() < most_bytes_a_line && fits(line + " " + std::string(word))) {
      line.append(" ").append(word);
      return;
    }
    if (!line.empty()) lines.push_back(std::exchange(line, ""));
    // A word longer than the line is broken anywhere, between characters.
    while (!fits(word.substr(0, most_bytes_a_line))) {
      std::size_t end = 1, too_long = std::min(word.size(), most_bytes_a_line);
      while (too_long - end > 1) {
        const std::size_t middle = (end + too_long) / 2;
        (fits(word.substr(0, middle)) ? end : too_long) = middle;
      }
      while (end > 0 && inside_character(word[end])) --end;
      if (end == 0)  // not even one fits: it is printed all the same
        for (end = 1; end < word.size() && inside_character(word[end]);) ++end;
      lines.emplace_back(word.substr(0, end));
      word.remove_prefix(end);
    }
    line = word;
  };
  std::size_t at = 0;
  while (at <= text.size()) {
    const std::size_t newline = text.find('\n', at), space = text.find(' ', at);
    const std::size_t end = std::min({newline, space, text.size()});
    if (end > at) put(std::string_view(text).substr(at, end - at));
    if (end == newline && newline != text.npos) lines.push_back(std::exchange(line, ""));
    at = end + 1;
  }
  if (!line.empty() || lines.empty()) lines.push_back(line);
  return lines;
}

std::string Paper::fitted(const std::string& text, float wide, const PdfFile::Text& t) const {
  if (text.size() < most_bytes_a_line && pdf_.text_width(text, t) <= wide) return text;
  const auto lines = broken(text, wide - pdf_.text_width("…", t), t);
  return lines.front() + "…";
}

void Paper::signature(const std::string& who) {
  need(17);
  gap(9);
  words(who + ":");
  // Name, signature and date, each on a line of its own length.
  const float at = y_ - text_em * line_height + text_em * 0.95f;
  float x = margin_ + 62;
  const float right = margin_ + width();
  const float left_over = right - x;
  for (const auto& [what, share] : {std::pair{"name", 0.38f}, {"signed", 0.38f}, {"date", 0.24f}}) {
    pdf_.text(x, at, what, {caption_em});
    const float end = x + left_over * share;
    pdf_.line(x + pdf_.text_width(what, {caption_em}) + 1.5f, at + 0.6f, end - 3, at + 0.6f);
    x = end;
  }
}

void Paper::words(const std::string& text, const PdfFile::Text& t, float indent) {
  for (const std::string& one : broken(text, width() - indent, t)) {
    need(t.em * line_height);
    pdf_.text(margin_ + indent, y_ + t.em * 0.95f, one, t);
    y_ += t.em * line_height;
  }
}

void Paper::table(const std::vector<Column>& columns, const std::vector<Row>& rows) {
  gap(1);
  float shares = 0;
  for (const Column& c : columns) shares += c.share;
  const float wide = width() - cell_gap * float(columns.size() - 1);
  const auto column_width = [&](std::size_t c) { return wide * columns[c].share / shares; };
  const auto draw = [&](const std::vector<std::string>& cells, float em, bool bold, bool is_head) {
    float most = 0;
    std::vector<std::vector<std::string>> lines;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      const PdfFile::Text t{em, bold || (columns[c].bold && !is_head)};
      lines.push_back(broken(c < cells.size() ? cells[c] : "", column_width(c), t));
      if (lines.back().size() > most_lines_a_row) {  // the survey inside has it in full
        lines.back().resize(most_lines_a_row);
        lines.back().back() = "…";
      }
      most = std::max(most, float(lines.back().size()) * em * line_height);
    }
    float x = margin_;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      PdfFile::Text t{em, bold || (columns[c].bold && !is_head), columns[c].align};
      const float at = t.align == TextAlign::left     ? x
                       : t.align == TextAlign::centre ? x + column_width(c) / 2
                                                      : x + column_width(c);
      float y = y_;
      for (const std::string& one : lines[c]) {
        pdf_.text(at, y + em * 0.95f, one, t);
        y += em * line_height;
      }
      x += column_width(c) + cell_gap;
    }
    y_ += most;
  };
  const auto draw_head = [&] {
    std::vector<std::string> heads;
    for (const Column& c : columns) heads.push_back(c.head);
    draw(heads, caption_em, false, true);
    pdf_.line(margin_, y_ + 0.6f, margin_ + width(), y_ + 0.6f, 0.35f);
    y_ += 1.6f;
  };
  const auto height_of = [&](const Row& row) {
    std::size_t most = 1;
    for (std::size_t c = 0; c < columns.size() && c < row.cells.size(); ++c)
      most = std::max(
          most,
          broken(row.cells[c], column_width(c), {text_em, row.bold || columns[c].bold}).size());
    most = std::min(most, most_lines_a_row);
    float high = float(most) * text_em * line_height + 2;
    for (const std::string& line : row.lines)
      high += float(broken(line, width() - 6, {caption_em}).size()) * caption_em * line_height;
    return high;
  };
  need(14);
  draw_head();
  const float whole_page = pdf_.height() - foot_ - 45;
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const Row& row = rows[r];
    float high = height_of(row), together = high;
    if (!row.stays)
      for (std::size_t n = r + 1; n < rows.size() && rows[n].stays; ++n)
        together += height_of(rows[n]);
    if (together < whole_page) high = together;
    if (left_mm() < high && high < whole_page) {
      need(high);
      draw_head();
    }
    draw(row.cells, text_em, row.bold, false);
    for (const std::string& line : row.lines) words(line, {caption_em}, 6);
    pdf_.line(margin_, y_ + 0.5f, margin_ + width(), y_ + 0.5f);
    y_ += 1.1f;
  }
  gap(2);
}

void Paper::pairs(const std::string& first, const std::string& second,
                  const std::vector<std::pair<std::string, std::string>>& all) {
  const PdfFile::Text small{caption_em}, right{caption_em, false, TextAlign::right},
      strong{caption_em, true, TextAlign::right};
  const float heads = std::max(pdf_.text_width(first, small), pdf_.text_width(second, small)) + 2;
  float cell = 0;
  for (const auto& [a, b] : all)
    cell = std::max({cell, pdf_.text_width(a, right), pdf_.text_width(b, strong)});
  cell += 3;
  const auto in_row = std::size_t(std::max(1.f, (width() - heads) / cell));
  for (std::size_t from = 0; from < all.size(); from += in_row) {
    need(2 * caption_em * line_height + 1);
    const float upper = y_ + caption_em * 0.95f, lower = upper + caption_em * line_height;
    pdf_.text(margin_, upper, first, small);
    pdf_.text(margin_, lower, second, small);
    for (std::size_t i = from; i < std::min(all.size(), from + in_row); ++i) {
      const float x = margin_ + heads + cell * float(i - from + 1);
      pdf_.text(x, upper, all[i].first, right);
      pdf_.text(x, lower, all[i].second, strong);
    }
    y_ += 2 * caption_em * line_height + 1;
  }
}

void Paper::finish() {
  const int all = pdf_.pages();
  for (int n = 0; n < all; ++n) {
    pdf_.go_to(n);
    const float y = pdf_.height() - 8;
    const std::string count = "page " + std::to_string(n + 1) + " of " + std::to_string(all);
    const float counted = pdf_.text_width(count, {caption_em});
    pdf_.line(margin_, y - 4, pdf_.width() - margin_, y - 4);
    pdf_.text(pdf_.width() - margin_, y, count, {caption_em, false, TextAlign::right});
    const PdfFile::Text bold{caption_em, true};
    const float room = width() - counted - 8 - pdf_.text_width(rest_, bold);
    pdf_.text(margin_, y, fitted(reference_, room, bold) + rest_, bold);
  }
}

}  // namespace levelrun
