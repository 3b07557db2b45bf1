// The words of the file's enums, each list in the order of its enum in survey.h: a word's place
// in the list is the enum's value, and `unknown` comes after the last.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "survey/survey.h"

namespace levelrun {

template <class Enum>
using Words = std::array<std::string_view, static_cast<std::size_t>(Enum::unknown)>;

inline constexpr Words<InstrumentKind> instrument_words{
    "tape", "distance_meter", "laser_level", "optical_level", "square", "gauge"};
inline constexpr Words<BackKind> back_words{"recessed", "standing_off"};
inline constexpr Words<SealedEdges> sealed_edge_words{"long", "all", "none"};
inline constexpr Words<WallBuild> build_words{"masonry", "stud", "metal_stud", "lath_and_plaster",
                                              "dot_and_dab"};
inline constexpr Words<OffsetsFrom> offsets_from_words{"plumb_plane", "line"};
inline constexpr Words<OpeningKind> opening_words{"door", "window", "archway"};
inline constexpr Words<Opens> opens_words{"in_left", "in_right", "out", "slide", "fixed"};
inline constexpr Words<LaidTo> laid_to_words{"wall", "front_legs", "plinth_face"};
inline constexpr Words<ServiceKind> service_words{"cold_water",
                                                  "hot_water",
                                                  "waste",
                                                  "soil_stack",
                                                  "gas",
                                                  "socket",
                                                  "fused_spur",
                                                  "cooker_outlet",
                                                  "switch",
                                                  "data",
                                                  "duct",
                                                  "boiler",
                                                  "radiator",
                                                  "meter",
                                                  "stopcock",
                                                  "consumer_unit",
                                                  "underfloor_heating",
                                                  "other"};
inline constexpr Words<ServiceAction> action_words{"stay", "move", "cap", "new"};
inline constexpr Words<RunEnd> run_end_words{"wall", "corner", "open", "end_panel"};
inline constexpr Words<UnitKind> unit_words{"base",   "tall",        "wall",      "appliance",
                                            "infill", "corner_post", "end_panel", "space"};
inline constexpr Words<Hinge> hinge_words{"left", "right", "none"};

// Enums that the typed survey keeps as something else.
inline constexpr std::array<std::string_view, 2> show_unit_words{"mm", "inch"};
inline constexpr std::array<std::string_view, 2> decimal_words{".", ","};
inline constexpr std::array<std::string_view, 3> soft_bound_words{"asked_height", "board_reaches",
                                                                  "board_whole"};
inline constexpr std::array<std::string_view, 4> unit_corner_words{"front_left", "front_right",
                                                                   "back_left", "back_right"};
inline constexpr std::array<std::string_view, 3> task_state_words{"open", "done", "not_needed"};

}  // namespace levelrun
