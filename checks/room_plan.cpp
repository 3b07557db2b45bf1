// Question: where are the room's corners, and which measurement does not agree with the others?
// Method: the room's network (room_net.h), tested and if need be with measurements left out
// (room_judgement.h), put into the words and numbers of the results.
#include "checks/room_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "checks/best_check.h"
#include "checks/critical_values.h"
#include "checks/pointer.h"
#include "checks/room_judgement.h"
#include "checks/room_net.h"
#include "checks/slip_search.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// Baarda's smallest detectable error at 0.1 % and 80 % power: 3.291 + 0.842, times sd / sqrt(r).
constexpr double detectable_factor = 4.13;
constexpr double unchecked_error = 30;   // mm; a larger slip must show (common practice, no source)
constexpr double worth_measuring = 0.9;  // of the slip that shows; common practice, no source
constexpr double standing_low = 600, standing_high = 1500;  // mm; read without kneeling or a stool
constexpr double sure_enough = 0.5, worth_asking = 0.1;     // probability of a slip
constexpr std::size_t most_names = 5;                       // in one sentence

double radians(double degrees) { return degrees * std::numbers::pi / 180; }

Unknown number(double value) { return std::isfinite(value) ? Unknown(value) : Unknown(); }

// Cheapest first: a length read standing, another length, a diagonal, an angle.
int cost(const RoomReading& r) {
  switch (r.kind) {
    case RoomReadingKind::length:
      return r.height >= standing_low && r.height <= standing_high && r.out == 0 ? 0 : 1;
    case RoomReadingKind::diagonal:
      return 2;
    default:
      return 3;
  }
}

bool in_degrees(const RoomReading& r) { return r.kind == RoomReadingKind::angle; }

std::string with_unit(const RoomReading& r, double value) {
  return in_degrees(r) ? decimal(value, 2) + "°" : millimetres(value);
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string listed(const std::vector<std::string>& names, const char* last = " and ") {
  std::string out;
  const std::size_t shown = std::min(names.size(), most_names);
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) out += i + 1 == names.size() ? last : ", ";
    out += names[i];
  }
  if (shown < names.size()) out += " and " + std::to_string(names.size() - shown) + " more";
  return out;
}

// Coordinates relative to the first corner; clockwise is positive.
double area_mm2(const std::vector<PlanPoint>& corners) {
  double twice = 0;
  const PlanPoint o = corners[0];
  for (std::size_t i = 1; i + 1 < corners.size(); ++i)
    twice += (corners[i + 1].x - o.x) * (corners[i].y - o.y) -
             (corners[i].x - o.x) * (corners[i + 1].y - o.y);
  return twice / 2;
}

// Fills one room's plan from its solved and judged network.
class PlanWriter {
 public:
  PlanWriter(const Survey& survey, Index room_index, RoomPlan& plan)
      : survey_(survey), room_(survey.rooms[room_index]), room_index_(room_index), plan_(plan) {}

  void cannot(std::string says, std::string remedy) {
    plan_.known = false;
    plan_.corners.clear();
    plan_.walls.clear();
    Finding f = finding("plan cannot be computed", Severity::hold, pointer(room_index_));
    f.says = std::move(says);
    f.remedy = std::move(remedy);
    plan_.findings.push_back(std::move(f));
  }

  void unmeasured(const RoomNet& net) {
    for (Index side = 0; side < room_.corners.size(); ++side)
      if (!net.side_measured(side)) plan_.missing.push_back("length of " + side_name(net, side));
    if (plan_.missing.empty()) plan_.missing.push_back("a diagonal");
    cannot("The plan cannot be worked out without the " + listed(plan_.missing) + ".",
           "Measure the " + listed(plan_.missing) + ".");
  }

  void readings_as_booked(const RoomNet& net) {
    for (const RoomReading& r : net.readings())
      plan_.observations.push_back({r.at, r.measured, {}, {}, {}, {}, {}, Agreement::unchecked});
  }

  void write(const RoomNet& net, const RoomJudgement& judged) {
    const PlanAdjustment& a = net.plan();
    PlanResult& summary = plan_.summary;
    summary.dof = a.dof();
    if (a.dof() > 0) summary.sigma0 = number(a.sigma0());
    summary.scaled = judged.test == GlobalTest::fail && a.sigma0() > 1;
    const double scale = summary.scaled ? a.sigma0() : 1;
    summary.area = number(area_mm2(plan_.corners) / 1e6);
    write_walls(a, scale);
    write_corners(net, scale);
    write_readings(net);
  }

