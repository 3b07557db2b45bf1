#include <algorithm>
#include <cmath>

#include "app/pack/pack_pages.h"
#include "app/text_number.h"
#include "checks/tolerance_table.h"
#include "checks/words.h"

namespace levelrun {
namespace {

std::string banded(Unknown value, Unknown sd, char d, int decimals = 1) {
  if (!value) return "?";
  return shown(*value, decimals, d) + (sd ? " ±" + shown(1.96 * *sd, decimals, d) : "");
}

std::string verdict(const std::optional<Verdict>& v) { return v ? std::string(word(*v)) : ""; }

}  // namespace

void wall_pages(Paper& paper, const PackMatter& m, Index r) {
  const RoomResult& result = m.results.rooms[r];
  const char d = m.decimal();
  paper.page(m.room_prefix(r) + "Walls and corners");
  if (result.walls.empty()) return paper.words("No walls were entered.");
  const Room& room = m.survey().rooms[r];
  const Job& job = m.survey().job;
  const ToleranceTable* limits = tolerance_table(job.tolerance_table);
  std::vector<Paper::Row> rows;
  std::string unread;
  for (Index i = 0; i < result.walls.size(); ++i) {
    const WallResult& w = result.walls[i];
    if (room.walls[i].offsets.empty()) {
      unread += (unread.empty() ? "" : ", ") + w.wall;
      continue;
    }
    Paper::Row row{{w.wall, banded(w.lean, w.sd, d), shown(w.bow, 1, d), shown(w.twist, 1, d),
                    shown(w.gap, 1, d), shown(w.scribe, 1, d), verdict(w.verdict)},
                   {},
                   false};
    if (w.worst) {
      const auto limit = flatness_limit(
          limits, room.walls[i].finish.empty() ? LimitOf::wall_finished : LimitOf::wall_unfinished,
          w.worst->method, w.worst->span, job.table_overrides);
      row.lines.push_back(
          "Out of flat " + shown(std::abs(w.worst->deviation), 1, d) +
          (w.worst->deviation < 0 ? " proud" : " hollow") + " over " + shown(w.worst->span, 0, d) +
          " " + w.worst->line + ", limit " + shown_short(w.worst->limit, 1, d) + " by " +
          (w.worst->method == FlatnessMethod::resting_bar ? "resting bar" : "equal offsets") +
          (limit ? " (" + limit->source + ")" : ""));
    }
    if (w.lean_over)
      if (const auto limit = plumb_limit(limits, *w.lean_over, job.table_overrides))
        row.lines.push_back("Lean over " + shown(w.lean_over, 0, d) + ", limit " +
                            shown_short(limit->value, 1, d) + " (" + limit->source + ")");
    for (const RestResult& rest : w.rests)
      if (rest.gap)
        row.lines.push_back("A " + spaced(rest.of) + " rests " + rest.line + ": gap " +
                            shown(rest.gap, 1, d) + ", to scribe " + shown(rest.scribe, 1, d) +
                            (rest.rocks ? ", it rocks" : ""));
    rows.push_back(std::move(row));
  }
  paper.words(
      "Lean over the storey, + leans away from the room; bow + is hollow; twist is lean at the "
      "right "
      "less lean at the left. ?: what was read does not say.");
  if (!rows.empty())
    paper.table({{"Wall", 1, TextAlign::left, true},
                 {"Lean", 2, TextAlign::right},
                 {"Bow", 1, TextAlign::right},
                 {"Twist", 1, TextAlign::right},
                 {"Gap", 1, TextAlign::right},
                 {"Scribe", 1, TextAlign::right},
                 {"Verdict", 1.5f}},
                rows);
  if (!unread.empty()) paper.words("Faces not read: " + unread + ".", {text_em, true});
  std::vector<Paper::Row> corners;
  for (const CornerResult& c : result.corners)
    corners.push_back({{c.id, banded(c.angle, c.sd_angle, d, 2) + (c.assumed ? " assumed" : ""),
                        banded(c.out_of_square, c.sd, d), shown(c.out_of_square_units, 1, d),
                        shown(c.limit, 1, d), shown(c.joint_angle, 2, d), shown(c.mitre, 2, d),
                        verdict(c.verdict)},
                       {},
                       false});
  paper.heading("Corners");
  paper.table({{"Corner", 1, TextAlign::left, true},
               {"Angle °", 2.4f, TextAlign::right},
               {"Out of square, worktop", 1.9f, TextAlign::right},
               {"units", 1, TextAlign::right},
               {"Limit", 1, TextAlign::right},
               {"Joint °", 1.2f, TextAlign::right},
               {"Mitre °", 1.2f, TextAlign::right},
               {"Verdict", 1.5f}},
              corners);
  if (result.corners.empty()) return;
  const ToleranceRow* angle = limits ? limits->row(LimitOf::angle) : nullptr;
  if (angle)
    paper.words("Limits out of square at worktop depth: " + angle->source + ", edition " +
                    angle->edition + (angle->confidence.empty() ? "" : ", " + angle->confidence) +
                    ".",
                {caption_em});
  for (const Job::TableOverride& o : job.table_overrides)
    paper.words("Set aside for this job: row " + o.row + " at " + shown_short(o.span, 1, d) +
                    ", limit " + shown_short(o.limit, 1, d) + ": " + o.reason,
                {caption_em});
}

void fit_pages(Paper& paper, const PackMatter& m, Index r) {
  const RoomResult& result = m.results.rooms[r];
  const char d = m.decimal();
  const std::string& room = m.survey().rooms[r].id;
  if (result.fits.empty() && result.worktops.empty() && result.clearances.empty()) return;
  paper.page(m.room_prefix(r) + "Fits, fillers and scribes");
  std::vector<Paper::Row> rows;
  for (const FitResult& f : result.fits)
    rows.push_back(
        {{f.run, banded(f.clear, f.sd, d), shown(f.units, 1, d), shown(f.left_over, 1, d),
          shown(f.infill_left, 1, d), shown(f.infill_right, 1, d), shown(f.taper, 1, d),
          verdict(f.verdict)},
         f.sum.empty() ? std::vector<std::string>{} : std::vector{with_decimal_sign(f.sum, d)},
         false});
  if (!rows.empty())
    paper.table({{"Run", 1, TextAlign::left, true},
                 {"Clear", 2, TextAlign::right},
                 {"Units", 1.3f, TextAlign::right},
                 {"Left over", 1.3f, TextAlign::right},
                 {"Infill left", 1.3f, TextAlign::right},
                 {"right", 1, TextAlign::right},
                 {"Taper", 1, TextAlign::right},
                 {"Verdict", 1.5f}},
                rows);
  rows.clear();
  for (const Quantities::Panel& p : m.quantities.panels)
    if (p.room == room)
      rows.push_back(
          {{p.kind, p.run + " " + p.place, shown(p.width, 1, d), shown(p.height, 1, d),
            shown(p.order_width, 0, d), shown(p.order_height, 0, d)},
           p.sum.empty() ? std::vector<std::string>{} : std::vector{with_decimal_sign(p.sum, d)},
           false});
  if (!rows.empty()) {
    paper.heading("Fillers and panels, over-length for scribing");
    paper.table({{"Kind", 2},
                 {"Where", 2, TextAlign::left, true},
                 {"Width", 1.3f, TextAlign::right},
                 {"Height", 1.3f, TextAlign::right},
                 {"Order width", 1.5f, TextAlign::right},
                 {"height", 1.3f, TextAlign::right}},
                rows);
  }
  rows.clear();
  for (const WorktopResult& t : result.worktops) {
    std::string joints;
    for (const WorktopJoint& j : t.joints)
      joints += (joints.empty() ? "" : "; ") + j.kind + " joint at " + shown(j.along, 0, d) +
                (j.angle ? ", " + shown(*j.angle, 2, d) + "°" : "") +
                (j.with.empty() ? "" : ", with run " + j.with);
    Paper::Row row{
        {t.run + " " + std::to_string(t.piece), t.material,
         t.by_template ? "by template" : banded(t.length, t.length_sd, d), shown(t.depth, 0, d),
         banded(t.depth_left, t.depth_sd, d), shown(t.scribe, 1, d), verdict(t.verdict)},
        {},
        false};
    if (!joints.empty()) row.lines.push_back(joints);
    if (!t.sum.empty()) row.lines.push_back(with_decimal_sign(t.sum, d));
    rows.push_back(std::move(row));
  }
  if (!rows.empty()) {
    paper.heading("Worktops");
    paper.table({{"Top", 1, TextAlign::left, true},
                 {"Material", 1.5f},
                 {"Length", 2, TextAlign::right},
                 {"Depth", 1, TextAlign::right},
                 {"Depth left", 1.7f, TextAlign::right},
                 {"Scribe", 1, TextAlign::right},
                 {"Verdict", 1.5f}},
                rows);
  }
  rows.clear();
  for (const EndPanelResult& e : result.end_panels)
    rows.push_back(
        {{e.run + " " + e.unit, banded(e.front, e.sd, d), banded(e.back, e.sd, d)},
         e.sum.empty() ? std::vector<std::string>{} : std::vector{with_decimal_sign(e.sum, d)},
         false});
  if (!rows.empty()) {
    paper.heading("End panels to the floor");
    paper.table({{"Panel", 2, TextAlign::left, true},
                 {"Front height", 2, TextAlign::right},
                 {"Back height", 2, TextAlign::right}},
                rows);
  }
  rows.clear();
  for (const ClearanceResult& c : result.clearances)
    rows.push_back(
        {{c.what, banded(c.clear, c.sd, d),
          (c.most ? "at most " : "at least ") + shown_short(c.needed, 1, d), verdict(c.verdict)},
         c.source.empty() ? std::vector<std::string>{} : std::vector{c.source},
         false});
  if (!rows.empty()) {
    paper.heading("Clearances: cautions, never an approval");
    paper.table({{"What", 5}, {"Clear", 2, TextAlign::right}, {"Needed", 2}, {"Verdict", 1.5f}},
                rows);
  }
}

void service_pages(Paper& paper, const PackMatter& m, Index r) {
  const RoomResult& result = m.results.rooms[r];
  const char d = m.decimal();
  if (result.services.empty() && result.run_voids.empty()) return;
  paper.page(m.room_prefix(r) + "Services and voids");
  // Where it comes out, and its height as it was stated.
  const auto place_of = [&](const std::string& id) {
    const Room& room = m.survey().rooms[r];
    for (const Service& s : room.services) {
      if (s.id != id) continue;
      std::string words = s.place.wall
                              ? room.walls[*s.place.wall].id + " " + shown(s.place.along, 0, d)
                              : shown(s.place.x, 0, d) + ", " + shown(s.place.y, 0, d);
      if (!s.height) return words + ", height ?";
      return words + (s.height->setup ? ", line " + shown_change(s.height->value, 0, d)
                                      : ", " + shown(s.height->value, 0, d) + " high");
    }
    return std::string();
  };
  std::vector<Paper::Row> rows;
  for (const ServiceResult& s : result.services) {
    std::string units;
    for (const std::string& u : s.units) units += (units.empty() ? "" : ", ") + u;
    Paper::Row row{
        {s.service, place_of(s.service), s.height_zone, units, banded(s.void_here, s.void_sd, d),
         shown(s.void_needed, 1, d), verdict(s.verdict)},
        {},
        false};
    for (const std::string& clash : s.clashes) row.lines.push_back("Clash: " + clash);
    for (const NotchResult& n : s.notches)
      row.lines.push_back("Notch " + n.unit + ", " + spaced(n.part) + ": " + shown(n.from, 0, d) +
                          " to " + shown(n.to, 0, d) + ", " + shown(n.height_from, 0, d) + " to " +
                          shown(n.height_to, 0, d) + " above the underside, " +
                          shown(n.depth, 0, d) + " deep");
    if (s.fall)
      row.lines.push_back("Fall " + shown(s.fall->available, 1, d) + " mm/m over " +
                          shown(s.fall->length, 0, d) + ", published " +
                          shown(s.fall->least, 0, d) + " to " + shown(s.fall->most, 0, d) + ": " +
                          verdict(s.fall->verdict));
    if (!s.sum.empty()) row.lines.push_back(with_decimal_sign(s.sum, d));
    rows.push_back(std::move(row));
  }
  if (!rows.empty())
    paper.table({{"Service", 1.2f, TextAlign::left, true},
                 {"Where, as surveyed", 2.8f},
                 {"Height zone", 1.8f},
                 {"Units", 1.1f},
                 {"Void here", 1.7f, TextAlign::right},
                 {"Needed", 1.2f, TextAlign::right},
                 {"Verdict", 1.5f}},
                rows);
  rows.clear();
  for (const RunVoidResult& v : result.run_voids)
    rows.push_back(
        {{v.run, shown(v.here, 1, d), banded(v.needed, v.sd, d), v.service, verdict(v.verdict)},
         {},
         false});
  if (!rows.empty()) {
    paper.heading("Void depth per run");
    paper.table({{"Run", 1, TextAlign::left, true},
                 {"As ordered", 1.5f, TextAlign::right},
                 {"Needed", 1.7f, TextAlign::right},
                 {"For", 2},
                 {"Verdict", 1.5f}},
                rows);
  }
  paper.words(
      "Gas, electricity and structure: by a licensed person, to the local code. Hidden pipes and "
      "cables may run elsewhere than drawn: trace them before drilling.",
      {text_em, true});
}

}  // namespace levelrun
