// What the touch app asks of the machine it runs on. Every call returns at once; what takes a
// person or a network comes back later through the app (App::file_came).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace levelrun {

enum class Sheets { job_pack, as_built };  // what can be printed

class Platform {
 public:
  virtual ~Platform() = default;
  virtual std::string now() = 0;     // RFC 3339 with offset
  virtual void tone(int times) = 0;  // one: agrees; two: it does not
  // Where the journal of a survey file is kept: beside it, or where there is a place to write.
  virtual std::string journal_path(const std::string& survey_path) = 0;
  // Hands a file to the person: a download, a share sheet, or a copy in the shared folder. What it
  // did, in words ("saved as …"); empty when it goes on in the background.
  virtual std::string give_file(const std::string& name, std::string_view bytes) = 0;
  // A survey's text as a PDF; empty: `why` says why this machine gives none.
  virtual std::string printed(Sheets, std::string_view /*survey*/,
                              const std::string& /*survey_path*/, std::string& why) {
    why = "This machine prints nothing: copy the job out, and print it at the desk.";
    return {};
  }
  // Two revisions side by side, the later one's survey inside; empty as above.
  virtual std::string printed_comparison(std::string_view /*old_survey*/,
                                         std::string_view /*new_survey*/,
                                         const std::string& /*survey_name*/, std::string& why) {
    why = "This machine prints nothing: copy both jobs out, and compare them at the desk.";
    return {};
  }
  // Puts a new job where this machine keeps jobs; its path, empty: it could not be written.
  virtual std::string put_job(const std::string& name, std::string_view text) = 0;
  // Whether everything booked is safe by now, where that takes a moment; and what went wrong.
  virtual bool all_written() { return true; }
  virtual std::string write_trouble() { return {}; }
  // Asks for a file; it comes to App::file_came. False: this machine has no way to ask, so the
  // screen offers a field for the path.
  virtual bool ask_for_file() = 0;
  // The same for a photo, from the camera or from what is stored.
  virtual bool ask_for_photo() { return false; }
  // A picture (4 bytes a pixel, rows from the top) as ImGui's texture id; null: none can be made.
  // It is there until it is let go, which may be once the frame that drew it has been shown.
  virtual void* picture(const std::uint8_t*, int /*w*/, int /*h*/) { return nullptr; }
  virtual void let_go(void* /*picture*/) {}
};

}  // namespace levelrun
