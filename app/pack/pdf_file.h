// A PDF file: pages of vectors and Unicode text in black, with files inside. The only place that
// knows the PDF library.
//
// mm of paper from the page's top left corner, x to the right, y downwards. Text is DejaVu Sans
// Condensed, embedded; its size is the em. What the face lacks is printed as a hollow box, and
// `lacked` says so. The same calls give the same bytes: no clock, no machine.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "app/drawing/drawing.h"

namespace levelrun {

enum class PaperSize { a4, letter };
enum class TextAlign { left, centre, right };

class PdfFile {
 public:
  // date: "YYYY-MM-DD…" or empty; it becomes the file's own date.
  PdfFile(PaperSize, const std::string& title, const std::string& date);
  ~PdfFile();
  PdfFile(const PdfFile&) = delete;
  PdfFile& operator=(const PdfFile&) = delete;

  void add_page(bool landscape = false);
  int pages() const;
  void go_to(int page);  // 0 is the first
  float width() const;
  float height() const;

  struct Text {
    float em = 3.4f;  // mm
    bool bold = false;
    TextAlign align = TextAlign::left;
    bool upright = false;  // read from the right
  };
  // y: of the baseline.
  void text(float x, float y, std::string_view, const Text&);
  float text_width(std::string_view, const Text&) const;
  void line(float x1, float y1, float x2, float y2, float width = 0.18f, Dash = Dash::solid);
  void rectangle(float x, float y, float w, float h, float width = 0.18f);
  void fill(float x, float y, float w, float h, float grey = 0);  // 0 black, 1 white

  // A drawing made for a box on a sheet of 160 dp an inch; left and top: where that box comes.
  void drawing(const Drawing&, const Box& made_for, float left, float top, float text_scale);

  // A JPEG (print_photos.h), stretched over the box. False: the library takes no such file.
  bool picture(std::string_view jpeg, float x, float y, float w, float h);

  // A file inside this one, under its plain name.
  void attach(const std::string& name, std::string_view bytes);
  bool lacked() const;  // letters that the face has not

  // The whole file; empty: the library could not make it, and `error` says why.
  std::string bytes();
  std::string error() const;

 private:
  struct Library;
  std::unique_ptr<Library> lib_;
};

}  // namespace levelrun
