// Several files as one ZIP archive (PKWARE APPNOTE 6.3, the part that ISO/IEC 21320-1 keeps):
// written without packing, because photos are packed already and texts are small; read stored or
// deflated, as desks write them. No encryption, no archive of 4 GiB or more, no times: the same
// files give the same bytes.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace levelrun {

struct ZipEntry {
  std::string name;  // UTF-8, folders by "/"
  std::string bytes;
};

bool is_zip(std::string_view bytes);

// Together under 4 GiB.
std::string zipped(const std::vector<ZipEntry>&);

// Of any bytes: those files whose name is wanted, in the archive's order. Empty: `why` says in
// words that go behind a name what is wrong ("is damaged."). Together no more than `most` bytes are
// unpacked.
std::optional<std::vector<ZipEntry>> unzipped(std::string_view zip, std::size_t most,
                                              const std::function<bool(std::string_view)>& wanted,
                                              std::string& why);

}  // namespace levelrun
