#include "app/entry/typed_number.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <utility>

#include "app/text_number.h"

namespace levelrun {
namespace {

constexpr std::size_t most_digits = 9;
constexpr std::size_t most_text = 400;  // bytes; a longer paste is no list of readings
constexpr double kept = 1e6;            // parts of a mm: what a sum's rounding leaves is taken off
constexpr double mm_per_inch = 25.4;    // exact by definition
constexpr char turn = '~';              // stands for ±

struct Spelling {
  std::string_view text, plain;
};
// Longest first where one begins another.
constexpr Spelling spellings[] = {
    {"\u2212", "-"},    {"\u2013", "-"},    {"\u00b1", "~"},    {"\u2033", "\""},
    {"\u201d", "\""},   {"\u2032", "'"},    {"\u2019", "'"},    {"''", "\""},
    {"\u00a0", " "},    {"\u202f", " "},    {"\u2009", " "},    {"\u2044", "/"},
    {"\u00bd", " 1/2"}, {"\u00bc", " 1/4"}, {"\u00be", " 3/4"}, {"\u215b", " 1/8"},
    {"\u215c", " 3/8"}, {"\u215d", " 5/8"}, {"\u215e", " 7/8"}, {"\u00b0", "d"},
};

// Lower case, in ASCII; what is no part of a number becomes one that is refused.
std::string plain(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto found =
        std::find_if(std::begin(spellings), std::end(spellings),
                     [&](const Spelling& s) { return text.substr(i).starts_with(s.text); });
    if (found != std::end(spellings)) {
      out += found->plain;
      i += found->text.size();
    } else {
      const char c = text[i++];
      out += c == turn || c == 'd' ? '?' : c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c;
    }
  }
  return out;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

const std::string a_number = "a number, please";

class Parser {
 public:
  Parser(std::string_view text, TypedUnit bare) : text_(text), bare_(bare) {}

  // All numbers of the text, or a problem.
  TypedNumbers all() {
    TypedNumbers out;
    for (skip_apart(); !problem_ && at_ < text_.size(); skip_apart()) {
      const double value = sum();
      if (!problem_) out.values.push_back(std::round(value * kept) / kept + 0.0);
    }
    if (!problem_ && out.values.empty()) fail(a_number);
    if (problem_) return {{}, *problem_};
    return out;
  }

 private:
  void fail(std::string why) {
    if (!problem_) problem_ = std::move(why);
  }
  char now() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  void skip_spaces() {
    while (now() == ' ') ++at_;
  }
  void skip_apart() {
    while (now() == ' ' || now() == '\t' || now() == '\n' || now() == '\r' || now() == ';') ++at_;
  }
  bool take(std::string_view word) {
    if (!text_.substr(at_).starts_with(word)) return false;
    at_ += word.size();
    return true;
  }

  double sum() {
    double sign = 1;
    for (; now() == '-' || now() == '+' || now() == turn || now() == ' '; ++at_)
      if (now() == '-' || now() == turn) sign = -sign;
    double total = sign * quantity();
    while (!problem_) {
      const std::size_t before = at_;
      skip_spaces();
      const char sum_sign = now();
      if (sum_sign != '+' && sum_sign != '-') {
        at_ = before;
        break;
      }
      ++at_;
      skip_spaces();
      if (at_ == text_.size()) {
        fail("the sum is not finished");
        break;
      }
      total += (sum_sign == '-' ? -1 : 1) * quantity();
    }
    if (!problem_ && at_ < text_.size() &&
        std::string_view(" \t\n\r;").find(now()) == std::string_view::npos)
      fail(a_number);
    return total;
  }

  double quantity() {
    const double first = mixed();
    if (problem_) return 0;
    const std::size_t before = at_;
    skip_spaces();
    if (bare_ != TypedUnit::degrees) {
      if (take("'") || unit("ft")) return (12 * first + inches_after_feet()) * mm_per_inch;
      if (take("\"") || unit("in")) return first * mm_per_inch;
      if (unit("mm")) return first;
      if (unit("cm")) return first * 10;
      if (unit("m")) return first * 1000;
    } else if (take("d")) {
      return first;
    }
    at_ = before;
    if (fraction_ && bare_ == TypedUnit::mm) fail("a fraction needs its unit: 7/8\"");
    return bare_ == TypedUnit::inch ? first * mm_per_inch : first;
  }

