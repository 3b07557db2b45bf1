// JSON text to document.
//
// The lexer and grammar are nlohmann's (strict by default, and it reports ill-formed UTF-8 and
// lone surrogates); this handler builds the document itself, because only here are the text's
// repeated keys still known. The items of open containers wait on one stack and move into a
// container of exact size when it closes: growing an ordered object item by item would copy all
// that is under it (its keys are const), and search for an equal key each time.
#include "survey/parse_json.h"

#include <algorithm>
#include <cctype>
#include <numeric>
#include <span>
#include <string>

#include "survey/json_pointer.h"
#include "survey/utf8.h"

namespace levelrun {
namespace {

constexpr std::size_t longest_number = 12;  // characters on each side of a decimal sign
constexpr std::size_t few_items = 24;       // below it comparing all pairs is quicker than sorting

class DocumentBuilder : public nlohmann::json_sax<Json> {
 public:
  explicit DocumentBuilder(std::string_view text) : text_(text) {}

  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(std::move(value)); }
  bool binary(binary_t&) override { return false; }  // JSON text has none
  bool start_object(std::size_t) override { return open(false); }
  bool start_array(std::size_t) override { return open(true); }

  bool key(string_t& name) override {
    items_.push_back({std::move(name), nullptr});
    return true;
  }

  bool end_array() override {
    const std::span<Item> items = innermost_items();
    Json::array_t list;
    list.reserve(items.size());
    for (Item& item : items) list.push_back(std::move(item.value));
    return close(std::move(list));
  }

  bool end_object() override {
    const std::span<Item> items = innermost_items();
    note_repeated_names(items);
    Json::object_t object;
    Members& members = object;
    members.reserve(items.size());
    for (Item& item : items) members.emplace_back(std::move(item.name), std::move(item.value));
    return close(std::move(object));
  }

  bool parse_error(std::size_t position, const std::string& last_token,
                   const nlohmann::json::exception& error) override {
    stop_at_syntax(position, last_token, error.what());
    return false;
  }

  ParsedJson finish(bool complete) {
    complete = complete && items_.size() == 1;
    if (complete) result_.document = std::move(items_.front().value);
    result_.complete = complete;
    return std::move(result_);
  }

 private:
  using Members = std::vector<Json::object_t::value_type>;  // what an ordered object is

  struct Item {
    std::string name;  // in an object
    Json value;
  };
  struct Container {
    bool is_list;
    std::size_t first;  // of its items; the item before is the container itself
  };

  std::span<Item> innermost_items() { return std::span(items_).subspan(open_.back().first); }

  template <class Value>
  bool put(Value&& value) {
    if (++values_ > most_values) {
      return stop("more than " + std::to_string(most_values) + " values", "a survey");
    }
    if (open_.empty() || open_.back().is_list) items_.push_back({{}, nullptr});
    items_.back().value = std::forward<Value>(value);
    return true;
  }

  bool open(bool is_list) {
    if (open_.size() == most_nesting) {
      return stop("lists and objects nested deeper than that",
                  "at most " + std::to_string(most_nesting) + " levels of nesting");
    }
    if (!put(nullptr)) return false;
    open_.push_back({is_list, items_.size()});
    return true;
  }

  template <class Items>
  bool close(Items&& items) {
    items_.resize(open_.back().first);
    items_.back().value = std::forward<Items>(items);
    open_.pop_back();
    return true;
  }

  bool stop(std::string found, std::string expected) {
    if (result_.problems.size() >= most_problems) result_.problems.pop_back();
    result_.problems.push_back({pointer(true), std::move(found), std::move(expected)});
    return false;
  }

  // The pointer of the innermost open container, or of the value it is about to receive.
  std::string pointer(bool of_next_value) const {
    std::string at;
    for (std::size_t depth = 0; depth < open_.size(); ++depth) {
      const Container& container = open_[depth];
      const bool innermost = depth + 1 == open_.size();
      if (innermost && !of_next_value) break;
      const std::size_t next = innermost ? items_.size() : open_[depth + 1].first - 1;
      if (container.is_list) {
        append_item(at, next - container.first);
      } else if (next > container.first || !innermost) {
        append_member(at, items_[innermost ? next - 1 : next].name);
      }
    }
    return at;
  }

  void note_repeated_names(std::span<const Item> items) {
    if (items.size() <= few_items) {
      for (std::size_t later = 1; later < items.size(); ++later) {
        for (std::size_t earlier = 0; earlier < later; ++earlier) {
          if (items[earlier].name == items[later].name) {
            note_repeated(items[later].name);
            break;
          }
        }
      }
      return;
    }
    std::vector<std::size_t> order(items.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      const int sign = items[a].name.compare(items[b].name);
      return sign != 0 ? sign < 0 : a < b;
    });
    std::vector<std::size_t> repeats;
    for (std::size_t i = 1; i < order.size(); ++i) {
      if (items[order[i]].name == items[order[i - 1]].name) repeats.push_back(order[i]);
    }
    std::sort(repeats.begin(), repeats.end());
    for (const std::size_t repeat : repeats) note_repeated(items[repeat].name);
  }

  void note_repeated(const std::string& name) {
    if (result_.problems.size() >= most_problems) return;
    std::string at = pointer(false);
    append_member(at, name);
    result_.problems.push_back(
        {std::move(at), "this name again in the same object", "each name once"});
  }

