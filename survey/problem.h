// Why a file could not be used: where, what was found, what was expected.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace levelrun {

struct Problem {
  std::string at;        // JSON Pointer (RFC 6901); "" = the whole file
  std::string found;     // as a person would read it: "2.4m", -3, nothing
  std::string expected;  // "a number of mm"
};

// A value, or every problem that stands between us and it.
template <class T>
class Result {
 public:
  Result(T value) : held_(std::move(value)) {}
  Result(std::vector<Problem> problems) : held_(std::move(problems)) {}

  bool ok() const { return std::holds_alternative<T>(held_); }
  const T& value() const { return std::get<T>(held_); }
  T& value() { return std::get<T>(held_); }
  const std::vector<Problem>& problems() const { return std::get<std::vector<Problem>>(held_); }

 private:
  std::variant<T, std::vector<Problem>> held_;
};

}  // namespace levelrun
