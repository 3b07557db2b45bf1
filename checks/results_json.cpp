#include "checks/results_json.h"

#include "checks/group_bounds.h"
#include "checks/install_json.h"
#include "checks/json_fields.h"

namespace levelrun {
namespace {

std::string_view word(GlobalTest t) {
  constexpr std::string_view words[] = {"pass", "fail", "cured"};
  return words[int(t)];
}
std::string_view word(TopCut c) {
  constexpr std::string_view words[] = {"none", "parallel", "taper"};
  return words[int(c)];
}
std::string_view word(BottomCut c) { return c == BottomCut::none ? "none" : "scribe"; }
std::string_view word(FlatnessMethod m) {
  return m == FlatnessMethod::resting_bar ? "resting_bar" : "equal_offsets";
}
std::string_view word(Severity s) {
  constexpr std::string_view words[] = {"hold", "query", "note"};
  return words[int(s)];
}

class Writer : private JsonFields {
 public:
  explicit Writer(JsonText& text) : JsonFields(text) {}

  void write(const Results& results) {
    j.begin_object();
    text("format", "levelrun-results");
    integer("version", 1);
    j.key("survey").begin_object();
    text("reference", results.reference);
    integer("revision", results.revision);
    j.end_object();
    list("rooms", results.rooms);
    list("findings", results.findings);
    j.key("manufacture").begin_object();
    boolean("open", results.manufacture.open);
    integer("holds", results.manufacture.holds);
    integer("queries_open", results.manufacture.queries_open);
    texts("may_cut", results.manufacture.may_cut);
    j.end_object();
    if (results.install) {
      j.key("install");
      write_install(j, *results.install);
    }
    j.end_object();
  }

 private:
  void test(const std::optional<GlobalTest>& value) {
    text_or_null("global_test", value ? std::optional(word(*value)) : std::nullopt);
  }
  template <class T>
  void list(const char* name, const std::vector<T>& items) {
    JsonFields::list(name, items, [this](const T& item) { fields(item); });
  }