  // position: bytes read so far. The library's message says what was being parsed and what
  // would have been right there; we keep those facts and put them in our own words.
  void stop_at_syntax(std::size_t position, const std::string& last_token, std::string_view why) {
    const auto says = [&](std::string_view words) { return why.find(words) != why.npos; };
    const bool value = !says("while parsing array") && !says("while parsing object -") &&
                       !says("while parsing object key");
    std::string expected = says("number overflow")            ? "a number up to 1000000 in size"
                           : says("UTF-8")                    ? "well-formed UTF-8"
                           : says("surrogate")                ? "a whole surrogate pair"
                           : says("invalid string")           ? "a JSON string"
                           : says("while parsing array")      ? "\",\" or \"]\""
                           : says("while parsing object -")   ? "\",\" or \"}\""
                           : says("while parsing object key") ? "a name in quotes"
                           : says("while parsing object separator") ? "\":\" and a value"
                           : says("; expected end of input")        ? "the end of the file"
                                                                    : "a JSON value";
    const bool at_end = position > text_.size() || last_token.empty();
    // A number or literal is known to be wrong only at the byte after it.
    const bool one_late = says("invalid number") || says("invalid literal");
    std::string found = at_end                   ? "the end of the file"
                        : says("invalid string") ? string_fault(last_token)
                                                 : word_at(position, one_late);
    found += line_and_column(at_end ? text_.size() + 1 : position);
    if (text_.find_first_not_of(" \t\r\n") == text_.npos) {
      found = "an empty file";
      expected = "a survey";
    } else if (!at_end) {
      say_of_comma(position, found, expected);
    }
    if (result_.problems.size() >= most_problems) result_.problems.pop_back();
    result_.problems.push_back({pointer(value), std::move(found), std::move(expected)});
  }

  // Two slips that the grammar alone would not name: a number with a decimal comma (3203,5) and a
  // comma before the end of a list or object. position: just after the byte that stopped reading.
  void say_of_comma(std::size_t position, std::string& found, std::string& expected) const {
    const auto digit = [&](std::size_t i) {
      return i < text_.size() && text_[i] >= '0' && text_[i] <= '9';
    };
    if (position == 0 || position > text_.size()) return;
    std::size_t fault = position - 1;
    while (position - fault < longest_number && digit(fault) && fault > 0 && digit(fault - 1))
      --fault;
    const std::size_t last = fault == 0 ? text_.npos : text_.find_last_not_of(" \t\r\n", fault - 1);
    if (last == text_.npos || last == 0 || text_[last] != ',') return;
    if (text_[fault] == '}' || text_[fault] == ']') {
      found = "a comma too many" + line_and_column(last + 1);
      expected = in_quotes(text_.substr(fault, 1)) + " without a comma before it";
    } else if (last + 1 == fault && digit(fault) && digit(last - 1)) {
      std::size_t begin = last - 1, end = fault + 1;
      while (last - begin < longest_number && begin > 0 &&
             (digit(begin - 1) || text_[begin - 1] == '-'))
        --begin;
      while (end - last < longest_number && digit(end)) ++end;
      const std::string whole(text_.substr(begin, last - begin));
      const std::string part(text_.substr(fault, end - fault));
      found = whole + "," + part + line_and_column(begin + 1);
      expected = whole + "." + part + ", written with a point";
    }
  }

  // The end of a string that went wrong, the faulty byte included.
  static std::string string_fault(std::string_view token) {
    constexpr std::size_t shown = 24;
    const bool whole = token.size() <= shown;
    if (!whole) token.remove_prefix(token.size() - shown);
    return (whole ? "a string " : "a string ...") + visible(token, shown);
  }

  // The run of letters, digits and signs around the last byte read (NaN, 1e999, 12..5), or that
  // byte alone.
  std::string word_at(std::size_t position, bool one_late) const {
    constexpr std::size_t longest = 64;
    const auto in_word = [&](std::size_t i) {
      const auto c = static_cast<unsigned char>(text_[i]);
      return std::isalnum(c) != 0 || c >= 0x80 ||
             std::string_view(".-+_'").find(text_[i]) != std::string_view::npos;
    };
    std::size_t begin = std::max(std::min(position, text_.size()), std::size_t{1}) - 1;
    if (one_late && begin > 0 && !in_word(begin)) --begin;
    std::size_t end = begin + 1;
    if (in_word(begin)) {
      for (std::size_t n = 0; n < longest && begin > 0 && in_word(begin - 1); ++n) --begin;
      for (std::size_t n = 0; n < longest && end < text_.size() && in_word(end); ++n) ++end;
    }
    if (text_[begin] == '"') return "a string";
    return in_quotes(text_.substr(begin, end - begin));
  }

  // Of the byte at position - 1, counted from 1.
  std::string line_and_column(std::size_t position) const {
    const std::string_view before = text_.substr(0, std::max(position, std::size_t{1}) - 1);
    const auto lines = std::count(before.begin(), before.end(), '\n');
    const std::size_t newline = before.rfind('\n');
    const std::string_view line = newline == before.npos ? before : before.substr(newline + 1);
    return " at line " + std::to_string(lines + 1) + ", column " +
           std::to_string(characters(line) + 1);
  }

  std::string_view text_;
  std::vector<Item> items_;
  std::vector<Container> open_;
  std::size_t values_ = 0;
  ParsedJson result_;
};

}  // namespace

ParsedJson parse_json(std::string_view text) {
  if (text.size() > most_text) {
    ParsedJson refused;
    refused.problems.push_back({"", std::to_string(text.size()) + " bytes of text",
                                "a survey file of up to " + std::to_string(most_text) + " bytes"});
    return refused;
  }
  DocumentBuilder builder(text);
  const bool complete = Json::sax_parse(text.data(), text.data() + text.size(), &builder);
  return builder.finish(complete);
}

}  // namespace levelrun
