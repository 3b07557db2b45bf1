// The checksum that tells a whole line from a torn one, and one text of a survey from another.
//
// CRC-32 as IEEE 802.3 has it (reflected, polynomial 0x04C11DB7); of "123456789" it is 0xCBF43926.
// It notices accidents, not forgers.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace levelrun {

std::uint32_t crc32(std::string_view bytes);

// Which text a file holds.
struct TextIdentity {
  std::uint32_t crc = 0;
  std::size_t length = 0;  // bytes
  bool operator==(const TextIdentity&) const = default;
};

TextIdentity identity_of(std::string_view text);

}  // namespace levelrun
