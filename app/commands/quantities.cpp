#include "app/commands/quantities.h"

#include "app/csv.h"
#include "app/display_text.h"
#include "app/place_words.h"
#include "app/solved_file.h"
#include "app/table.h"
#include "app/terminal.h"
#include "app/text_number.h"
#include "checks/json_fields.h"
#include "checks/quantities.h"
#include "checks/words.h"
#include "survey/estimate.h"

namespace levelrun {

static std::string verdict_word(const std::optional<Verdict>& v) {
  return v ? std::string(word(*v)) : "";
}

static std::string joints_words(const WorktopResult& top, char decimal) {
  std::string out;
  for (const WorktopJoint& j : top.joints) {
    out += out.empty() ? "" : "; ";
    if (j.kind == "corner")
      out += "corner to run " + j.with +
             (j.angle ? " at " + shown(j.angle, 1, decimal) + "°, mitre " +
                            shown(j.mitre, 2, decimal) + "°"
                      : ", angle not known");
    else
      out += j.kind + " joint at " + shown(j.along, 0, decimal);
  }
  return out;
}

// ---- QuantityPage
// --------------------------------------------------------------------------------------

class QuantityPage {
 public:
  QuantityPage(const SolvedFile& solved, bool styled)
      : survey_(solved.file.survey), decimal_(survey_.job.decimal), styled_(styled) {}

  std::string text(const Quantities& q) const {
    std::string out;
    using enum Table::Kind;
    const auto list = [&](const char* title, const Table& table) {
      out += "\n" + heading(title, styled_) + table.text(styled_);
    };
    if (!q.legs.empty()) {
      Table t({{"Legs"},
               {"Count", number},
               {"Shortest", number},
               {"Tallest", number},
               {"Range", number},
               {"Remarks"}});
      for (const Quantities::Legs& l : q.legs) {
        std::string remarks;
        if (l.not_within > 0) remarks = std::to_string(l.not_within) + " not sure of their range";
        if (l.not_known > 0)
          remarks += (remarks.empty() ? "" : "; ") + std::to_string(l.not_known) + " not known";
        t.row({of(l.room, l.type), std::to_string(l.count), mm(l.shortest), mm(l.tallest),
               mm(l.least, 0) + "–" + mm(l.most, 0), remarks},
              l.not_within + l.not_known > 0);
      }
      list("Legs by type", t);
    }
    if (!q.boards.empty()) {
      Table t({{"Board"},
               {"Height", number},
               {"Length", number},
               {"Boards", number},
               {"Pieces", number},
               {"Left over", number}});
      for (const Quantities::Boards& b : q.boards)
        t.row({of(b.room, "thickness " + mm(b.thickness, 0)), mm(b.height, 0),
               mm(b.stock_length, 0), std::to_string(b.count), std::to_string(b.pieces),
               mm(b.offcuts, 0)});
      list("Plinth boards", t);
    }
    if (!q.panels.empty()) {
      Table t({{"Piece"},
               {"Width", number},
               {"Height", number},
               {"Order width", number},
               {"Order height", number},
               {"Verdict"}});
      for (const Quantities::Panel& p : q.panels) {
        t.row({of(p.room, capital_kind(p)), mm(p.width), mm(p.height), mm(p.order_width),
               mm(p.order_height), verdict_word(p.verdict)},
              p.verdict && *p.verdict != Verdict::within);
        t.note(with_decimal_sign(p.sum, decimal_));
      }
      list("Infills and end panels, over length for scribing", t);
    }
    if (!q.voids.empty()) {
      Table t({{"Run"},
               {"Back"},
               {"Ordered", number},
               {"Needed", number},
               {"±", number},
               {"For"},
               {"Verdict"}});
      for (const Quantities::Void& v : q.voids)
        t.row({of(v.room, v.run), spaced(v.back), mm(v.ordered, 0), v.needed ? mm(v.needed) : "",
               v.sd ? mm(band95 * *v.sd) : "", v.service, verdict_word(v.verdict)},
              v.verdict && *v.verdict != Verdict::within);
      list("Void behind the units", t);
    }
    if (!q.notches.empty()) {
      Table t({{"Unit"}, {"Part"}, {"Across", number}, {"Up", number}, {"Deep", number}, {"For"}});
      for (const Quantities::Notch& n : q.notches)
        t.row({of(n.room, n.cut.unit), spaced(n.cut.part),
               mm(n.cut.from, 0) + "–" + mm(n.cut.to, 0),
               mm(n.cut.height_from, 0) + "–" + mm(n.cut.height_to, 0), mm(n.cut.depth, 0),
               n.service});
      list("Notches: across from the unit's left (a side: from its back), up from U", t);
    }
    if (!q.worktops.empty()) {
      Table t({{"Worktop"},
               {"Length", number},
               {"±", number},
               {"Depth", number},
               {"Scribe", number},
               {"Pieces", number},
               {"Verdict"}});
      for (const Quantities::Worktop& w : q.worktops) {
        const WorktopResult& top = w.top;
        t.row(
            {of(w.room, "run " + top.run + (top.piece > 1 ? " " + std::to_string(top.piece) : "")),
             mm(top.length, 0), top.length_sd ? mm(band95 * *top.length_sd, 0) : "",
             mm(top.depth, 0), top.scribe ? mm(top.scribe) : "",
             top.pieces ? std::to_string(*top.pieces) : "", verdict_word(top.verdict)});
        if (top.by_template)
          t.note("By template, measured once the units are fixed: no cut sizes.");
        if (const std::string joints = joints_words(top, decimal_); !joints.empty()) t.note(joints);
      }
      list("Worktops", t);
    }
    if (out.empty()) out = "\nNo run is drawn yet, so there is nothing to order.\n";
    return out;
  }

