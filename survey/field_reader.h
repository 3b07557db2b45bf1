// Reading one object's fields with types, ranges and references checked.
//
// A field that is wrong gives one problem with its pointer, and a harmless value, so that
// reading goes on and finds the rest; whoever asked for the survey gets no value at all if
// there was any problem. Fields of an object that is itself missing or of the wrong type give
// no further problems.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "survey/json_pointer.h"
#include "survey/number_kinds.h"
#include "survey/problem.h"
#include "survey/survey.h"
#include "survey/survey_file.h"

namespace levelrun {

// What one reading of a document has come upon so far. The list of problems stops at
// most_problems (parse_json.h) and has one for each pointer: the first is the most exact.
struct Reading {
  std::vector<Problem> problems;
  std::vector<UnknownWord> unknown_words;

  bool full() const;
  void problem(const At& at, std::string found, std::string expected);
};

// The ids of one list. Views into the document.
class Ids {
 public:
  // list: as messages call it, "levels.points".
  explicit Ids(std::string_view list) : list_(list) {}
  bool add(std::string_view id, Index index) { return index_of_.emplace(id, index).second; }
  std::optional<Index> find(std::string_view id) const;
  bool empty() const { return index_of_.empty(); }
  std::string_view list() const { return list_; }

 private:
  std::string_view list_;
  std::unordered_map<std::string_view, Index> index_of_;
};

inline constexpr Index any_count = static_cast<Index>(-1);

class FieldList;

// Name arguments must outlive the reader (they are literals).
class Fields {
 public:
  // object: nullptr if there is none to read.
  Fields(const Json* object, const At& at, Reading& reading)
      : object_(object), at_(at), reading_(reading) {}
  // Members that nobody asked for, but that are a slip of the hand away from one that was asked for
  // and is not there, are noted as unknown: "lenght" must not quietly leave a default standing.
  ~Fields();
  Fields(const Fields&) = delete;  // children point to at_
  Fields& operator=(const Fields&) = delete;

  bool given() const { return object_ != nullptr; }
  bool has(std::string_view name) const { return find(name) != nullptr; }
  const At& at() const { return at_; }
  Reading& reading() const { return reading_; }

  // A problem with one field, or with the object as a whole.
  void problem(std::string_view name, std::string found, std::string expected) const;
  void problem(std::string found, std::string expected) const;

  // A problem with a field that is missing, or whose value will not do.
  void refuse(std::string_view name, std::string_view expected) const;

  // Without a default: required. `..._if`: may be left out.
  double number(std::string_view name, const NumberKind& kind) const;
  double number(std::string_view name, const NumberKind& kind, double otherwise) const;
  std::optional<double> number_if(std::string_view name, const NumberKind& kind) const;
  std::vector<double> numbers(std::string_view name, const NumberKind& kind, Index most) const;
  int counting_number(std::string_view name, int otherwise) const;  // 1, 2, 3...
  // The text if it is no longer than that many characters; may be left out.
  std::string short_text(std::string_view name, std::string_view otherwise, Index most) const;
  // A problem unless most >= least; the problem stands at the field named most_name.
  void ordered(std::string_view least_name, double least, std::string_view most_name,
               double most) const;

  // The value if there is one of that type; never a problem.
  std::optional<double> peek_number(std::string_view name) const;
  std::optional<std::string_view> peek_text(std::string_view name) const;
  bool says(std::string_view name, std::string_view text) const { return peek_text(name) == text; }
  std::string text(std::string_view name) const;
  std::string text(std::string_view name, std::string_view otherwise) const;
  bool flag(std::string_view name) const;
  bool flag(std::string_view name, bool otherwise) const;

  // Which of the words the field holds; words.size() for a word that is not one of them (noted
  // as unknown); nothing where the field is missing or is no text.
  std::optional<Index> word_index(std::string_view name,
                                  std::span<const std::string_view> words) const;
  template <class Enum>
  Enum word(std::string_view name, std::span<const std::string_view> words, Enum otherwise) const {
    const auto index = word_index(name, words);
    return index ? static_cast<Enum>(*index) : otherwise;
  }
  template <class Enum>
  std::optional<Enum> word_if(std::string_view name,
                              std::span<const std::string_view> words) const {
    const auto index = word_index(name, words);
    return index ? std::optional(static_cast<Enum>(*index)) : std::nullopt;
  }
  template <class Enum>
  Enum required_word(std::string_view name, std::span<const std::string_view> words) const {
    if (!has(name)) refuse(name, one_of(words));
    return word(name, words, Enum::unknown);
  }
  // The items of a list of words that are among the words.
  std::vector<std::string> words(std::string_view name,
                                 std::span<const std::string_view> words) const;

  // Reads the field "id" of the object that stands at index in its list.
  std::string new_id(Ids& ids, Index index) const;
  Index reference(std::string_view name, const Ids& ids) const;
  // or_else: what else may stand there, for the message ("\"floor\" or ").
  std::optional<Index> reference_if(std::string_view name, const Ids& ids,
                                    std::string_view or_else = "") const;

  Fields object(std::string_view name) const;
  Fields object_if(std::string_view name) const;
  // Empty if left out. most: what no survey exceeds, where more would cost more than its text.
  FieldList list(std::string_view name, Index most = any_count) const;

 private:
  const Json* find(std::string_view name) const;
  const Json* find_list(std::string_view name, std::string_view expected, Index most) const;
  void unknown_word(const At& at, const std::string& word, std::string expected) const;
  // The field's text, or nullptr (with a problem if it is there but no text).
  const std::string* text_at(std::string_view name, std::string_view expected) const;
  static std::string one_of(std::span<const std::string_view> words);

  const Json* object_;
  At at_;
  Reading& reading_;
  mutable std::uint64_t asked_ = 0;  // the first 64 members that were found
  mutable std::array<std::string_view, 48> missing_{};
  mutable std::size_t missed_ = 0;
};

// The objects of a list, in order: for (const Fields& wall : room.list("walls")).
class FieldList {
 public:
  FieldList(const Json* list, const At& at, Reading& reading)
      : list_(list), at_(at), reading_(reading) {}
  FieldList(const FieldList&) = delete;
  FieldList& operator=(const FieldList&) = delete;

  Index size() const { return list_ ? list_->size() : 0; }
  const At& at() const { return at_; }

  struct Iterator {
    const FieldList* list;
    Index index;
    Fields operator*() const { return list->item(index); }
    Iterator& operator++() {
      ++index;
      return *this;
    }
    bool operator!=(const Iterator& other) const { return index != other.index; }
  };
  Iterator begin() const { return {this, 0}; }
  Iterator end() const { return {this, size()}; }

 private:
  Fields item(Index index) const;

  const Json* list_;
  At at_;
  Reading& reading_;
};

}  // namespace levelrun
