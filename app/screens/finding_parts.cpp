#include "app/screens/finding_parts.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/text_number.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

constexpr float vial_w = 48, vial_h = 20;

bool needs_a_person(const FindingRow& row) {
  return !row.finding.answered && row.finding.severity != Severity::note;
}

// Where a thing stands that the plan does not draw as a fact of its own.
std::optional<PlanPoint> spot_of(const Session& session, const RoomToDraw& drawn,
                                 const std::string& at) {
  const Room& room = session.survey().rooms[drawn.room];
  for (Index c = 0; c < drawn.corners.size(); ++c)
    if (at == pointer(drawn.room, "corners", c)) return drawn.corners[c];
  for (Index i = 0; i < room.services.size(); ++i) {
    const std::string one = pointer(drawn.room, "services", i);
    if (at != one && !at.starts_with(one + "/")) continue;
    const Place& place = room.services[i].place;
    if (!place.wall) return PlanPoint{place.x, place.y};
    if (*place.wall >= drawn.walls.size()) return std::nullopt;
    const WallLine& wall = drawn.walls[*place.wall];
    return PlanPoint{wall.from.x + wall.along.x * place.along + wall.out.x * place.out,
                     wall.from.y + wall.along.y * place.along + wall.out.y * place.out};
  }
  return std::nullopt;
}

}  // namespace

Box Flow::take(float high) {
  const Box piece{box_.x, y_, box_.w, high};
  y_ += high;
  return piece;
}

void Flow::paragraph(const std::string& text, Pen pen) {
  if (text.empty()) return;
  const Box piece = take(s.paragraph_height(box_.w, text, pen));
  if (draw_) s.paragraph(piece, text, pen);
}

void Flow::rule(Ink ink, float width) {
  const Box piece = take(width);
  if (draw_) s.rule_under(piece, ink, width);
}

void Flow::pair(const std::string& left, Pen left_pen, const std::string& right, Pen right_pen) {
  right_pen.align = Align::right;
  const float wide = right.empty() ? 0 : s.width(right, right_pen.size, right_pen.bold) + 2;
  const float room = box_.w - wide - 12;
  if (right.empty() || s.width(left, left_pen.size, left_pen.bold) <= room ||
      (wide < box_.w * 0.4f &&
       s.paragraph_height(room, left, left_pen) <= 2.1f * s.row(left_pen.size))) {
    const float high = std::max(s.paragraph_height(room, left, left_pen), s.row(right_pen.size));
    const Box piece = take(high);
    if (!draw_) return;
    s.paragraph({piece.x, piece.y, right.empty() ? box_.w : room, high}, left, left_pen);
    s.text({piece.right() - wide, piece.y, wide, s.row(right_pen.size)}, right, right_pen);
    return;
  }
  paragraph(left, left_pen);
  paragraph(right, right_pen);
}

Ink soft_ink(const Sheet& s) { return s.look.inks == InkSet::sun ? Ink::ink : Ink::soft; }

Vial vial_of(const Judged& j) { return {j.verdict, j.value, j.sd, j.least, j.most}; }

void flow_counts(Flow& f, const FindingCounts& n) {
  struct Part {
    Severity severity;
    bool answered;
    std::string words;
  };
  std::vector<Part> parts;
  if (n.holds > 0) parts.push_back({Severity::hold, false, count_of(n.holds, "hold")});
  if (n.queries > 0) parts.push_back({Severity::query, false, count_of_queries(n.queries)});
  if (n.answered > 0)
    parts.push_back({Severity::query, true, std::to_string(n.answered) + " answered"});
  if (n.notes + n.cautions > 0)
    parts.push_back({Severity::note, false, count_of(n.notes + n.cautions, "note")});
  if (parts.empty()) return f.paragraph("Nothing found.", {TextSize::body, Ink::ink, true});
  const float high = std::max(f.s.row(), mark_side) + 4;
  Box line = f.take(high);
  float x = line.x;
  for (const Part& part : parts) {
    const float wide = f.s.width(part.words, TextSize::body, true);
    if (x > line.x && x + mark_side + 8 + wide > line.right()) {
      line = f.take(high);
      x = line.x;
    }
    if (f.draws()) {
      severity_mark(f.s, {x, line.y + (high - mark_side) / 2}, part.severity, part.answered);
      f.s.text({x + mark_side + 8, line.y, wide + 1, high}, part.words,
               {TextSize::body, Ink::ink, true});
    }
    x += mark_side + 8 + wide + (f.s.narrow() ? 16 : 26);
  }
}