 private:
  const Survey& survey_;
  char decimal_;
  bool styled_;

  std::string mm(const Unknown& v, int decimals = 1) const { return shown(v, decimals, decimal_); }
  // With its room where there are several.
  std::string of(const std::string& room, const std::string& what) const {
    return survey_.rooms.size() > 1 ? room_words(survey_, room) + ": " + what : what;
  }
  static std::string capital_kind(const Quantities::Panel& p) {
    return p.kind == "infill" ? "infill, run " + p.run + " " + p.place
                              : "end panel " + p.place + ", run " + p.run;
  }
};

// ---- CSV and JSON ------------------------------------------------------------------------------

static std::string csv(const Quantities& q) {
  Csv out;
  for (const char* heading :
       {"list",        "room",         "run",       "item",   "part",    "count",  "from",
        "to",          "height_from",  "height_to", "length", "width",   "height", "depth",
        "order_width", "order_height", "angle",     "sd",     "verdict", "note"})
    out.text(heading);
  out.end_row();
  struct Row {
    std::string list, room, run, item, part;
    std::optional<int> count;
    Unknown from, to, height_from, height_to, length, width, height, depth, order_width,
        order_height, angle, sd;
    std::string verdict, note;
  };
  const auto add = [&](const Row& r) {
    out.text(r.list).text(r.room).text(r.run).text(r.item).text(r.part);
    if (r.count)
      out.count(*r.count);
    else
      out.text("");
    for (const Unknown& n : {r.from, r.to, r.height_from, r.height_to, r.length, r.width, r.height,
                             r.depth, r.order_width, r.order_height, r.angle, r.sd})
      out.number(n);
    out.text(r.verdict).text(r.note).end_row();
  };
  const auto row = [](const char* list, const std::string& room) {
    Row r;
    r.list = list;
    r.room = room;
    return r;
  };
  for (const Quantities::Legs& l : q.legs) {
    Row r = row("legs", l.room);
    r.item = l.type;
    r.count = l.count;
    r.from = l.shortest;
    r.to = l.tallest;
    r.verdict = l.not_known + l.not_within == 0 ? "within" : "";
    add(r);
  }
  for (const Quantities::Boards& b : q.boards) {
    Row r = row("boards", b.room);
    r.count = b.count;
    r.length = b.stock_length;
    r.height = b.height;
    r.depth = b.thickness;
    add(r);
  }
  for (const Quantities::Panel& p : q.panels) {
    Row r = row(p.kind == "infill" ? "infills" : "end_panels", p.room);
    r.run = p.run;
    r.item = p.place;
    r.count = 1;
    r.width = p.width;
    r.height = p.height;
    r.depth = p.thickness;
    r.order_width = p.order_width;
    r.order_height = p.order_height;
    r.verdict = verdict_word(p.verdict);
    r.note = p.sum;
    add(r);
  }
  for (const Quantities::Void& v : q.voids) {
    Row r = row("voids", v.room);
    r.run = v.run;
    r.item = v.service;
    r.part = v.back;
    r.depth = v.ordered;
    r.from = v.needed;
    r.sd = v.sd;
    r.verdict = verdict_word(v.verdict);
    r.note = "depth: as ordered; from: needed";
    add(r);
  }
  for (const Quantities::Notch& n : q.notches) {
    Row r = row("notches", n.room);
    r.item = n.cut.unit;
    r.part = n.cut.part;
    r.count = 1;
    r.from = n.cut.from;
    r.to = n.cut.to;
    r.height_from = n.cut.height_from;
    r.height_to = n.cut.height_to;
    r.depth = n.cut.depth;
    r.note = n.service;
    add(r);
  }
  for (const Quantities::Worktop& w : q.worktops) {
    Row r = row("worktops", w.room);
    r.run = w.top.run;
    r.item = std::to_string(w.top.piece);
    r.part = w.top.material;
    r.count = w.top.pieces;
    r.length = w.top.length;
    r.sd = w.top.length_sd;
    r.depth = w.top.depth;
    r.verdict = verdict_word(w.top.verdict);
    r.note = w.top.by_template ? "by template" : "";
    add(r);
    for (const WorktopJoint& j : w.top.joints) {
      Row joint = row("joints", w.room);
      joint.run = w.top.run;
      joint.item = j.with;
      joint.part = j.kind;
      joint.from = j.along;
      joint.angle = j.angle;
      joint.sd = j.sd;
      add(joint);
    }
  }
  return out.file();
}

static std::string json_of(const Results& results, const Quantities& q) {
  JsonText j;
  JsonFields w(j);
  j.begin_object();
  w.text("format", "levelrun-quantities");
  w.integer("version", 1);
  j.key("survey").begin_object();
  w.text("reference", results.reference);
  w.integer("revision", results.revision);
  j.end_object();
  w.integer("holds", open_holds(results));
  w.number("scribe_over", scribe_over);
  w.list("legs", q.legs, [&](const Quantities::Legs& l) {
    w.text("room", l.room);
    w.text("type", l.type);
    w.integer("count", l.count);
    w.integer("not_known", l.not_known);
    w.integer("not_within", l.not_within);
    w.number("shortest", l.shortest);
    w.number("tallest", l.tallest);
    w.number("min", l.least);
    w.number("max", l.most);
    w.number("supplied", l.supplied);
  });
  w.list("boards", q.boards, [&](const Quantities::Boards& b) {
    w.text("room", b.room);
    w.number("height", b.height);
    w.number("stock_length", b.stock_length);
    w.number("thickness", b.thickness);
    w.integer("count", b.count);
    w.integer("pieces", b.pieces);
    w.number("offcuts", b.offcuts);
  });
  w.list("panels", q.panels, [&](const Quantities::Panel& p) {
    w.text("kind", p.kind);
    w.text("room", p.room);
    w.text("run", p.run);
    w.text("place", p.place);
    w.number("width", p.width);
    w.number("height", p.height);
    w.number("thickness", p.thickness);
    w.number("order_width", p.order_width);
    w.number("order_height", p.order_height);
    w.verdict(p.verdict);
    w.text("sum", p.sum);
  });
  w.list("voids", q.voids, [&](const Quantities::Void& v) {
    w.text("room", v.room);
    w.text("run", v.run);
    w.text("back", v.back);
    w.number("ordered", v.ordered);
    w.number("needed", v.needed);
    w.number("sd", v.sd);
    w.text("service", v.service);
    w.verdict(v.verdict);
  });
  w.list("notches", q.notches, [&](const Quantities::Notch& n) {
    w.text("room", n.room);
    w.text("service", n.service);
    w.text("unit", n.cut.unit);
    w.text("part", n.cut.part);
    w.number("from", n.cut.from);
    w.number("to", n.cut.to);
    w.number("height_from", n.cut.height_from);
    w.number("height_to", n.cut.height_to);
    w.number("depth", n.cut.depth);
  });
  w.list("worktops", q.worktops, [&](const Quantities::Worktop& t) {
    w.text("room", t.room);
    w.text("run", t.top.run);
    w.integer("piece", t.top.piece);
    w.text("material", t.top.material);
    w.boolean("by_template", t.top.by_template);
    w.number("length", t.top.length);
    w.number("length_sd", t.top.length_sd);
    w.number("depth", t.top.depth);
    w.number("scribe", t.top.scribe);
    w.number("pieces", t.top.pieces ? Unknown(*t.top.pieces) : std::nullopt);
    w.list("joints", t.top.joints, [&](const WorktopJoint& joint) {
      w.text("kind", joint.kind);
      w.number("along", joint.along);
      w.text("with", joint.with);
      w.number("angle", joint.angle);
      w.number("sd", joint.sd);
      w.number("mitre", joint.mitre);
    });
    w.verdict(t.top.verdict);
  });
  j.end_object();
  return j.take();
}

int quantities_command(const std::string& file, TableFormat format, Output& out) {
  const auto solved = load_and_solve(file, out);
  if (!solved) return exit_unusable;
  const Quantities q = quantities(solved->file.survey, solved->results);
  const bool styled = output_is_styled();
  switch (format) {
    case TableFormat::page:
      out.print(heading("Quantities: " + reference_line(solved->results), styled) +
                hold_warning(solved->results, styled) +
                paragraph("", "Lengths in mm. ± is half the 95 % band. What is scribed has " +
                                  shown(scribe_over, 0, '.') + " left on, each edge.") +
                QuantityPage(*solved, styled).text(q));
      break;
    case TableFormat::csv:
      out.print(csv(q));
      break;
    case TableFormat::json:
      out.print(json_of(solved->results, q));
      break;
  }
  return exit_ok;
}

}  // namespace levelrun
