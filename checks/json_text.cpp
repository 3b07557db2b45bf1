#include "checks/json_text.h"

#include <charconv>
#include <cmath>

#include "checks/fixed_text.h"

namespace levelrun {

void JsonText::indent() {
  out_ += '\n';
  out_.append(std::size_t(2 * depth_), ' ');
}

void JsonText::before_value() {
  if (after_key_) {
    after_key_ = false;
    return;
  }
  if (!first_) out_ += ',';
  if (depth_ > 0) indent();
  first_ = false;
}

void JsonText::begin(char bracket) {
  before_value();
  out_ += bracket;
  ++depth_;
  first_ = true;
}

void JsonText::end(char bracket) {
  --depth_;
  if (!first_) indent();
  out_ += bracket;
  first_ = false;
}

JsonText& JsonText::key(std::string_view name) {
  text(name);
  out_ += ": ";
  after_key_ = true;
  return *this;
}

void JsonText::number(double value) {
  if (!std::isfinite(value)) return null();
  before_value();
  char digits[400];
  char* end = fixed_text(digits, digits + sizeof digits, value, 6);
  while (end[-1] == '0') --end;
  if (end[-1] == '.') --end;
  std::string_view text(digits, std::size_t(end - digits));
  out_ += text == "-0" ? "0" : text;
}

void JsonText::number(const std::optional<double>& value) {
  if (value)
    number(*value);
  else
    null();
}

void JsonText::integer(long long value) {
  before_value();
  out_ += std::to_string(value);
}

void JsonText::text(std::string_view value) {
  before_value();
  out_ += '"';
  for (const char c : value) {
    switch (c) {
      case '"':
        out_ += "\\\"";
        break;
      case '\\':
        out_ += "\\\\";
        break;
      case '\n':
        out_ += "\\n";
        break;
      case '\t':
        out_ += "\\t";
        break;
      case '\r':
        out_ += "\\r";
        break;
      default:
        if (static_cast<unsigned char>(c) < 0x20) {
          constexpr char hex[] = "0123456789abcdef";
          out_ += "\\u00";
          out_ += hex[c >> 4];
          out_ += hex[c & 15];
        } else {
          out_ += c;
        }
    }
  }
  out_ += '"';
}

void JsonText::boolean(bool value) {
  before_value();
  out_ += value ? "true" : "false";
}

void JsonText::null() {
  before_value();
  out_ += "null";
}

std::string JsonText::take() { return std::move(out_) + '\n'; }

}  // namespace levelrun