  void fields(const RoomResult& room) {
    text("id", room.id);
    list("corners", room.corners);
    list("observations", room.observations);
    j.key("plan").begin_object();
    fields(room.plan);
    j.end_object();
    list("levels", room.levels);
    j.key("level_net").begin_object();
    integer("dof", room.level_net.dof);
    number("sigma0", room.level_net.sigma0);
    test(room.level_net.global_test);
    j.end_object();
    list("level_readings", room.level_readings);
    list("floor", room.floor);
    list("groups", room.groups);
    list("legs", room.legs);
    list("plinths", room.plinths);
    list("boards", room.boards);
    integer("boards_bound", room.boards_bound);
    if (!room.end_panels.empty()) list("end_panels", room.end_panels);
    list("walls", room.walls);
    list("fits", room.fits);
    if (!room.worktops.empty()) list("worktops", room.worktops);
    list("clearances", room.clearances);
    list("services", room.services);
    if (!room.run_voids.empty()) list("run_voids", room.run_voids);
    list("missing", room.missing);
    j.key("next_minute").begin_object();
    list("measure", room.next_minute.measure);
    boolean("stop", room.next_minute.stop);
    text("says", room.next_minute.says);
    j.end_object();
  }
  void fields(const CornerResult& corner) {
    text("id", corner.id);
    number("x", corner.x);
    number("y", corner.y);
    number("sd_x", corner.sd_x);
    number("sd_y", corner.sd_y);
    number("angle", corner.angle);
    number("sd_angle", corner.sd_angle);
    boolean("assumed", corner.assumed);
    number("out_of_square", corner.out_of_square);
    number("sd", corner.sd);
    number("limit", corner.limit);
    verdict(corner.verdict);
    number("out_of_square_units", corner.out_of_square_units);
    number("joint_angle", corner.joint_angle);
    number("mitre", corner.mitre);
  }
  void fields(const ObservationResult& observation) {
    text("at", observation.at);
    number("measured", observation.measured);
    number("adjusted", observation.adjusted);
    number("residual", observation.residual);
    number("redundancy", observation.redundancy);
    number("standardised", observation.standardised);
    number("detectable", observation.detectable);
    text("verdict", word(observation.verdict));
  }
  void fields(const PlanResult& plan) {
    number("area", plan.area);
    integer("dof", plan.dof);
    number("sigma0", plan.sigma0);
    boolean("scaled", plan.scaled);
    test(plan.global_test);
    list("suspects", plan.suspects);
    if (plan.one_of) {
      j.key("one_of").begin_object();
      texts("set", plan.one_of->set);
      text("ask", plan.one_of->ask);
      j.end_object();
    }
    if (!plan.measure_next.empty()) list("measure_next", plan.measure_next);
  }
  void fields(const Suspect& suspect) {
    text("at", suspect.at);
    text("kind", suspect.kind);
    number("value", suspect.value);
    number("probability", suspect.probability);
  }
  void fields(const MeasureNext& next) {
    text("what", next.what);
    text("why", next.why);
    number_if("before", next.before);
    number_if("after", next.after);
  }
  void fields(const LevelResult& level) {
    text("point", level.point);
    number("height", level.height);
    number("sd", level.sd);
    boolean("left_out", level.left_out);
    text("verdict", word(level.verdict));
  }
  void fields(const FloorResult& floor) {
    text("area", floor.area);
    number("lowest", floor.lowest);
    number("highest", floor.highest);
    j.key("model");
    if (!floor.model) return j.null();
    j.begin_object();
    text("kernel", floor.model->kernel);
    number("sd", floor.model->sd);
    number("range", floor.model->range);
    number("noise", floor.model->noise);
    number("noise_slope", floor.model->noise_slope);
    text("how", floor.model->how);
    list("grid", floor.model->grid);
    j.end_object();
  }
  void fields(const FloorModel::Node& node) {
    number("sd", node.sd);
    number("range", node.range);
    number("weight", node.weight);
  }
  void fields(const GroupResult& group) {
    text("id", group.id);
    number("underside", group.underside);
    boolean("set", group.set);
    boolean("feasible", group.feasible);
    number("lowest", group.lowest);
    number("highest", group.highest);
    j.key("worktop_above_floor").begin_object();
    number("at", group.worktop_above_floor.at);
    number("least", group.worktop_above_floor.least);
    number("greatest", group.worktop_above_floor.greatest);
    j.end_object();
    list("level_lines", group.level_lines);
    list("bounds", group.bounds);
    if (group.conflict) {
      j.key("conflict").begin_object();
      text("lower", group.conflict->lower);
      text("upper", group.conflict->upper);
      number("by", group.conflict->by);
      number("sd", group.conflict->sd);
      j.end_object();
    }
    if (!group.ways_out.empty()) list("ways_out", group.ways_out);
    j.key("spare").begin_object();
    number("flooring_up", group.spare.flooring_up);
    number("flooring_down", group.spare.flooring_down);
    j.key("runs_out");
    if (group.spare.runs_out.empty())
      j.null();
    else
      j.text(group.spare.runs_out);
    j.end_object();
    text_if("sum", group.sum);
  }
  void fields(const LevelLine& line) {
    text("setup", line.setup);
    number("down", line.down);
    number("sd", line.sd);
  }
  void fields(const Bound& bound) {
    text("kind", levelrun::word(bound.kind));
    text("at", bound.at);
    text("side", bound.lower ? "lower" : "upper");
    boolean("hard", bound.hard);
    number("value", bound.value);
    number("sd", bound.sd);
    number("applied", bound.applied);
    text_if("sum", bound.sum);
  }
  void fields(const WayOut& way) {
    text("kind", way.kind);
    text("what", way.what);
    text("sum", way.sum);
    if (!way.tightest) return;
    object("tightest", [&] {
      text("of", way.tightest->of);
      number("value", way.tightest->value);
      number("sd", way.tightest->sd);
      number("least", way.tightest->least);
      number("most", way.tightest->most);
      verdict(way.tightest->verdict);
    });
  }
  void fields(const LegResult& leg) {
    text("unit", leg.unit);
    text("position", leg.position);
    text("type", leg.type);
    number("x", leg.x);
    number("y", leg.y);
    number("bearing_floor", leg.bearing_floor);
    number("sd", leg.sd);
    number("height", leg.height);
    number("turns", leg.turns);
    verdict(leg.verdict);
    number_if("foot_clear", leg.foot_clear);
    integer("order", leg.order);
    text("sum", leg.sum);
  }
  void fields(const PlinthResult& plinth) {
    text("run", plinth.run);
    text("face", plinth.face);
    integer("piece", plinth.piece);
    number("length", plinth.length);
    text("top", word(plinth.top));
    text("bottom", word(plinth.bottom));
    number("height_left", plinth.height_left);
    number("height_right", plinth.height_right);
    list("ordinates", plinth.ordinates);
    j.key("top_gap").begin_object();
    number("least", plinth.top_gap_least);
    number("greatest", plinth.top_gap_greatest);
    j.end_object();
    number("floor_gap", plinth.floor_gap);
    boolean("sealed_edge_down", plinth.sealed_edge_down);
    number("sd", plinth.sd);
    verdict(plinth.verdict);
    text("sum", plinth.sum);
  }
  void fields(const PlinthOrdinate& ordinate) {
    number("along", ordinate.along);
    number("height", ordinate.height);
  }
  void fields(const Board& board) {
    number("stock_length", board.stock_length);
    number("height", board.height);
    list("pieces", board.pieces);
    number("offcut", board.offcut);
  }
  void fields(const Board::Piece& piece) {
    text("face", piece.face);
    number("length", piece.length);
  }
  void fields(const EndPanelResult& panel) {
    text("run", panel.run);
    text("unit", panel.unit);
    number("front", panel.front);
    number("back", panel.back);
    number("sd", panel.sd);
    text("sum", panel.sum);
  }
  void fields(const WallResult& wall) {
    text("wall", wall.wall);
    number("lean", wall.lean);
    number("lean_over", wall.lean_over);
    number("lean_units", wall.lean_units);
    number("bow", wall.bow);
    number("twist", wall.twist);
    number("sd", wall.sd);
    j.key("worst");
    if (wall.worst) {
      j.begin_object();
      text("method", word(wall.worst->method));
      text("line", wall.worst->line);
      number("span", wall.worst->span);
      number("deviation", wall.worst->deviation);
      number("sd", wall.worst->sd);
      number("limit", wall.worst->limit);
      number("from", wall.worst->from);
      number("to", wall.worst->to);
      j.end_object();
    } else {
      j.null();
    }
    verdict(wall.verdict);
    j.key("resting").begin_array();
    for (const double along : wall.resting) j.number(along);
    j.end_array();
    number("gap", wall.gap);
    number("scribe", wall.scribe);
    boolean("rocks", wall.rocks);
    list("rests", wall.rests);
  }
  void fields(const RestResult& rest) {
    text("of", rest.of);
    text("line", rest.line);
    number("from", rest.from);
    number("to", rest.to);
    j.key("resting").begin_array();
    for (const double at : rest.resting) j.number(at);
    j.end_array();
    number("gap", rest.gap);
    number("scribe", rest.scribe);
    boolean("rocks", rest.rocks);
  }
  void fields(const FitResult& fit) {
    text("run", fit.run);
    number("clear", fit.clear);
    number("sd", fit.sd);
    number("units", fit.units);
    number("left_over", fit.left_over);
    number("infill_left", fit.infill_left);
    number("infill_right", fit.infill_right);
    number("taper", fit.taper);
    verdict(fit.verdict);
    text_if("sum", fit.sum);
  }
  void fields(const WorktopJoint& joint) {
    text("kind", joint.kind);
    number("along", joint.along);
    if (joint.kind != "corner") return;
    text("with", joint.with);
    number("angle", joint.angle);
    number("sd", joint.sd);
    number("mitre", joint.mitre);
  }
  void fields(const WorktopResult& top) {
    text("run", top.run);
    integer("piece", top.piece);
    number("from", top.from);
    number("to", top.to);
    text_if("material", top.material);
    boolean("by_template", top.by_template);
    number("length", top.length);
    number("length_sd", top.length_sd);
    number("depth", top.depth);
    number("depth_left", top.depth_left);
    number("depth_sd", top.depth_sd);
    number("needed", top.needed);
    number("overhang", top.overhang);
    number("scribe", top.scribe);
    boolean("covered", top.covered);
    j.key("pieces");
    if (top.pieces)
      j.integer(*top.pieces);
    else
      j.null();
    list("joints", top.joints);
    verdict(top.verdict);
    text("sum", top.sum);
  }
  void fields(const ClearanceResult& clearance) {
    text("what", clearance.what);
    text("at", clearance.at);
    number("clear", clearance.clear);
    number("needed", clearance.needed);
    if (clearance.most) boolean("most", true);
    number("sd", clearance.sd);
    verdict(clearance.verdict);
    text_if("source", clearance.source);
    text_if("sum", clearance.sum);
  }
  void fields(const MissingResult& missing) {
    text("what", missing.what);
    text("at", missing.at);
    text("why", missing.why);
  }
  void fields(const NextMinute::Step& step) {
    text("what", step.what);
    text("at", step.at);
    if (step.x && step.y) {
      j.key("place").begin_object();
      number("x", step.x);
      number("y", step.y);
      j.end_object();
    }
    number("before", step.before);
    number("after", step.after);
    number("gain", step.gain);
    text("unit", step.unit);
    text("why", step.why);
  }
  void fields(const NotchResult& notch) {
    text("unit", notch.unit);
    text("part", notch.part);
    number("from", notch.from);
    number("to", notch.to);
    number("height_from", notch.height_from);
    number("height_to", notch.height_to);
    number("depth", notch.depth);
  }
  void fields(const RunVoidResult& run) {
    text("run", run.run);
    number("needed", run.needed);
    number("here", run.here);
    number("sd", run.sd);
    j.key("service");
    if (run.service.empty())
      j.null();
    else
      j.text(run.service);
    verdict(run.verdict);
    text("sum", run.sum);
  }
  void fields(const ServiceResult& service) {
    text("service", service.service);
    j.key("height_zone");
    if (service.height_zone.empty())
      j.null();
    else
      j.text(service.height_zone);
    texts("units", service.units);
    number("void_here", service.void_here);
    number("void_sd", service.void_sd);
    number("void_needed", service.void_needed);
    texts("clashes", service.clashes);
    verdict(service.verdict);
    if (service.fall) {
      j.key("fall").begin_object();
      number("available", service.fall->available);
      number("least", service.fall->least);
      number("most", service.fall->most);
      number("length", service.fall->length);
      number("longest", service.fall->longest);
      verdict(service.fall->verdict);
      j.end_object();
    }
    if (!service.notches.empty()) list("notches", service.notches);
    text("sum", service.sum);
  }
  void fields(const Finding& f) {
    text("id", f.id);
    text("code", f.code);
    text("severity", word(f.severity));
    text("room", f.room);
    text("at", f.at);
    number_if("measured", f.measured);
    number_if("limit", f.limit);
    text_if("unit", f.unit);
    text_if("source", f.source);
    text("says", f.says);
    text_if("remedy", f.remedy);
    if (f.safety) boolean("safety", true);
    if (f.answered) boolean("answered", true);
  }
};

}  // namespace

std::string results_json(const Results& results) {
  JsonText text;
  Writer(text).write(results);
  return text.take();
}

}  // namespace levelrun