  void write_findings(const RoomNet& net, const RoomJudgement& judged, bool solved) {
    for (Index i : judged.rejected) plan_.observations[i].verdict = Agreement::rejected;
    for (Index i : judged.one_of) plan_.observations[i].verdict = Agreement::one_of;
    if (solved)
      for (Index i : judged.rejected) rejected(net, judged, i);
    if (!judged.one_of.empty())
      one_of(net, judged, solved);
    else if (judged.test == GlobalTest::fail && solved)
      failed(net, judged);
    if (!solved) return;
    not_as_noted();
    not_checked(net);
  }

  // Which slips would explain it. Last, for it leaves the net solved with something left out.
  // suspects: of one slip, if they have been sought.
  void slips(RoomNet& net, const RoomJudgement& judged, std::vector<SlipSuspect> suspects) {
    if (suspects.empty() && judged.rejected.size() > 1) {
      // Several slips: each is sought with the other rejected ones left out.
      for (const Index i : judged.rejected) {
        std::vector<char> used = judged.used;
        used[i] = 1;
        const std::vector<LeftOut> left_out = net.each_left_out(used, {&i, 1});
        std::vector<SlipSuspect> of_one = slip_suspects(net, used, {&i, 1}, left_out);
        for (SlipSuspect& s : of_one) suspects.push_back(std::move(s));
      }
    }
    // What the others do not agree to either explains nothing.
    for (const SlipSuspect& s : suspects)
      if (s.fits) plan_.summary.suspects.push_back(s.suspect);
    if (suspects.empty()) return;

    const SlipSuspect& first = suspects.front();
    const RoomReading& reading = net.readings()[first.reading];
    const std::string odds = decimal(100 * first.suspect.probability, 0) + " %";
    const bool sure = first.suspect.probability >= sure_enough;
    const bool any = std::any_of(suspects.begin(), suspects.end(),
                                 [](const SlipSuspect& s) { return s.fits && s.closes; });
    std::string says = " Several slips would explain it, none for sure.";
    if (!any)
      says = " No usual slip explains it.";
    else if (sure && first.fits && first.closes)
      says = " Likeliest: " + reading.name + " is " + millimetres(first.suspect.value) + ", " +
             first.suspect.kind + " (" + odds + ").";
    for (Finding& f : plan_.findings)
      if (f.code == "wall lengths do not close" &&
          (!sure || !any || !first.together.empty() || f.at == reading.at ||
           f.at == pointer(room_index_) || plan_.summary.one_of)) {
        f.says += says;
        break;
      }
    // The cheapest reading that would tell the likely ones apart.
    const SlipSuspect* ask = &first;
    for (const SlipSuspect& s : suspects)
      if (s.suspect.probability >= worth_asking &&
          cost(net.readings()[s.reading]) < cost(net.readings()[ask->reading]))
        ask = &s;
    plan_.summary.measure_next.push_back(
        {net.readings()[ask->reading].name,
         sure ? "to confirm the slip" : "the cheapest that tells the likely slips apart"});
  }

 private:
  Finding finding(const char* code, Severity severity, std::string at, std::string id = {}) const {
    Finding f;
    f.id = std::move(id);
    f.code = code;
    f.severity = severity;
    f.room = room_.id;
    f.at = std::move(at);
    return f;
  }

  std::string side_name(const RoomNet& net, Index side) const {
    if (const auto wall = net.wall_of_side()[side]) return room_.walls[*wall].id;
    return room_.corners[side].id + " to " + room_.corners[(side + 1) % room_.corners.size()].id;
  }

  void write_walls(const PlanAdjustment& a, double scale) {
    for (const Wall& w : room_.walls) {
      WallLine line{plan_.corners[w.from], plan_.corners[w.to], {}, {}, 0, 0};
      const double dx = line.to.x - line.from.x, dy = line.to.y - line.from.y;
      line.length = std::hypot(dx, dy);
      NetObservation length;
      length.from = w.from;
      length.to = w.to;
      line.length_sd = scale * a.predict(length).sd;
      line.along = {dx / line.length, dy / line.length};
      line.out = {line.along.y, -line.along.x};  // clockwise: the room is on the right
      plan_.walls.push_back(line);
    }
  }

