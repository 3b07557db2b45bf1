#include "app/drawing/svg.h"

#include <algorithm>
#include <cmath>

#include "app/drawing/code_points.h"
#include "app/drawing/print_scale.h"
#include "checks/fixed_text.h"
#include "survey/utf8.h"

namespace levelrun {
namespace {

constexpr int decimals = 4;  // of a mm of paper: 0.005 mm of the room at 1 : 50
constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD
constexpr double ring_width = 0.25;                       // mm of an unfilled disc's line
constexpr float baseline = 0.36f;  // em: from a line's middle down to its baseline

std::string number(double value, int places = decimals) {
  char buffer[400];
  std::string text(buffer, fixed_text(buffer, buffer + sizeof buffer, value, places));
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

bool finite(Spot s) { return std::isfinite(s.x) && std::isfinite(s.y); }

// What may stand in XML 1.0, section 2.2.
bool may_stand(unsigned c) {
  return c == 0x9 || c == 0xA || c == 0xD || (c >= 0x20 && c <= 0xD7FF) ||
         (c >= 0xE000 && c <= 0xFFFD) || (c >= 0x10000 && c <= 0x10FFFF);
}

std::string_view width_of(LineWidth w) {
  return w == LineWidth::face ? "0.7" : w == LineWidth::outline ? "0.35" : "0.18";
}

// mm; the patterns of the screen's strokes.
std::string_view dashes(Dash dash) {
  switch (dash) {
    case Dash::dashed:
      return "0.95 0.64";
    case Dash::dotted:
      return "0.24 0.64";
    case Dash::chain:
      return "2.2 0.64 0.48 0.64";
    case Dash::double_dot:
      return "2.2 0.48 0.32 0.48 0.32 0.48";
    default:
      return {};
  }
}

// Bare sheet and the wash of a chosen row are white on paper, every other ink black.
std::string_view print_ink(Ink ink) {
  return ink == Ink::sheet || ink == Ink::wash ? "#fff" : "#000";
}

class Writer {
 public:
  explicit Writer(const SvgSheet& sheet) : box_(sheet.box) {
    const std::string wide = number(box_.w * dp_in_mm), high = number(box_.h * dp_in_mm);
    out_ =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"" +
        wide + "mm\" height=\"" + high + "mm\" viewBox=\"0 0 " + wide + " " + high + "\">\n";
    out_ += "<title>" + xml_text(sheet.title) + "</title>\n";
    if (!sheet.description.empty()) out_ += "<desc>" + xml_text(sheet.description) + "</desc>\n";
    out_ += "<rect width=\"" + wide + "\" height=\"" + high + "\" fill=\"#fff\"/>\n";
    out_ +=
        "<g font-family=\"'DejaVu Sans Condensed', 'DejaVu Sans', sans-serif\" "
        "fill=\"none\" stroke-linejoin=\"miter\">\n";
  }

  std::string finish() { return std::move(out_) + "</g>\n</svg>\n"; }

  void operator()(const Stroke& s) {
    if (s.points.size() < 2) return;
    const std::string path = points(s.points);
    if (path.empty()) return;
    out_ += s.closed ? "<polygon" : "<polyline";
    out_ += " points=\"" + path + "\" stroke=\"" + std::string(print_ink(s.ink)) +
            "\" stroke-width=\"" + std::string(width_of(s.width)) + "\"";
    if (const std::string_view dash = dashes(s.dash); !dash.empty())
      out_ += " stroke-dasharray=\"" + std::string(dash) + "\"";
    out_ += "/>\n";
  }

  void operator()(const Area& a) {
    const std::string path = points(a.outline);
    if (a.outline.size() > 2 && !path.empty())
      out_ += "<polygon points=\"" + path + "\" fill=\"" + std::string(print_ink(a.ink)) + "\"/>\n";
  }

  void operator()(const Disc& d) {
    if (!finite(d.at) || !std::isfinite(d.radius) || d.radius <= 0) return;
    out_ += "<circle cx=\"" + x(d.at) + "\" cy=\"" + y(d.at) + "\" r=\"" +
            number(d.radius * dp_in_mm) + "\"";
    if (d.filled)
      out_ += " fill=\"" + std::string(print_ink(d.ink)) + "\"/>\n";
    else
      out_ += " stroke=\"" + std::string(print_ink(d.ink)) + "\" stroke-width=\"" +
              number(ring_width) + "\"/>\n";
  }

  void operator()(const Lettering& l) {
    if (!finite(l.at) || l.text.empty()) return;
    const double em = lettering_height(l.height) * dp_in_mm;
    const double wide = lettering_width(l) * dp_in_mm;
    const std::string cx = x(l.at), cy = y(l.at);
    const bool turned = l.turned != 0;
    if (l.on_blank) {
      const double w = turned ? em : wide + 0.6, h = turned ? wide + 0.6 : em;
      out_ += "<rect x=\"" + number((l.at.x - box_.x) * dp_in_mm - w / 2) + "\" y=\"" +
              number((l.at.y - box_.y) * dp_in_mm - h / 2) + "\" width=\"" + number(w) +
              "\" height=\"" + number(h) + "\" fill=\"#fff\"/>\n";
    }
    out_ += "<text x=\"" + cx + "\" y=\"" + number((l.at.y - box_.y) * dp_in_mm + em * baseline) +
            "\" font-size=\"" + number(em) + "\" text-anchor=\"middle\" fill=\"" +
            std::string(print_ink(l.ink)) + "\"";
    if (l.bold) out_ += " font-weight=\"bold\"";
    if (wide > 0) out_ += " textLength=\"" + number(wide) + "\" lengthAdjust=\"spacingAndGlyphs\"";
    if (turned)
      out_ += " transform=\"rotate(" + number(-double(l.turned)) + " " + cx + " " + cy + ")\"";
    out_ += ">" + xml_text(l.text) + "</text>\n";
  }

 private:
  Box box_;
  std::string out_;

  std::string x(Spot s) const { return number((double(s.x) - double(box_.x)) * dp_in_mm); }
  std::string y(Spot s) const { return number((double(s.y) - double(box_.y)) * dp_in_mm); }
  std::string points(const std::vector<Spot>& spots) const {
    std::string out;
    for (const Spot s : spots) {
      if (!finite(s)) return {};
      out += (out.empty() ? "" : " ") + x(s) + "," + y(s);
    }
    return out;
  }
};

}  // namespace

std::string xml_text(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t size = character_size(text, i);
    std::string_view one = text.substr(i, std::max<std::size_t>(size, 1));
    i += one.size();
    std::string_view code = one;
    if (size == 0 || !may_stand(next_code_point(code)))
      out += replacement;
    else if (one == "&")
      out += "&amp;";
    else if (one == "<")
      out += "&lt;";
    else if (one == ">")
      out += "&gt;";
    else if (one == "\"")
      out += "&quot;";
    else if (one == "'")
      out += "&#39;";
    else
      out += one;
  }
  return out;
}

std::string svg_text(const Drawing& drawing, const SvgSheet& sheet) {
  Writer writer(sheet);
  for (const Primitive& primitive : drawing.primitives)
    std::visit([&](const auto& one) { writer(one); }, primitive);
  return writer.finish();
}

}  // namespace levelrun
