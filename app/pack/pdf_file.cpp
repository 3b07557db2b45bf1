#include "app/pack/pdf_file.h"

#include <hpdf.h>
#include <hpdf_catalog.h>
#include <hpdf_fontdef.h>
#include <hpdf_namedict.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <vector>

#include "app/drawing/code_points.h"
#include "app/drawing/lettering.h"
#include "app/drawing/print_scale.h"
#include "app/touch/faces.h"

namespace levelrun {
namespace {

constexpr float mm_in_points = 72 / 25.4f;

float line_mm(LineWidth width) {
  return width == LineWidth::face ? 0.7f : width == LineWidth::outline ? 0.35f : 0.18f;
}

// In mm of paper, as on the screen in dp.
std::array<HPDF_UINT16, 4> pattern(Dash dash, int& count) {
  switch (dash) {
    case Dash::dashed:
      count = 2;
      return {3, 2, 0, 0};
    case Dash::dotted:
      count = 2;
      return {1, 2, 0, 0};
    case Dash::chain:
      count = 4;
      return {7, 2, 1, 2};
    case Dash::double_dot:
      count = 4;
      return {7, 2, 1, 2};
    default:
      count = 0;
      return {};
  }
}

}  // namespace

struct PdfFile::Library {
  HPDF_Doc doc = nullptr;
  std::array<HPDF_Font, 2> fonts{};
  std::vector<HPDF_Page> pages;
  HPDF_Page page = nullptr;
  PaperSize paper = PaperSize::a4;
  std::string error;
  bool lacked = false;

  static void failed(HPDF_STATUS code, HPDF_STATUS detail, void* self) {
    auto& error = static_cast<Library*>(self)->error;
    if (error.empty())
      error =
          "the PDF library gave up with " + std::to_string(code) + ", " + std::to_string(detail);
  }

  // What readers copy and search by. The library writes a map of character ids there, which is no
  // map to Unicode and which some readers refuse; the codes that it prints are Unicode's own
  // (ISO 32000, 9.10.3: a range keeps its first byte, a block has at most 100 ranges).
  void say_unicode(HPDF_Font font) const {
    std::string map =
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
        "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n";
    constexpr int ranges = 256, in_block = 64;
    for (int first = 0; first < ranges; ++first) {
      if (first % in_block == 0) map += std::to_string(in_block) + " beginbfrange\n";
      std::array<char, 32> line{};
      std::snprintf(line.data(), line.size(), "<%02X00> <%02XFF> <%02X00>\n", first, first, first);
      map += line.data();
      if (first % in_block == in_block - 1) map += "endbfrange\n";
    }
    map += "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n";
    HPDF_Dict stream = HPDF_DictStream_New(doc->mmgr, doc->xref);
    if (!stream) return;
    stream->filter = HPDF_STREAM_FILTER_FLATE_DECODE;
    HPDF_Stream_Write(stream->stream, reinterpret_cast<const HPDF_BYTE*>(map.data()),
                      HPDF_UINT(map.size()));
    HPDF_Dict_Add(font, "ToUnicode", stream);
  }

  // As HPDF_LoadTTFontFromFile does, but from memory.
  HPDF_Font load(Face face) {
    HPDF_Stream stream = HPDF_MemStream_New(doc->mmgr, 4096);
    if (!stream) return nullptr;
    HPDF_Stream_Write(stream, face.data, HPDF_UINT(face.size));
    HPDF_FontDef def = HPDF_TTFontDef_Load(doc->mmgr, stream, HPDF_TRUE);
    if (!def) return nullptr;
    HPDF_List_Add(doc->fontdef_list, def);
    if (doc->ttfont_tag[0] == 0)
      std::copy_n(reinterpret_cast<const HPDF_BYTE*>("HPDFAA"), 6, doc->ttfont_tag);
    else
      ++doc->ttfont_tag[5];
    HPDF_TTFontDef_SetTagName(def, reinterpret_cast<char*>(doc->ttfont_tag));
    const HPDF_Font font = HPDF_GetFont(doc, def->base_font, "UTF-8");
    if (font) say_unicode(font);
    return font;
  }

  float height() const { return page ? HPDF_Page_GetHeight(page) : 0; }
  float x(float mm) const { return mm * mm_in_points; }
  float y(float mm) const { return height() - mm * mm_in_points; }