  void write_corners(const RoomNet& net, double scale) {
    const PlanAdjustment& a = net.plan();
    const double depth = survey_.furniture.worktop.depth;
    for (Index c = 0; c < room_.corners.size(); ++c) {
      CornerResult& out = plan_.corner_results[c];
      const Estimate angle = a.predict(net.interior_angle(c));
      out.x = number(plan_.corners[c].x);
      out.y = number(plan_.corners[c].y);
      out.sd_x = number(a.sd_x(c) * scale);
      out.sd_y = number(a.sd_y(c) * scale);
      out.angle = number(angle.value);
      out.sd_angle = number(angle.sd * scale);
      out.assumed = net.assumed(c);
      const double off = angle.value - room_.corners[c].angle;
      if (std::abs(off) >= 89) continue;  // not the corner that was described
      const double cosine = std::cos(radians(off));
      out.out_of_square = number(depth * std::tan(radians(off)));
      out.sd = number(depth * radians(angle.sd * scale) / (cosine * cosine));
    }
  }

  double side_length(Index side) const {
    const PlanPoint a = plan_.corners[side], b = plan_.corners[(side + 1) % plan_.corners.size()];
    return std::hypot(b.x - a.x, b.y - a.y);
  }

  // A slip of that size in mm at the end of the shorter wall of its corner, for angles.
  double as_length(const RoomNet& net, Index i, double size) const {
    const RoomReading& r = net.readings()[i];
    if (r.from != r.to) return size;
    const Index n = plan_.corners.size();
    const double shorter = std::min(side_length(r.from), side_length((r.from + n - 1) % n));
    if (in_degrees(r)) return shorter * radians(size);
    const NetObservation& o = net.plan().net().observations[i];
    const double angle = radians(net.plan().predict(net.interior_angle(r.from)).value);
    return shorter * size * r.measured /
           std::max(std::abs(o.leg_from * o.leg_to * std::sin(angle)), 1e-9);
  }

  void write_readings(const RoomNet& net) {
    const PlanAdjustment& a = net.plan();
    for (Index i = 0; i < net.readings().size(); ++i) {
      ObservationResult& out = plan_.observations[i];
      const double r = a.redundancy(i);
      out.adjusted = number(out.measured + a.residual(i));
      out.residual = number(a.residual(i));
      out.redundancy = number(r);
      out.verdict = Agreement::agrees;
      if (r < PlanAdjustment::unchecked) {
        out.verdict = Agreement::unchecked;
        continue;
      }
      const double detectable = detectable_factor * net.readings()[i].sd / std::sqrt(r);
      out.standardised = number(a.standardised(i));
      out.detectable = number(detectable);
      if (as_length(net, i, detectable) > unchecked_error) out.verdict = Agreement::unchecked;
    }
  }

  const char* snooping_source() const {
    return "largest of all residuals, 0.5 % false alarms (Baarda 1968, Sidak 1967)";
  }

  void rejected(const RoomNet& net, const RoomJudgement& judged, Index i) {
    const RoomReading& r = net.readings()[i];
    const NetObservation& o = net.plan().net().observations[i];
    const Estimate others = net.plan().predict(o);
    Finding f = finding("wall lengths do not close", Severity::query, r.at, r.id);
    f.measured = number(std::abs(r.measured - others.value));
    f.limit = number(judged.limit * std::hypot(r.sd, others.sd));
    f.unit = in_degrees(r) ? "degrees" : "mm";
    f.source = snooping_source();
    f.says = capital(r.name) + " reads " + with_unit(r, r.measured) + "; the others say " +
             with_unit(r, others.value) + " ± " + with_unit(r, band95 * others.sd) +
             ". It is left out.";
    f.remedy = "Measure it again.";
    plan_.findings.push_back(std::move(f));
  }