void flow_sum(Flow& f, const std::string& sum, const std::vector<std::string>& captions,
              bool crayon) {
  if (sum.empty()) return;
  Sheet& s = f.s;
  const std::vector<SumTerm> terms = sum_terms(sum, captions);
  if (terms.empty()) {
    const bool fits = s.width(sum, TextSize::title) <= f.w();
    return f.paragraph(sum, {fits ? TextSize::title : TextSize::body});
  }
  const float high = s.row(TextSize::title) + s.row(TextSize::caption) + 6;
  Box line = f.take(high);
  float x = line.x;
  for (std::size_t i = 0; i < terms.size(); ++i) {
    const SumTerm& term = terms[i];
    const bool last = i + 1 == terms.size();
    const float sign = term.sign.empty() ? 0 : s.width(term.sign, TextSize::title) + 22;
    const float wide = std::max(s.width(term.number, TextSize::title, last),
                                s.width(term.caption, TextSize::caption)) +
                       1;
    if (x > line.x && x + sign + wide > line.right()) {
      line = f.take(high);
      x = line.x;
    }
    if (f.draws()) {
      const float top = s.row(TextSize::title);
      const Ink ink = last ? (crayon ? Ink::crayon : Ink::ink) : i == 0 ? Ink::blue : Ink::ink;
      if (sign > 0)
        s.text({x, line.y, sign - 11, top}, term.sign,
               {TextSize::title, Ink::ink, false, Align::centre});
      s.text({x + sign, line.y, wide, top}, term.number, {TextSize::title, ink, last});
      s.text({x + sign, line.y + top, wide, s.row(TextSize::caption)}, term.caption,
             {TextSize::caption, soft_ink(s)});
    }
    x += sign + wide + 11;
  }
}

ListLine line_of(const FindingRow& row) {
  ListLine line;
  line.finding = &row;
  line.title = row.title;
  line.number = figures_in_words(row.finding, row.number, row.number.empty() ? "" : row.limit);
  line.words = row.what;
  if (!row.answered_by.empty()) {
    const std::string day = row.answered_at.substr(0, 10);
    line.words = row.answer + ". " + row.answered_by + (day.empty() ? "" : ", " + day);
  }
  line.judged = &row.judged;
  return line;
}

void flow_line(Flow& f, const ListLine& line) {
  Sheet& s = f.s;
  const bool mark = line.finding != nullptr;
  const bool vialed = line.judged && line.judged->has_value();
  const float indent = mark ? mark_column : 0;
  const Ink ink = vialed && (*line.judged)->verdict != Verdict::within ? Ink::crayon : Ink::ink;
  const Pen title{TextSize::body, Ink::ink, line.bold},
      number{TextSize::body, ink, true, Align::right};
  const float number_w = line.number.empty() ? 0 : s.width(line.number, TextSize::body, true) + 2;
  const float right = number_w + (vialed ? vial_w + 14 : 0);
  const float room = f.w() - indent, high = std::max(s.row(), vial_h + 2);
  const float beside = room - right - (right > 0 ? 12 : 0);
  // Figures in words that are wider than the line go over several.
  const bool wide = number_w > room - (vialed ? vial_w + 14 : 0);
  const auto draw_right = [&](Box b) {
    if (!f.draws()) return;
    if (vialed)
      vial(s, {b.right() - vial_w, b.y + (high - vial_h) / 2, vial_w, vial_h},
           vial_of(**line.judged));
    s.text({b.x, b.y, b.w - (vialed ? vial_w + 14 : 0), high}, line.number, number);
  };
  const auto draw_words = [&](Box b, const std::string& text, Pen pen) {
    if (f.draws()) s.paragraph(b, text, pen);
  };
  // Does it all fit on the title's line? Else the number goes beside or below the words.
  const bool first = s.width(line.title, TextSize::body, line.bold) <= beside;
  const float title_h = first ? high : s.paragraph_height(room, line.title, title);
  Box top = f.take(title_h);
  if (mark && f.draws())
    severity_mark(s, {top.x, top.y + (std::min(high, title_h) - mark_side) / 2},
                  line.finding->finding.severity, line.finding->finding.answered);
  top.take_left(indent);
  if (first) {
    if (f.draws()) s.text({top.x, top.y, beside, high}, line.title, title);
    draw_right(top);
  } else {
    draw_words(top, line.title, title);
  }
  const Pen words{TextSize::body, Ink::ink};
  const bool second = !first && right > 0 && s.width(line.words, TextSize::body) <= beside;
  if (second) {
    Box b = f.take(high);
    b.take_left(indent);
    if (f.draws()) s.text({b.x, b.y, beside, high}, line.words, words);
    draw_right(b);
    return;
  }
  if (!line.words.empty()) {
    Box b = f.take(s.paragraph_height(room, line.words, words));
    b.take_left(indent);
    draw_words(b, line.words, words);
  }
  if (first || right <= 0) return;
  if (!wide) return draw_right(f.take(high));
  const Pen left{TextSize::body, ink, true};
  Box b = f.take(s.paragraph_height(room, line.number, left));
  b.take_left(indent);
  draw_words(b, line.number, left);
  if (!vialed) return;
  b = f.take(high);
  b.take_left(indent);
  if (f.draws()) vial(s, {b.x, b.y + (high - vial_h) / 2, vial_w, vial_h}, vial_of(**line.judged));
}

