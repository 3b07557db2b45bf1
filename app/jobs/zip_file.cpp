#include "app/jobs/zip_file.h"

#include <stb/stb_image.h>

#include <algorithm>
#include <cstdint>

#include "survey/crc32.h"

namespace levelrun {
namespace {

// APPNOTE 4.3: signatures, and the sizes of the headers without names.
constexpr std::uint32_t local_mark = 0x04034B50, central_mark = 0x02014B50, end_mark = 0x06054B50;
constexpr std::size_t local_size = 30, central_size = 46, end_size = 22, longest_comment = 0xFFFF;
constexpr std::uint32_t version = 20;       // 2.0: stored and deflated
constexpr std::uint32_t utf8_name = 0x800;  // flag, bit 11
constexpr std::uint32_t encrypted = 1;      // flag, bit 0
constexpr std::uint32_t stored = 0, deflated = 8;
constexpr std::uint32_t no_day = 0x21;  // 1 January 1980, the earliest that there is
constexpr std::size_t most_entries = 20'000;
constexpr std::size_t most_read = 0x7FFFFFFF;  // bytes: what unpacks them counts in int

void put(std::string& out, std::uint32_t value, int bytes) {
  for (int i = 0; i < bytes; ++i) out += char(value >> (8 * i) & 255);
}

// Little-endian; 0 beyond the end, which fits no signature.
std::uint32_t get(std::string_view in, std::size_t at, int bytes) {
  if (at > in.size() || in.size() - at < std::size_t(bytes)) return 0;
  std::uint32_t value = 0;
  for (int i = 0; i < bytes; ++i)
    value |= std::uint32_t(static_cast<unsigned char>(in[at + std::size_t(i)])) << (8 * i);
  return value;
}

// What both headers of an entry have in common, from the version on.
void put_common(std::string& out, const ZipEntry& entry) {
  put(out, version, 2);
  put(out, utf8_name, 2);
  put(out, stored, 2);
  put(out, 0, 2);
  put(out, no_day, 2);
  put(out, crc32(entry.bytes), 4);
  put(out, std::uint32_t(entry.bytes.size()), 4);
  put(out, std::uint32_t(entry.bytes.size()), 4);
  put(out, std::uint32_t(entry.name.size()), 2);
  put(out, 0, 2);
}

std::optional<std::size_t> end_record(std::string_view zip) {
  if (zip.size() < end_size) return std::nullopt;
  const std::size_t last = zip.size() - end_size;
  for (std::size_t at = last;; --at) {
    if (get(zip, at, 4) == end_mark && at + end_size + get(zip, at + 20, 2) == zip.size())
      return at;
    if (at == 0 || last - at == longest_comment) return std::nullopt;
  }
}

}  // namespace

bool is_zip(std::string_view bytes) {
  return get(bytes, 0, 4) == local_mark || (get(bytes, 0, 4) == end_mark && end_record(bytes));
}

std::string zipped(const std::vector<ZipEntry>& entries) {
  std::string out, central;
  for (const ZipEntry& entry : entries) {
    put(central, central_mark, 4);
    put(central, version, 2);
    put_common(central, entry);
    put(central, 0, 2);  // no comment
    put(central, 0, 2);  // first disk
    put(central, 0, 2);
    put(central, 0, 4);
    put(central, std::uint32_t(out.size()), 4);
    central += entry.name;
    put(out, local_mark, 4);
    put_common(out, entry);
    out += entry.name;
    out += entry.bytes;
  }
  const std::size_t begins = out.size();
  out += central;
  put(out, end_mark, 4);
  put(out, 0, 4);  // one disk
  put(out, std::uint32_t(entries.size()), 2);
  put(out, std::uint32_t(entries.size()), 2);
  put(out, std::uint32_t(central.size()), 4);
  put(out, std::uint32_t(begins), 4);
  put(out, 0, 2);
  return out;
}

std::optional<std::vector<ZipEntry>> unzipped(std::string_view zip, std::size_t most,
                                              const std::function<bool(std::string_view)>& wanted,
                                              std::string& why) {
  const auto damaged = [&why] {
    why = "is damaged.";
    return std::nullopt;
  };
  const auto too_large = [&] {
    why = "is larger than what is taken in at once (" + std::to_string(most >> 20) + " MB).";
    return std::nullopt;
  };
  if (zip.size() > most_read) return too_large();
  const auto end = end_record(zip);
  if (!end) return damaged();
  const std::size_t count = get(zip, *end + 10, 2);
  if (count > most_entries) {
    why = "has more than " + std::to_string(most_entries) + " files inside.";
    return std::nullopt;
  }
  std::vector<ZipEntry> out;
  std::size_t at = get(zip, *end + 16, 4), room = most;
  for (std::size_t i = 0; i < count; ++i) {
    if (get(zip, at, 4) != central_mark) return damaged();
    const std::uint32_t flags = get(zip, at + 8, 2), method = get(zip, at + 10, 2);
    const std::size_t packed = get(zip, at + 20, 4), size = get(zip, at + 24, 4);
    const std::size_t name_size = get(zip, at + 28, 2), local = get(zip, at + 42, 4);
    const std::size_t next =
        at + central_size + name_size + get(zip, at + 30, 2) + get(zip, at + 32, 2);
    if (next > zip.size()) return damaged();
    const std::string_view name = zip.substr(at + central_size, name_size);
    const std::uint32_t crc = get(zip, at + 16, 4);
    at = next;
    if (name.empty() || name.back() == '/' || !wanted(name)) continue;
    if (flags & encrypted) {
      why = "is locked by a password.";
      return std::nullopt;
    }
    const std::size_t data = local + local_size + get(zip, local + 26, 2) + get(zip, local + 28, 2);
    if (get(zip, local, 4) != local_mark || data > zip.size() || zip.size() - data < packed ||
        (method != stored && method != deflated) || (method == stored && packed != size))
      return damaged();
    if (size > room) return too_large();
    room -= size;
    ZipEntry entry{std::string(name), std::string(zip.substr(data, method == stored ? size : 0))};
    if (method == deflated) {
      entry.bytes.resize(size);
      // The reader wants to see a few bytes beyond a stream, as a zlib stream has them.
      const std::size_t seen = packed + std::min<std::size_t>(4, zip.size() - data - packed);
      const int got = stbi_zlib_decode_noheader_buffer(entry.bytes.data(), int(size),
                                                       zip.data() + data, int(seen));
      if (got < 0 || std::size_t(got) != size) return damaged();
    }
    if (crc32(entry.bytes) != crc) return damaged();
    out.push_back(std::move(entry));
  }
  return out;
}

}  // namespace levelrun