  void one_of(const RoomNet& net, const RoomJudgement& judged, bool solved) {
    OneOf set;
    std::vector<std::string> names;
    Index ask = judged.one_of.front();
    for (Index i : judged.one_of) {
      set.set.push_back(net.readings()[i].at);
      names.push_back(net.readings()[i].name);
      if (cost(net.readings()[i]) < cost(net.readings()[ask])) ask = i;
    }
    set.ask = net.readings()[ask].name;
    const RoomReading& first = net.readings()[judged.one_of.front()];
    Finding f =
        finding("wall lengths do not close", Severity::query, first.at, "one of/" + first.id);
    f.says = "One of these is wrong, and the rest cannot say which: " + listed(names, " or ") + ".";
    f.remedy = "Measure the " + set.ask + " again" +
               (net.assumed() ? ", and a diagonal: the corners' angles are assumed." : ".");
    if (solved) {  // the error it would have to hold, against what would have shown
      const double share = net.plan().redundancy(judged.one_of.front());
      f.measured = number(std::abs(net.plan().residual(judged.one_of.front())) / share);
      f.limit = number(judged.limit * first.sd / std::sqrt(share));
      f.unit = in_degrees(first) ? "degrees" : "mm";
      f.source = snooping_source();
    }
    plan_.findings.push_back(std::move(f));
    plan_.summary.one_of = std::move(set);
  }

  void failed(const RoomNet& net, const RoomJudgement& judged) {
    const PlanAdjustment& a = net.plan();
    Finding f = finding("wall lengths do not close", Severity::hold, pointer(room_index_));
    const Agreements now = agreements(net, judged.used);
    if (now.too_large) {
      f.measured = number(a.sigma0());
      f.limit = number(std::sqrt(chi_square_quantile(1 - global_alpha, a.dof()) / a.dof()));
      f.source = "chi-square test of all residuals at 0.1 % (common practice, no source)";
      f.says = "The measurements disagree " + decimal(a.sigma0()) +
               " times more than their sd, and leaving out up to three does not mend it.";
    } else {
      f.measured = number(std::abs(a.standardised(now.worst)));
      f.limit = number(now.limit);
      f.source = snooping_source();
      f.says = "What the others say of the " + net.readings()[now.worst].name + " is " +
               decimal(std::abs(a.standardised(now.worst))) + " times its sd off.";
    }
    f.remedy = net.assumed() ? "Measure both diagonals; corners taken as square may not be."
                             : "Measure the walls again, longest first.";
    if (judged.accused) {
      const RoomReading& r = net.readings()[*judged.accused];
      f.at = r.at;
      f.id = r.id;
      f.says += " Worst: " + r.name + ".";
      f.remedy = "Measure the " + r.name + " again, then the walls next to it.";
    }
    plan_.findings.push_back(std::move(f));
  }

  // A slip in a length that nothing checks bends its corner, and this is all that shows it.
  void not_as_noted() {
    for (Index c = 0; c < room_.corners.size(); ++c) {
      const Unknown angle = plan_.corner_results[c].angle;
      const double noted = room_.corners[c].angle;
      if (!angle || std::abs(*angle - noted) <= RoomNet::not_that_corner) continue;
      Finding f = finding("corner not as noted", Severity::query,
                          pointer(room_index_, "corners", c), room_.corners[c].id);
      f.measured = number(std::abs(*angle - noted));
      f.limit = RoomNet::not_that_corner;
      f.unit = "degrees";
      f.source = "common practice, no source";
      f.says = "Corner " + room_.corners[c].id + " comes out at " + decimal(*angle) +
               "°; it is noted as " + millimetres(noted) + "°.";
      f.remedy = "Measure its two walls again, and note the corner's angle if it is so.";
      plan_.findings.push_back(std::move(f));
    }
  }

  void not_checked(const RoomNet& net) {
    std::vector<std::string> names;
    std::vector<ToCheck> unchecked;
    double shows = 0;  // mm: the slip that shows in all of them as it is
    for (Index i = 0; i < net.readings().size(); ++i)
      if (const ObservationResult& o = plan_.observations[i]; o.verdict == Agreement::unchecked) {
        names.push_back(net.readings()[i].name);
        unchecked.push_back({i, as_length(net, i, 1)});
        shows = std::max(shows, o.detectable ? as_length(net, i, *o.detectable)
                                             : std::numeric_limits<double>::infinity());
      }
    if (names.empty()) return;
    Finding f = finding("measurement unchecked", Severity::note, pointer(room_index_));
    f.limit = unchecked_error;
    f.unit = "mm";
    f.source = "common practice, no source";
    f.says = "A slip of " + millimetres(unchecked_error) + " mm would not show in the " +
             listed(names, " or ") + ".";
    if (std::isfinite(shows)) f.measured = number(shows);
    const auto best = best_check(net, unchecked);
    if (best && best->detectable < worth_measuring * shows) {
      const std::string what =
          "diagonal " + room_.corners[best->from].id + " to " + room_.corners[best->to].id;
      f.remedy = "Measure the " + what + ": then a slip of " + decimal(best->detectable, 0) +
                 " mm would show.";
      plan_.summary.measure_next.push_back({what, f.says, number(shows), best->detectable});
    } else {
      // What shows already is as coarse as the reading itself: others cannot help it.
      f.remedy = std::isfinite(shows)
                     ? "Take it again with a finer instrument, a triangle with longer sides."
                     : "Take it again.";
    }
    plan_.findings.push_back(std::move(f));
  }

