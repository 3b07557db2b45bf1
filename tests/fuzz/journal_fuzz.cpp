// A journal of any bytes beside a good survey file, on a disk in memory: the job opens or is
// refused in words, and from there an edit is safe whatever the journal was.
//
// The first byte: bit 0, the journal begins with a good head; bit 1, every line gets its right
// checksum, for a fuzzer does not find one; bit 2, the survey file is gone; bit 3, it is damaged.
#include <cstdint>
#include <cstdio>
#include <string>
#include <string_view>

#include "survey/crc32.h"
#include "survey/open_job.h"
#include "tests/fuzz/json_mutator.h"
#include "tests/fuzz/must.h"
#include "tests/unit/crash_disk.h"
#include "tests/unit/survey_texts.h"

using namespace levelrun;

namespace {

const char *const path = "S-1.levelrun.json", *const journal = "S-1.levelrun.journal";
enum Mode { head = 1, checksums = 2, file_gone = 4, file_damaged = 8 };

std::string with_checksum(std::string_view line) {
  if (!line.ends_with('}')) return std::string(line) + '\n';
  line.remove_suffix(1);
  char crc[16];
  std::snprintf(crc, sizeof crc, "%08x", unsigned(crc32(line)));
  return std::string(line) + R"(,"crc":")" + crc + "\"}\n";
}

std::string journal_of(std::string_view bytes, int mode) {
  std::string text = mode & head ? journal_head(small_job) : "";
  if (!(mode & checksums)) return text.append(bytes);
  for (std::size_t end; !bytes.empty(); bytes.remove_prefix(std::min(bytes.size(), end + 1))) {
    end = std::min(bytes.find('\n'), bytes.size());
    text += with_checksum(bytes.substr(0, end));
  }
  return text;
}

void edit_and_reopen(EditedJob& job, CrashDisk& disk) {
  const By by{"t.v.", "2026-03-12T14:32:08Z"};
  const std::string before = write_survey(job.document());
  const Json patch = Json::parse(R"([{"op":"add","path":"/job/notes","value":"after"}])");
  if (!job.apply(patch, "notes", by).empty()) {
    must(write_survey(job.document()) == before, "a refused edit changes nothing");
    return;
  }
  const std::string after = write_survey(job.document());
  must(job.undo_says() && *job.undo_says() == "notes", "the last edit is the first undone");
  must(job.undo(by).empty() && write_survey(job.document()) == before, "undo gives it back");
  must(job.redo(by).empty() && write_survey(job.document()) == after, "redo does it again");
  // A forged line may hold an inverse that does not fit: it is then refused and changes nothing.
  for (std::string now; job.undo_says();) {
    now = write_survey(job.document());
    if (job.undo(by).empty()) continue;
    must(write_survey(job.document()) == now, "a refused undo changes nothing");
    break;
  }
  const std::string back = write_survey(job.document());
  disk.crash(CrashDisk::After::least);
  auto again = open_job(path, journal, disk);
  must(again.ok() && write_survey(again.value().document()) == back, "a confirmed edit is safe");
  must(again.value().save_snapshot(by).empty() && disk.text(path) == back, "it can be saved");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  CrashDisk disk;
  std::string survey = small_job;
  if (data[0] & file_damaged) survey.resize(survey.size() / 2);
  if (!(data[0] & file_gone)) disk.put(path, survey);
  disk.put(journal, journal_of({reinterpret_cast<const char*>(data + 1), size - 1}, data[0]));
  auto job = open_job(path, journal, disk);
  if (!job.ok()) {
    must(!job.problems().empty(), "a refusal says why");
    must(disk.exists(journal), "the journal of what cannot be opened stays");
    return 0;
  }
  must(survey_from(job.value().document()).ok(), "what is open is a survey");
  edit_and_reopen(job.value(), disk);
  return 0;
}

// A line changed by its tree, or lines doubled, dropped and exchanged; else by bytes.
extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t*, std::size_t, std::size_t);
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  if (size < 2 || seed % 3 == 0) return LLVMFuzzerMutate(data, size, most);
  std::vector<std::string> lines{""};
  for (std::size_t i = 1; i < size; ++i)
    if (data[i] == '\n')
      lines.emplace_back();
    else
      lines.back() += char(data[i]);
  std::string& line = lines[seed / 64 % lines.size()];
  std::string& other = lines[seed / 8192 % lines.size()];
  switch (seed % 8) {
    case 1:
      std::swap(line, other);
      break;
    case 2:
      lines.push_back(line);
      break;
    case 4:
      line.clear();
      break;
    default:
      line = mutated_json(line, seed);
      for (char& c : line)
        if (c == '\n') c = ' ';
  }
  std::string text(1, char(data[0]));
  for (std::size_t i = 0; i < lines.size(); ++i) text += (i ? "\n" : "") + lines[i];
  if (text.size() > most) return LLVMFuzzerMutate(data, size, most);
  std::copy(text.begin(), text.end(), data);
  return text.size();
}
