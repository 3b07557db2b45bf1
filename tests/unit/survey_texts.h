// Survey texts that several tests start from. Invented jobs.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// Every field of version 1, none left at its default where that can be told.
inline const char* const every_field = R"json({
  "format": "levelrun-survey",
  "version": 1,
  "job": {
    "reference": "K-104", "client": "Orchard Row 3", "site": "Long Lane 9", "surveyor": "R. Field",
    "surveyed_on": "2024-03-11", "revision": 2, "notes": "Old kitchen still in",
    "new_build": true, "tolerance_table": "din18202",
    "tolerance_overrides": [{"row": "floor", "span": 4000, "limit": 9, "reason": "agreed with the client"}],
    "show": {"units": "inch", "decimal": ","}
  },
  "instruments": [
    {"id": "T1", "kind": "tape", "sd": 1.5},
    {"id": "D1", "kind": "distance_meter", "sd": 1, "sd_per_m": 0.05},
    {"id": "L1", "kind": "laser_level", "sd": 0.7},
    {"id": "S1", "kind": "square", "sd": 1, "sd_deg": 0.2}
  ],
  "furniture": {
    "base_height": 715, "base_depth": 555, "front_thickness": 19, "handle": 30,
    "back": "standing_off", "back_thickness": 8, "void_depth": 45, "tall_height": 2100,
    "wall_unit": {"height": 575, "depth": 310, "rail_drop": 60, "above_worktop": 440},
    "cornice": 40,
    "worktop": {"thickness": 30, "depth": 620, "overhang": 22, "material": "oak",
                "upstand": {"height": 100, "thickness": 12}, "stock_length": 4100},
    "plinth": {"height": 140, "other_heights": [150, 200], "thickness": 15, "setback": 45,
               "top_gap_min": 2, "top_gap_max": 14, "floor_gap_max": 2, "stock_length": 2700,
               "kerf": 3, "sealed_edges": "all"},
    "infill": {"min": 25, "max": 90},
    "legs": [
      {"id": "M", "min": 135, "max": 170, "supplied": 140, "pitch": 2, "foot_radius": 28,
       "front_inset": 90, "back_inset": 50, "side_inset": 40, "span": 800},
      {"id": "H", "min": 160, "max": 200}
    ]
  },
  "rooms": [
    {
      "id": "R1", "name": "Kitchen",
      "corners": [{"id": "A"}, {"id": "B", "angle": 91}, {"id": "C"}, {"id": "D"}],
      "walls": [
        {"id": "W1", "from": "A", "to": "B", "build": "stud", "furnished": true,
         "finish": [{"name": "skim", "thickness": 3, "sd": 1, "from_height": 0, "to_height": 2400}],
         "skirting": {"height": 120, "thickness": 18, "stays": false}, "coving": {"drop": 90},
         "lengths": [{"height": 900, "out": 0, "length": 3602, "instrument": "D1"},
                     {"height": 100, "out": 560, "length": 3598}],
         "offsets": [{"along": 100, "height": 200, "offset": 50, "instrument": "T1"}],
         "offsets_from": "line"},
        {"id": "W2", "from": "B", "to": "C", "furnished": false, "lengths": [{"height": 900, "length": 2801}]},
        {"id": "W3", "from": "C", "to": "D", "build": "lath_and_plaster"},
        {"id": "W4", "from": "D", "to": "A", "lengths": []}
      ],
      "diagonals": [{"from": "A", "to": "C", "length": 4563, "height": 1000, "instrument": "D1"}],
      "angles": [{"corner": "B", "degrees": 90.4, "height": 800, "instrument": "S1"},
                 {"corner": "C", "a": 600, "b": 800, "across": 1002}],
      "openings": [
        {"id": "O1", "wall": "W2", "kind": "window", "left": 700, "width": 1200, "sill": -120, "from": "I1",
         "height": 1100, "above": 280, "architrave": 60, "board": {"projection": 40, "thickness": 25}},
        {"id": "O2", "wall": "W3", "left": 100, "width": 838, "height": 2030, "opens": "out", "undercut": 8}
      ],
      "ceilings": [{"place": {"x": 100, "y": -100}, "clear": 2391, "instrument": "D1"},
                   {"place": {"wall": "W1", "along": 200, "out": 300}, "height": 1290, "from": "I1"}],
      "floor_areas": [{"id": "F1", "outline": [{"x": 0, "y": 0}, {"x": 3600, "y": 0}, {"x": 3600, "y": -2800}]}],
      "levels": {
        "benchmark": {"point": "P1", "height": 10},
        "known": [{"point": "P2", "height": 4, "sd": 1}],
        "points": [
          {"id": "P1", "off_floor": true},
          {"id": "P2", "place": {"wall": "W1", "along": 500, "out": 300, "sd": 10}, "area": "F1", "on": "tiles"},
          {"id": "P3", "place": {"x": 900, "y": -900}}
        ],
        "setups": [{"id": "I1", "instrument": "L1", "collimation": 0.1,
                    "readings": [{"point": "P1", "staff": 1010, "distance_m": 3.2}, {"point": "P2", "staff": 1022.5},
                                 {"point": "P3", "staff": 1031}]}]
      },
      "flooring": {
        "existing": [{"name": "tiles", "thickness": 11, "sd": 1, "strip": true, "area": "F1"},
                     {"name": "screed", "thickness": 60, "strip": false}],
        "laid": [{"name": "plank", "thickness": 18, "sd": 0.4, "to": "front_legs", "into_niches": false,
                  "floating": true, "area": "F1"}]
      },
      "no_drill": [{"outline": [{"x": 0, "y": 0}, {"x": 10, "y": 0}, {"x": 10, "y": -10}], "why": "heating pipes"},
                   {"wall": "W1", "along": 900, "height": 300, "width": 200, "height_of": 900, "why": "cable"}],
      "services": [
        {"id": "V1", "kind": "waste", "wall": "W1", "along": 1200, "height": -640, "from": "I1", "action": "move",
         "projection": 60, "diameter": 40,
         "route": [{"place": {"wall": "W1", "along": 1500, "out": 40}, "height": 220}],
         "connects_at": {"place": {"x": 2000, "y": -40}, "height": 180}, "notes": "to the stack"},
        {"id": "V2", "kind": "switch", "wall": "W2", "along": 90, "height": 1100, "action": "new",
         "width": 86, "height_of": 86},
        {"id": "V3", "kind": "underfloor_heating", "place": {"x": 1500, "y": -1500}}
      ],
      "runs": [
        {"id": "N1", "wall": "W1", "from_along": 20, "starts_at": "corner", "ends_at": "end_panel",
         "level_group": "A", "furniture": {"plinth": {"height": 200}, "worktop": {"upstand": {"height": 60}}},
         "units": [
           {"id": "U1", "kind": "base", "width": 600, "height": 715, "depth": 560, "bottom": 0, "leg": "H",
            "drawers": true, "hinge": "none", "houses": "sink",
            "feet": [{"from_left": 50, "from_front": 80}]},
           {"id": "U2", "kind": "appliance", "width": 600, "houses": "dishwasher",
            "niche": {"min_height": 815, "max_height": 875, "slide_in": 4}}]},
        {"id": "N2", "origin": {"x": 1500, "y": -1400}, "bearing": 180, "starts_at": "open", "ends_at": "open",
         "level_group": "B", "furniture": {"legs": [{"id": "H", "min": 60, "max": 90}]},
         "units": [{"id": "U3", "kind": "corner_post", "width": 80, "leg": "H", "hinge": "right"}]}
      ],
      "level_groups": [
        {"id": "A", "asked_height": 900, "tolerance": 5, "height_at": {"x": 1000, "y": -600},
         "order": ["board_whole", "asked_height"],
         "underside_set": {"value": 152, "by": "office", "at": "2024-03-20T09:00:00+01:00"}},
        {"id": "B"}],
      "skipped": [{"what": "wall behind the cooker", "why": "cooker in the way"}],
      "photos": [{"file": "one.jpg", "at": "2024-03-11T10:00:00Z", "note": "stack"}]
    }
  ],
  "install": {
    "finished_floor": [{"place": {"x": 1000, "y": -1000}, "thickness": 19},
                       {"place": {"wall": "W1", "along": 900, "out": 700}, "staff": 1001, "setup": "J1"}],
    "setups": [{"id": "J1", "instrument": "L1", "readings": [{"point": "P3", "staff": 995}]}],
    "set_legs": [{"unit": "U1", "position": "front_left", "height": 155, "at": "2024-05-02T08:10:00Z", "by": "M. Hill"}],
    "unit_levels": [{"unit": "U1", "corner": "back_right", "staff": 140, "setup": "J1"}],
    "tasks": [{"id": "K1", "state": "done", "at": "2024-05-02T08:00:00Z", "by": "M. Hill", "note": "ok"}],
    "snags": [{"id": "G1", "text": "chip", "at": "2024-05-02T12:00:00Z", "by": "M. Hill",
               "place": {"wall": "W2", "along": 10, "out": 0}, "closed": "2024-05-03T12:00:00Z"}],
    "answers": [{"finding": "niche U2", "says": "machine changed", "by": "office", "at": "2024-03-21T10:00:00Z", "releases": true}],
    "sign_off": {"by": "M. Hill", "role": "fitter", "at": "2024-05-03T16:00:00Z", "note": "done"}
  }
}
)json";