  void stroke(float width, Dash dash, float grey = 0) const {
    HPDF_Page_SetGrayStroke(page, grey);
    HPDF_Page_SetLineWidth(page, width * mm_in_points);
    int count = 0;
    auto dashes = pattern(dash, count);
    for (HPDF_UINT16& d : dashes) d = HPDF_UINT16(std::lround(d * mm_in_points * 0.5f));
    for (HPDF_UINT16& d : dashes) d = std::max<HPDF_UINT16>(d, 1);
    HPDF_Page_SetDash(page, dashes.data(), HPDF_UINT(count), 0);
  }

  // What the face has not becomes a hollow box, and a control character nothing.
  std::string printed(std::string_view text, bool bold) {
    std::string out;
    while (!text.empty()) {
      const std::string_view before = text;
      const unsigned code = next_code_point(text);
      if (code < 32 || (code >= 0x7F && code < 0xA0)) {
        out += ' ';
      } else if (!has_letter(code, bold)) {
        out += "□";
        lacked = true;
      } else {
        out += before.substr(0, before.size() - text.size());
      }
    }
    return out;
  }
};

PdfFile::PdfFile(PaperSize paper, const std::string& title, const std::string& date)
    : lib_(std::make_unique<Library>()) {
  lib_->paper = paper;
  lib_->doc = HPDF_New(Library::failed, lib_.get());
  if (!lib_->doc) return;
  HPDF_SetCompressionMode(lib_->doc, HPDF_COMP_ALL);
  HPDF_UseUTFEncodings(lib_->doc);
  HPDF_SetCurrentEncoder(lib_->doc, "UTF-8");
  lib_->fonts = {lib_->load(regular_face()), lib_->load(bold_face())};
  HPDF_SetInfoAttr(lib_->doc, HPDF_INFO_TITLE, title.c_str());
  HPDF_SetInfoAttr(lib_->doc, HPDF_INFO_CREATOR, "Levelrun");
  int year = 0, month = 0, day = 0;
  if (std::sscanf(date.c_str(), "%4d-%2d-%2d", &year, &month, &day) == 3 && year > 1900 &&
      month >= 1 && month <= 12 && day >= 1 && day <= 28 + 3) {
    HPDF_Date when{year, month, std::min(day, 28), 0, 0, 0, 'Z', 0, 0};
    when.day = day;
    HPDF_SetInfoDateAttr(lib_->doc, HPDF_INFO_CREATION_DATE, when);
  }
}

PdfFile::~PdfFile() {
  if (lib_->doc) HPDF_Free(lib_->doc);
}

void PdfFile::add_page(bool landscape) {
  lib_->page = HPDF_AddPage(lib_->doc);
  if (!lib_->page) return;
  HPDF_Page_SetSize(lib_->page,
                    lib_->paper == PaperSize::a4 ? HPDF_PAGE_SIZE_A4 : HPDF_PAGE_SIZE_LETTER,
                    landscape ? HPDF_PAGE_LANDSCAPE : HPDF_PAGE_PORTRAIT);
  lib_->pages.push_back(lib_->page);
}

int PdfFile::pages() const { return int(lib_->pages.size()); }
void PdfFile::go_to(int page) { lib_->page = lib_->pages[std::size_t(page)]; }
float PdfFile::width() const { return HPDF_Page_GetWidth(lib_->page) / mm_in_points; }
float PdfFile::height() const { return HPDF_Page_GetHeight(lib_->page) / mm_in_points; }

float PdfFile::text_width(std::string_view text, const Text& t) const {
  return letters_em(lib_->printed(text, t.bold), t.bold) * t.em;
}

void PdfFile::text(float x, float y, std::string_view text, const Text& t) {
  const std::string printed = lib_->printed(text, t.bold);
  if (printed.empty() || !lib_->page) return;
  const float wide = letters_em(printed, t.bold) * t.em;
  const float back = t.align == TextAlign::left     ? 0
                     : t.align == TextAlign::centre ? wide / 2
                                                    : wide;
  HPDF_Page_SetGrayFill(lib_->page, 0);
  HPDF_Page_BeginText(lib_->page);
  HPDF_Page_SetFontAndSize(lib_->page, lib_->fonts[t.bold], t.em * mm_in_points);
  if (t.upright)
    HPDF_Page_SetTextMatrix(lib_->page, 0, 1, -1, 0, lib_->x(x), lib_->y(y + back));
  else
    HPDF_Page_SetTextMatrix(lib_->page, 1, 0, 0, 1, lib_->x(x - back), lib_->y(y));
  HPDF_Page_ShowText(lib_->page, printed.c_str());
  HPDF_Page_EndText(lib_->page);
}

void PdfFile::line(float x1, float y1, float x2, float y2, float width, Dash dash) {
  lib_->stroke(width, dash);
  HPDF_Page_MoveTo(lib_->page, lib_->x(x1), lib_->y(y1));
  HPDF_Page_LineTo(lib_->page, lib_->x(x2), lib_->y(y2));
  HPDF_Page_Stroke(lib_->page);
}

void PdfFile::rectangle(float x, float y, float w, float h, float width) {
  lib_->stroke(width, Dash::solid);
  HPDF_Page_Rectangle(lib_->page, lib_->x(x), lib_->y(y + h), w * mm_in_points, h * mm_in_points);
  HPDF_Page_Stroke(lib_->page);
}

void PdfFile::fill(float x, float y, float w, float h, float grey) {
  HPDF_Page_SetGrayFill(lib_->page, grey);
  HPDF_Page_Rectangle(lib_->page, lib_->x(x), lib_->y(y + h), w * mm_in_points, h * mm_in_points);
  HPDF_Page_Fill(lib_->page);
}

void PdfFile::drawing(const Drawing& drawing, const Box& made_for, float left, float top,
                      float text_scale) {
  if (!lib_->page) return;
  const HPDF_Page page = lib_->page;
  constexpr float mm = float(dp_in_mm);
  const auto x = [&](float dp) { return left + (dp - made_for.x) * mm; };
  const auto y = [&](float dp) { return top + (dp - made_for.y) * mm; };
  const auto finite = [](Spot s) { return std::isfinite(s.x) && std::isfinite(s.y); };
  // What lies beyond its box (a plan zoomed in, a wild coordinate) is not printed over the rest.
  HPDF_Page_GSave(page);
  HPDF_Page_Rectangle(page, lib_->x(left), lib_->y(top + made_for.h * mm),
                      made_for.w * mm * mm_in_points, made_for.h * mm * mm_in_points);
  HPDF_Page_Clip(page);
  HPDF_Page_EndPath(page);
  const auto path = [&](const std::vector<Spot>& points, bool closed) {
    HPDF_Page_MoveTo(page, lib_->x(x(points[0].x)), lib_->y(y(points[0].y)));
    for (std::size_t i = 1; i < points.size(); ++i)
      HPDF_Page_LineTo(page, lib_->x(x(points[i].x)), lib_->y(y(points[i].y)));
    if (closed) HPDF_Page_ClosePath(page);
  };
  // As in SVG: bare sheet and the wash of a chosen row are white, every other ink is black.
  const auto grey_of = [](Ink ink) { return ink == Ink::sheet || ink == Ink::wash ? 1.f : 0.f; };
  for (const Primitive& primitive : drawing.primitives) {
    if (const auto* s = std::get_if<Stroke>(&primitive)) {
      if (s->points.size() < 2 || !std::all_of(s->points.begin(), s->points.end(), finite))
        continue;
      lib_->stroke(line_mm(s->width), s->dash, grey_of(s->ink));
      path(s->points, s->closed);
      HPDF_Page_Stroke(page);
    } else if (const auto* a = std::get_if<Area>(&primitive)) {
      if (a->outline.size() < 3 || !std::all_of(a->outline.begin(), a->outline.end(), finite))
        continue;
      HPDF_Page_SetGrayFill(page, grey_of(a->ink));
      path(a->outline, true);
      HPDF_Page_Fill(page);
    } else if (const auto* d = std::get_if<Disc>(&primitive)) {
      if (!finite(d->at)) continue;
      const float r = d->radius * mm * mm_in_points;
      HPDF_Page_SetGrayFill(page, grey_of(d->ink));
      lib_->stroke(0.25f, Dash::solid, grey_of(d->ink));
      HPDF_Page_Circle(page, lib_->x(x(d->at.x)), lib_->y(y(d->at.y)), r);
      d->filled ? HPDF_Page_Fill(page) : HPDF_Page_Stroke(page);
    } else if (const auto* l = std::get_if<Lettering>(&primitive)) {
      if (!finite(l->at)) continue;
      const float em = lettering_height(l->height, text_scale) * mm;
      const Text t{em, l->bold, TextAlign::centre, l->turned != 0};
      const float wide = text_width(l->text, t), high = em * 0.9f;
      const float cx = x(l->at.x), cy = y(l->at.y);
      if (l->on_blank) {
        if (t.upright)
          fill(cx - high / 2, cy - wide / 2 - 0.3f, high, wide + 0.6f, 1);
        else
          fill(cx - wide / 2 - 0.3f, cy - high / 2, wide + 0.6f, high, 1);
      }
      // Capitals and figures stand 0.73 em high: their middle at the given place.
      constexpr float half_capital = 0.365f;
      if (t.upright)
        text(cx + em * half_capital, cy, l->text, t);
      else
        text(cx, cy + em * half_capital, l->text, t);
    }
  }
  HPDF_Page_GRestore(page);
}

bool PdfFile::picture(std::string_view jpeg, float x, float y, float w, float h) {
  if (!lib_->error.empty()) return false;
  const HPDF_Image image = HPDF_LoadJpegImageFromMem(
      lib_->doc, reinterpret_cast<const HPDF_BYTE*>(jpeg.data()), HPDF_UINT(jpeg.size()));
  if (!image) {  // the rest of the file is none the worse
    HPDF_ResetError(lib_->doc);
    lib_->error.clear();
    return false;
  }
  HPDF_Page_DrawImage(lib_->page, image, lib_->x(x), lib_->y(y + h), w * mm_in_points,
                      h * mm_in_points);
  return true;
}

void PdfFile::attach(const std::string& name, std::string_view bytes) {
  const HPDF_Doc doc = lib_->doc;
  HPDF_NameDict names = HPDF_Catalog_GetNames(doc->catalog);
  if (!names) {
    names = HPDF_NameDict_New(doc->mmgr, doc->xref);
    if (!names || HPDF_Catalog_SetNames(doc->catalog, names) != HPDF_OK) return;
  }
  HPDF_NameTree tree = HPDF_NameDict_GetNameTree(names, HPDF_NAME_EMBEDDED_FILES);
  if (!tree) {
    tree = HPDF_NameTree_New(doc->mmgr, doc->xref);
    if (!tree || HPDF_NameDict_SetNameTree(names, HPDF_NAME_EMBEDDED_FILES, tree) != HPDF_OK)
      return;
  }
  HPDF_Dict stream = HPDF_DictStream_New(doc->mmgr, doc->xref);
  if (!stream) return;
  HPDF_Stream_Write(stream->stream, reinterpret_cast<const HPDF_BYTE*>(bytes.data()),
                    HPDF_UINT(bytes.size()));
  stream->filter = HPDF_STREAM_FILTER_FLATE_DECODE;
  HPDF_Dict_AddName(stream, "Type", "EmbeddedFile");
  HPDF_Dict_AddName(stream, "Subtype", "application/json");
  HPDF_Dict about = HPDF_Dict_New(doc->mmgr);
  HPDF_Dict_Add(stream, "Params", about);
  HPDF_Dict_AddNumber(about, "Size", HPDF_INT32(bytes.size()));
  HPDF_Dict spec = HPDF_Dict_New(doc->mmgr);
  if (!spec || HPDF_Xref_Add(doc->xref, spec) != HPDF_OK) return;
  HPDF_Dict files = HPDF_Dict_New(doc->mmgr);
  HPDF_Dict_AddName(spec, "Type", "Filespec");
  // "F" is for readers that know no Unicode: its bytes mean other letters to each.
  std::string plain;
  for (std::string_view rest = name; !rest.empty();) {
    const unsigned code = next_code_point(rest);
    plain += code >= 0x20 && code < 0x7F ? char(code) : '_';
  }
  const HPDF_Encoder unicode = HPDF_GetEncoder(doc, "UTF-8");
  HPDF_Dict_Add(spec, "F", HPDF_String_New(doc->mmgr, plain.c_str(), nullptr));
  HPDF_Dict_Add(spec, "UF", HPDF_String_New(doc->mmgr, name.c_str(), unicode));
  HPDF_Dict_Add(spec, "EF", files);
  HPDF_Dict_Add(files, "F", stream);
  HPDF_NameTree_Add(tree, HPDF_String_New(doc->mmgr, plain.c_str(), nullptr), spec);
}

bool PdfFile::lacked() const { return lib_->lacked; }
std::string PdfFile::error() const { return lib_->error; }

std::string PdfFile::bytes() {
  if (!lib_->doc || !lib_->error.empty() || HPDF_SaveToStream(lib_->doc) != HPDF_OK) return {};
  std::string out(HPDF_GetStreamSize(lib_->doc), '\0');
  HPDF_ResetStream(lib_->doc);
  HPDF_UINT32 size = HPDF_UINT32(out.size());
  HPDF_ReadFromStream(lib_->doc, reinterpret_cast<HPDF_BYTE*>(out.data()), &size);
  out.resize(size);
  return out;
}

}  // namespace levelrun
