// Pages put together from the top down: headings, sentences, tables and drawings, with the job's
// reference and revision on every page and "page x of y" at its foot.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "app/pack/pdf_file.h"

namespace levelrun {

// Letter heights on paper, mm of em: captions, text, titles (2.5, 3.5 and 5 high capitals come out
// a little smaller, as the face's capitals are 0.73 em).
inline constexpr float caption_em = 2.9f, text_em = 3.4f, title_em = 5.2f;
// What drawings are lettered with, so that their captions come out at caption_em.
inline constexpr float print_text_scale = 1.2f;

class Paper {
 public:
  // Every page's foot: the reference, shortened where it is too long, then the rest, which never is
  // (", revision 2, ready to release"). The warning stands at every page's head.
  Paper(PdfFile& pdf, std::string reference, std::string rest, std::string warning);

  // A fresh page. Its name stands at its head, and again where the matter runs on.
  void page(const std::string& name, bool landscape = false);
  // Room to write in, from the top; `left_mm` of height are left.
  float x() const { return margin_; }
  float y() const { return y_; }
  float width() const { return pdf_.width() - 2 * margin_; }
  float left_mm() const { return pdf_.height() - foot_ - y_; }
  void gap(float mm) { y_ += mm; }
  // Goes to a further page if less is left.
  void need(float mm);

  void heading(const std::string&);
  void words(const std::string&, const PdfFile::Text& = {}, float indent = 0);
  std::vector<std::string> broken(const std::string&, float width, const PdfFile::Text&) const;
  // As much of the text as one line holds; "…" ends what was cut.
  std::string fitted(const std::string&, float width, const PdfFile::Text&) const;
  // "Fitter:   name ____ signed ____ date ____"
  void signature(const std::string& who);

  struct Column {
    std::string head;
    float share = 1;  // of the width
    TextAlign align = TextAlign::left;
    bool bold = false;
  };
  // Cells wrap; a row never breaks over two pages; the head is repeated. `lines` are written under
  // their row across the whole width, smaller. Of a cell beyond twenty lines the rest is left out.
  struct Row {
    std::vector<std::string> cells;
    std::vector<std::string> lines;
    bool bold = false;
    bool stays = false;  // on the page of the row before it, if a page can hold them
  };
  void table(const std::vector<Column>&, const std::vector<Row>&);

  // Pairs, the second under the first, as many beside each other as there is room for.
  void pairs(const std::string& first, const std::string& second,
             const std::vector<std::pair<std::string, std::string>>&);

  PdfFile& pdf() { return pdf_; }
  // At the foot of every page; once all pages are there.
  void finish();

 private:
  void head();
  PdfFile& pdf_;
  std::string reference_, rest_, warning_, name_;
  bool landscape_ = false;
  float y_ = 0;
  static constexpr float margin_ = 15, foot_ = 16;
};

}  // namespace levelrun
