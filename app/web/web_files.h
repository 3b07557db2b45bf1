// Files of the web page: all in memory, each change also sent to the page, which keeps it as one
// record of IndexedDB (durability strict) in order. What was sent is safe only when the page says
// so: `written` counts those; until then the strip says "saving".
#pragma once

#include <map>
#include <string>

#include "survey/file_layer.h"

namespace levelrun {

class WebFiles final : public FileLayer {
 public:
  std::error_code read(const std::string&, std::size_t, std::string&) override;
  std::error_code size(const std::string&, std::size_t&) override;
  std::error_code create(const std::string&, std::string_view, const std::string&) override;
  std::error_code append(const std::string&, std::string_view) override;
  std::error_code cut(const std::string&, std::size_t) override;
  std::error_code sync(const std::string&) override { return {}; }
  std::error_code sync_folder(const std::string&) override { return {}; }
  std::error_code rename(const std::string&, const std::string&) override;
  std::error_code remove(const std::string&) override;
  std::error_code list(const std::string&, std::vector<std::string>&) override;
  std::error_code lock(const std::string&, std::unique_ptr<FileLock>&) override;

  // From the page: a record read back on starting; nothing is sent.
  void recall(const std::string& kind, const std::string& path, std::string data);
  // Another tab holds the storage, or a newer version kept it: everything can be looked at only.
  void only_look() { locked_ = true; }
  bool looks_only() const { return locked_; }
  // Writes a file, over the one that is there.
  std::error_code put(const std::string& path, std::string_view text);

  const std::map<std::string, std::string>& all() const { return files_; }
  int sent = 0, written = 0;
  std::string trouble;   // why what is booked is not safe; empty: it is, or soon will be
  bool refuses = false;  // and nothing more is taken until it is

 private:
  std::error_code may_write() const;
  void send(const char* kind, const std::string& path, std::string_view data);
  std::map<std::string, std::string> files_;
  bool locked_ = false;
};

}  // namespace levelrun