  // Letters must end where the unit does.
  bool unit(std::string_view word) {
    const std::string_view rest = text_.substr(at_);
    if (!rest.starts_with(word)) return false;
    if (rest.size() > word.size() && rest[word.size()] >= 'a' && rest[word.size()] <= 'z')
      return false;
    at_ += word.size();
    return true;
  }

  // 7' 11 7/8": the second number belongs to the first if it is of inches.
  double inches_after_feet() {
    const std::size_t before = at_;
    const auto problem_before = problem_;
    skip_spaces();
    if (is_digit(now())) {
      const double inches = mixed();
      skip_spaces();
      const bool marked = take("\"") || unit("in");
      if (!problem_ && inches < 12 && (marked || at_ == text_.size() || is_apart())) return inches;
    }
    at_ = before;
    problem_ = problem_before;
    return 0;
  }
  bool is_apart() const {
    const char c = now();
    return c == '\t' || c == '\n' || c == '\r' || c == ';' || c == '+' || c == '-';
  }

  // A number, or a whole one and a fraction: 95 7/8, 7/8.
  double mixed() {
    fraction_ = false;
    const std::size_t start = at_;
    const double first = number();
    if (problem_) return 0;
    const bool whole = text_.substr(start, at_ - start).find_first_of(".,") == std::string::npos;
    if (whole && now() == '/') return over(first);
    const std::size_t before = at_;
    skip_spaces();
    std::size_t end = at_;
    while (end < text_.size() && is_digit(text_[end])) ++end;
    if (whole && at_ > before && end > at_ && end < text_.size() && text_[end] == '/')
      return first + over(number());
    at_ = before;
    return first;
  }
  double over(double top) {
    ++at_;  // the stroke
    fraction_ = true;
    if (!is_digit(now())) {
      fail("the fraction is not finished");
      return 0;
    }
    const double bottom = number();
    if (bottom == 0) fail("a fraction over 0");
    return bottom == 0 ? 0 : top / bottom;
  }

  double number() {
    std::string digits;
    std::size_t count = 0, points = 0;
    for (; is_digit(now()) || now() == '.' || now() == ','; ++at_) {
      const bool digit = is_digit(now());
      count += digit;
      points += !digit;
      digits += digit ? now() : '.';
    }
    if (points > 1) {
      fail("two points in one number");
    } else if (count > most_digits) {
      fail("too long: " + std::to_string(count) + " digits");
    } else if (count == 0) {
      fail(a_number);
    }
    if (problem_) return 0;
    if (digits.front() == '.') digits.insert(0, 1, '0');
    // Up to nine digits over a power of ten: both are exact, so the quotient is the nearest double.
    double whole = 0, over = 1;
    bool after_point = false;
    for (const char c : digits) {
      if (c == '.') {
        after_point = true;
        continue;
      }
      whole = 10 * whole + (c - '0');
      if (after_point) over *= 10;
    }
    return whole / over;
  }

  std::string_view text_;
  TypedUnit bare_;
  std::size_t at_ = 0;
  bool fraction_ = false;  // in the number just read
  std::optional<std::string> problem_;
};

std::string counted(std::size_t n) {
  static const char* const words[] = {"two", "three", "four", "five", "six"};
  return n - 2 < std::size(words) ? words[n - 2] : std::to_string(n);
}

}  // namespace

TypedUnit typed_unit(const Job& job) { return job.show_inch ? TypedUnit::inch : TypedUnit::mm; }

TypedNumbers typed_numbers(std::string_view text, TypedUnit bare) {
  if (text.size() > most_text) return {{}, "too long: " + std::to_string(text.size()) + " letters"};
  const std::string simple = plain(text);
  return Parser(simple, bare).all();
}

TypedNumber typed_number(std::string_view text, TypedUnit bare) {
  TypedNumbers all = typed_numbers(text, bare);
  if (!all.problem.empty()) return {std::nullopt, std::move(all.problem)};
  if (all.values.size() > 1)
    return {std::nullopt, counted(all.values.size()) + " numbers: one at a time"};
  return {all.values.front(), ""};
}

std::string sign_turned(std::string_view text) {
  const std::size_t start = std::min(text.find_first_not_of(' '), text.size());
  text.remove_prefix(start);
  for (const std::string_view minus : {"\u2212", "-"})
    if (text.starts_with(minus)) return std::string(text.substr(minus.size()));
  return "\u2212" + std::string(text);
}

std::string shown_length(double mm, const Job& job, int decimals) {
  return job.show_inch ? inches(mm) : shown_short(mm, decimals, job.decimal);
}

}  // namespace levelrun
