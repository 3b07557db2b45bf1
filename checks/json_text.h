// JSON text, written straight down: two-space indent, keys in the order they are given, numbers
// with up to 6 decimals, no locale.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace levelrun {

class JsonText {
 public:
  // Values. A key goes before each value inside an object.
  JsonText& key(std::string_view);
  void number(double);                        // NaN and infinity become null
  void number(const std::optional<double>&);  // empty becomes null
  void integer(long long);
  void text(std::string_view);
  void boolean(bool);
  void null();

  void begin_object() { begin('{'); }
  void end_object() { end('}'); }
  void begin_array() { begin('['); }
  void end_array() { end(']'); }

  std::string take();  // the text, with a final newline

 private:
  void begin(char);
  void end(char);
  void before_value();
  void indent();

  std::string out_;
  int depth_ = 0;
  bool first_ = true;
  bool after_key_ = false;
};

}  // namespace levelrun