// A room with five points and two units, all else left out: what tests change one field of.
inline const char* const small_job = R"json({
  "format": "levelrun-survey", "version": 1, "job": {"reference": "S-1"},
  "furniture": {"legs": [{"id": "M", "min": 135, "max": 170}]},
  "rooms": [{"id": "R1",
    "corners": [{"id": "A"}, {"id": "B"}, {"id": "C"}, {"id": "D"}],
    "walls": [{"id": "W1", "from": "A", "to": "B", "lengths": [{"height": 900, "length": 3000}]},
              {"id": "W2", "from": "B", "to": "C", "lengths": [{"height": 900, "length": 2000}]},
              {"id": "W3", "from": "C", "to": "D", "lengths": [{"height": 900, "length": 3000}]},
              {"id": "W4", "from": "D", "to": "A", "lengths": [{"height": 900, "length": 2000}]}],
    "levels": {"benchmark": {"point": "P1"},
      "points": [{"id": "P1", "place": {"x": 100, "y": -100}}, {"id": "P2", "place": {"x": 900, "y": -100}}],
      "setups": [{"id": "I1", "readings": [{"point": "P1", "staff": 1000}, {"point": "P2", "staff": 1004}]}]},
    "runs": [{"id": "N1", "wall": "W1", "from_along": 0,
      "units": [{"id": "U1", "width": 600, "leg": "M"}, {"id": "U2", "width": 400}]}]
  }]
})json";

inline Json document_of(const char* text) { return Json::parse(text); }

}  // namespace levelrun