  const Survey& survey_;
  const Room& room_;
  Index room_index_;
  RoomPlan& plan_;
};

// One wall misbooked alike at all its heights may explain the room better than the readings that
// were left out, if any. If it is likelier than not and the room then agrees, its lengths are what
// is rejected. Returns the suspects of one slip; none if several are to be sought.
std::vector<SlipSuspect> explain_by_one_wall(RoomNet& net, RoomJudgement& judged, NetState& state) {
  const bool several = judged.rejected.size() > 1;
  if (judged.rejected.empty() && judged.test != GlobalTest::fail) return {};
  std::vector<SlipSuspect> suspects =
      slip_suspects(net, net.all_used(), judged.suspects, judged.left_out);
  if (!suspects.empty() && !suspects.front().together.empty() && suspects.front().closes) {
    const SlipSuspect& first = suspects.front();
    double probability = 0;
    for (const SlipSuspect& s : suspects)
      if (s.together == first.together) probability += s.suspect.probability;
    std::vector<char> used = net.all_used();
    for (const Index i : first.together) used[i] = 0;
    if (probability >= sure_enough && net.solve(used) == NetState::solved &&
        net.plan().dof() >= int(first.together.size()) && !agreements(net, used).fires()) {
      judged.used = std::move(used);
      judged.rejected = first.together;
      std::sort(judged.rejected.begin(), judged.rejected.end());
      judged.one_of.clear();
      judged.accused.reset();
      judged.test = GlobalTest::cured;
      state = NetState::solved;
      return suspects;
    }
  }
  state = net.solve(judged.used);
  if (several) suspects.clear();
  return suspects;
}

}  // namespace

std::optional<PlanPoint> RoomPlan::at(const Place& place) const {
  if (!place.wall) return PlanPoint{place.x, place.y};
  if (!known || *place.wall >= walls.size()) return std::nullopt;
  const WallLine& w = walls[*place.wall];
  return PlanPoint{w.from.x + place.along * w.along.x + place.out * w.out.x,
                   w.from.y + place.along * w.along.y + place.out * w.out.y};
}

RoomPlan adjust_room(const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  RoomPlan plan;
  for (const Corner& c : room.corners) {
    plan.corner_results.emplace_back();
    plan.corner_results.back().id = c.id;
  }
  PlanWriter writer(survey, room_index, plan);
  if (room.corners.empty()) return plan;  // levels only: nothing to say about a plan
  if (!RoomNet::usable(room)) {
    writer.cannot("The corners and walls do not go round a room.",
                  "Enter each corner, clockwise seen from above, and the wall between each two.");
    return plan;
  }
  RoomNet net(survey, room_index);
  writer.readings_as_booked(net);
  RoomJudgement judged;
  NetState state = judge_room(net, judged);
  if (state == NetState::undetermined) {
    writer.unmeasured(net);
    return plan;
  }
  std::vector<SlipSuspect> one_slip = explain_by_one_wall(net, judged, state);
  const bool solved = state == NetState::solved;
  plan.summary.global_test = judged.test;
  if (solved)
    for (const NetPoint& p : net.plan().points()) plan.corners.push_back({p.x, p.y});
  // A minimum of any kind can be found; one that fails and is bent out of shape is no plan.
  const bool bent = judged.test == GlobalTest::fail && !net.like_described();
  plan.known = solved && !bent && makes_a_room(net.plan().points());
  if (plan.known) writer.write(net, judged);
  if (!plan.known)
    writer.cannot(solved && !bent
                      ? "The measurements make a plan whose walls cross."
                      : "The measurements contradict each other so far that no plan fits them.",
                  "Check the order of the corners and their nominal angles, and measure the walls "
                  "again.");
  writer.write_findings(net, judged, plan.known);
  if (!judged.rejected.empty() || judged.test == GlobalTest::fail)
    writer.slips(net, judged, std::move(one_slip));
  return plan;
}

}  // namespace levelrun