void flow_words(Flow& f, const FindingRow& row) {
  f.paragraph(row.says);
  // Where the ways out are listed, a remedy that only names them is left out.
  const bool listed = !row.ways_out.empty() && (row.finding.remedy.starts_with("Ways out") ||
                                                row.finding.remedy.starts_with("See the ways"));
  if (!row.finding.remedy.empty() && !row.finding.answered && !listed)
    f.paragraph("→ " + sentence(row.finding.remedy));
  if (!row.finding.source.empty())
    f.paragraph("Limit: " + row.finding.source, {TextSize::caption, soft_ink(f.s)});
  if (row.finding.safety && row.finding.severity == Severity::hold)
    f.paragraph("A matter of safety: no answer lets it pass.", {TextSize::body, Ink::crayon, true});
}

void flow_limit(Flow& f, const FindingRow& row, char decimal) {
  const auto figure = [&](const std::string& caption, const std::string& number, Ink ink) {
    const Pen right{TextSize::body, ink, true};
    Flow narrow(f.s, {f.take(0).x, f.y(), std::min(f.w(), f.s.grown(340)), 0}, f.draws());
    narrow.pair(caption, {}, number, right);
    f.gap(narrow.height() + 4);
  };
  if (row.limit_words && !row.limit.empty()) figure(*row.limit_words, row.limit, Ink::ink);
  if (row.too_much && row.finding.unit == "mm" && row.judged)
    figure(*row.too_much > 0 ? "Too much by" : "Short by",
           shown(std::abs(*row.too_much), 1, decimal), Ink::crayon);
}

void flow_ways_out(Flow& f, const FindingRow& row, char decimal) {
  if (row.ways_out.empty() || !needs_a_person(row)) return;
  f.paragraph("Ways out, each computed:");
  f.gap(4);
  for (std::size_t i = 0; i < row.ways_out.size(); ++i) {
    if (i > 0) f.rule(soft_ink(f.s));
    f.gap(8);
    const WayOut& way = row.ways_out[i];
    std::optional<Judged> judged;
    ListLine line{nullptr, capital(way.what), {}, way.sum, &judged, false};
    if (way.tightest) {
      const Tightest& t = *way.tightest;
      judged = Judged{t.verdict, t.value, t.sd, t.least, t.most};
      line.number = shown(t.value, 1, decimal);
      line.words += "; " + t.of;
    }
    flow_line(f, line);
    f.gap(8);
  }
}

std::string draw_place(Sheet& s, Box box, Session& session, ViewMoves& moves,
                       const PlaceInPlan& place, bool dimensions) {
  if (session.survey().rooms.empty() || box.empty()) return {};
  const RoomToDraw& drawn = session.drawn();
  const float text = s.fonts.text_scale();
  // Names of corners stand outside the room.
  DrawingView fitted = plan_view(drawn, box.inset(dimensions ? 4 : 14 * text), dimensions, text);
  fitted.box = box;
  const DrawingView view = moved_view(s, "plan", fitted, moves);
  PlanOptions options;
  options.contours = options.units_fixed = true;
  options.dimensions = dimensions;
  options.decimal = session.survey().job.decimal;
  const bool here = place.at.starts_with(pointer(drawn.room) + "/");
  if (here) options.chosen = fact_in_plan(session.document(), session.survey(), place.at);
  options.points = options.chosen.find("/levels/points/") != options.chosen.npos;
  s.push_clip(box);
  const Drawing drawing =
      plan_drawing(session.survey(), drawn, session.room_result(), view, options, text);
  show_drawing(s, drawing);
  // Once more on top: the neighbours' outlines share its sides.
  Drawing chosen;
  for (const Primitive& p : drawing.primitives)
    if (const auto* stroke = std::get_if<Stroke>(&p); stroke && stroke->ink == Ink::crayon)
      chosen.primitives.push_back(p);
  show_drawing(s, chosen);
  std::optional<PlanPoint> dot;
  if (here && place.x && place.y)
    dot = PlanPoint{*place.x, *place.y};
  else if (here)
    dot = spot_of(session, drawn, place.at);
  if (dot) {
    const Spot at = view.at(dot->x, dot->y);
    s.list.AddCircleFilled({at.x, at.y}, 7, s.colour(Ink::crayon));
    if (!place.number.empty()) {
      const float wide = s.width(place.number, TextSize::body, true), high = s.row();
      // Out of the way of what stands there: to the side with more room.
      const bool right = at.x > box.middle().x ? at.x + 22 + wide < box.right() : true;
      const float end = at.x + (right ? 20.f : -20.f);
      s.line(at, {end, at.y}, Ink::crayon, 1);
      const Box label{right ? end + 2 : end - wide - 6, at.y - high / 2, wide + 4, high};
      s.fill(label, Ink::sheet);
      s.text(label.inset(2, 0), place.number, {TextSize::body, Ink::crayon, true});
    }
  }
  if (!s.narrow()) scale_bar(s, box, view.scale);
  s.pop_clip();
  return tapped_fact(s, "plan", drawing);
}

}  // namespace levelrun
