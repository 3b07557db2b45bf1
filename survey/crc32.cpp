// A byte at a time from a table: 300 kB take under a millisecond.
#include "survey/crc32.h"

#include <array>

namespace levelrun {
namespace {

constexpr std::uint32_t reflected_polynomial = 0xEDB88320;  // IEEE 802.3

constexpr std::array<std::uint32_t, 256> table_of_bytes() {
  std::array<std::uint32_t, 256> table{};
  for (std::uint32_t byte = 0; byte < 256; ++byte) {
    std::uint32_t rest = byte;
    for (int bit = 0; bit < 8; ++bit) {
      rest = (rest >> 1) ^ ((rest & 1) != 0 ? reflected_polynomial : 0);
    }
    table[byte] = rest;
  }
  return table;
}

constexpr std::array<std::uint32_t, 256> table = table_of_bytes();

}  // namespace

std::uint32_t crc32(std::string_view bytes) {
  std::uint32_t rest = 0xFFFFFFFF;
  for (const char c : bytes) {
    rest = (rest >> 8) ^ table[(rest ^ static_cast<unsigned char>(c)) & 0xFF];
  }
  return ~rest;
}

TextIdentity identity_of(std::string_view text) { return {crc32(text), text.size()}; }

}  // namespace levelrun
