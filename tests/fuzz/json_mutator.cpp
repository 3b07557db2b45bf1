#include "tests/fuzz/json_mutator.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <iterator>
#include <nlohmann/json.hpp>
#include <vector>

#include "tests/simulate/random.h"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t*, std::size_t, std::size_t);

namespace levelrun {
namespace {

using Json = nlohmann::ordered_json;

// A value in the tree, and where it hangs.
struct Node {
  Json* value = nullptr;
  Json* parent = nullptr;  // nullptr: the document
  std::string name;        // of the member; of an item, its list's name
  std::size_t item = 0;
};

void collect(Json& value, Json* parent, const std::string& name, std::size_t item,
             std::vector<Node>& all) {
  all.push_back({&value, parent, name, item});
  if (value.is_object())
    for (auto& [key, below] : value.get_ref<Json::object_t&>()) collect(below, &value, key, 0, all);
  else if (value.is_array())
    for (std::size_t i = 0; i < value.size(); ++i) collect(value[i], &value, name, i, all);
}

// Limits of the format, values around which checks decide, and the sizes of real things.
constexpr double odd_numbers[] = {0.0,  -0.0,    1e-9,  -1e-9,  1e-3,   0.5,       1.0,    -1.0,
                                  2.0,  3.0,     90.0,  89.999, 180.0,  270,       359,    100,
                                  600,  560.0,   720.0, 900.0,  2000.0, 2400.,     3000.,  5000.0,
                                  1e5,  99999.5, 1e6,   -1e6,   -900,   -560,      1e-300, 5e-324,
                                  300., 300.001, 30.,   1e4,    -1e5,   123456.789};

double other_number(double x, const std::vector<Node>& all, Random& random) {
  switch (random.below(9)) {
    case 0:
      return odd_numbers[random.below(std::size(odd_numbers))];
    case 1:
      return -x;
    case 2:
      return x + 1;
    case 3:
      return x * 10;
    case 4:
      return x / 10;
    case 5:
      return x + random.normal(3);
    case 6:
      return x + random.normal(300);
    case 7:
      return std::floor(random.uniform(0, 4000));
    default: {
      const Json& other = *all[random.below(all.size())].value;
      return other.is_number() ? other.get<double>() : x * (1 + 1e-9);
    }
  }
}

// A text of the same member elsewhere: a reference that may be good, a word of the same list.
const Node* namesake(const Node& node, const std::vector<Node>& all, Random& random) {
  const std::size_t start = random.below(all.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Node& other = all[(start + i) % all.size()];
    if (other.name == node.name && other.value != node.value &&
        other.value->type() == node.value->type())
      return &other;
  }
  return nullptr;
}

struct Word {
  const char *member, *text;
};
constexpr Word words[] = {{"kind", "tape"},
                          {"kind", "square"},
                          {"kind", "laser_level"},
                          {"kind", "window"},
                          {"kind", "archway"},
                          {"kind", "waste"},
                          {"kind", "gas"},
                          {"kind", "soil_stack"},
                          {"kind", "socket"},
                          {"kind", "boiler"},
                          {"kind", "radiator"},
                          {"kind", "underfloor_heating"},
                          {"kind", "duct"},
                          {"kind", "base"},
                          {"kind", "tall"},
                          {"kind", "wall"},
                          {"kind", "appliance"},
                          {"kind", "infill"},
                          {"kind", "corner_post"},
                          {"kind", "end_panel"},
                          {"kind", "space"},
                          {"build", "stud"},
                          {"build", "dot_and_dab"},
                          {"back", "standing_off"},
                          {"sealed_edges", "all"},
                          {"offsets_from", "line"},
                          {"opens", "in_left"},
                          {"opens", "in_right"},
                          {"opens", "slide"},
                          {"to", "front_legs"},
                          {"to", "plinth_face"},
                          {"action", "move"},
                          {"action", "new"},
                          {"starts_at", "corner"},
                          {"starts_at", "end_panel"},
                          {"ends_at", "open"},
                          {"ends_at", "corner"},
                          {"houses", "sink"},
                          {"houses", "hob"},
                          {"houses", "oven"},
                          {"houses", "dishwasher"},
                          {"houses", "extractor"},
                          {"hinge", "left"},
                          {"from", "floor"},
                          {"units", "inch"},
                          {"decimal", ","},
                          {"tolerance_table", "nhbc2020"}};

// Members that the format knows and a survey may not have: put into an object that has a namesake
// of `beside`, or anywhere where that is "".
struct Extra {
  const char *beside, *member, *value;
};
constexpr Extra extras[] = {
    {"units", "furniture", R"({"plinth":{"height":100},"legs":[{"id":"M","min":80,"max":200}]})"},
    {"units", "starts_at", R"("open")"},
    {"width", "height", "2100"},
    {"width", "depth", "600"},
    {"width", "bottom", "1400"},
    {"width", "feet", R"([{"from_left":50,"from_front":50},{"from_left":500,"from_front":400}])"},
    {"width", "niche", R"({"min_height":600,"max_height":650,"slide_in":3})"},
    {"width", "houses", R"("hob")"},
    {"width", "drawers", "true"},
    {"width", "board", R"({"projection":200,"thickness":30})"},
    {"width", "undercut", "10"},
    {"corners", "diagonals", R"([{"from":"A","to":"C","length":3606}])"},
    {"corners", "angles",
     R"([{"corner":"B","degrees":91},{"corner":"A","a":600,"b":800,"across":1000}])"},
    {"corners", "floor_areas",
     R"([{"id":"F1","outline":[{"x":0,"y":0},{"x":1500,"y":0},{"x":1500,"y":-2000},{"x":0,"y":-2000}]},{"id":"F2"}])"},
    {"corners", "openings",
     R"([{"id":"D1","wall":"W2","left":300,"width":760,"height":2000,"opens":"in_left"},{"id":"X1","wall":"W1","kind":"window","left":500,"width":1200,"sill":1050,"height":1000}])"},
    {"corners", "ceilings",
     R"([{"place":{"x":300,"y":-300},"clear":2400},{"place":{"wall":"W1","along":900,"out":300},"clear":2391}])"},
    {"corners", "services",
     R"([{"id":"S1","kind":"waste","wall":"W1","along":300,"height":250,"projection":60,"diameter":40},{"id":"S2","kind":"gas","wall":"W1","along":800,"height":500},{"id":"S3","kind":"socket","wall":"W1","along":850,"height":300,"width":146,"height_of":86}])"},
    {"corners", "no_drill",
     R"([{"wall":"W1","along":200,"height":900,"width":100,"height_of":1200,"why":"cable"}])"},
    {"corners", "level_groups",
     R"([{"id":"A","asked_height":905,"order":["board_whole","asked_height"],"underside_set":{"value":160,"by":"t.v.","at":"2026-03-12T14:32:08Z"}}])"},
    {"corners", "flooring",
     R"({"existing":[{"name":"vinyl","thickness":3}],"laid":[{"name":"tile","thickness":12,"to":"front_legs"},{"name":"oak","thickness":15,"floating":true}]})"},
    {"from", "offsets",
     R"([{"along":100,"height":900,"offset":50},{"along":900,"height":900,"offset":53},{"along":1900,"height":100,"offset":49},{"along":1900,"height":2000,"offset":58}])"},
    {"from", "skirting", R"({"height":120,"thickness":18,"stays":true})"},
    {"from", "finish",
     R"([{"name":"skim","thickness":3},{"name":"tile","thickness":10,"from_height":900,"to_height":1500}])"},
    {"from", "furnished", "false"},
    {"projection", "route",
     R"([{"place":{"x":300,"y":-100},"height":300},{"place":{"x":2000,"y":-900},"height":250}])"},
    {"projection", "connects_at", R"({"place":{"x":2500,"y":-100},"height":120})"},
    {"readings", "collimation", "0.2"},
    {"staff", "distance_m", "12"},
    {"place", "off_floor", "true"},
    {"x", "sd", "0.001"},
    {"job", "install",
     R"({"finished_floor":[{"place":{"x":500,"y":-500},"thickness":14}],"set_legs":[],"answers":[{"finding":"x","says":"y","by":"z","at":"2026-03-12T14:32:08Z","releases":true}]})"},
    {"job", "instruments", R"([{"id":"T","kind":"tape","sd":0.001,"sd_per_m":1}])"},
    {"reference", "new_build", "true"},
    {"legs", "tall_height", "2100"},
    {"legs", "wall_unit", R"({"height":720,"depth":300,"rail_drop":60,"above_worktop":450})"},
    {"legs", "worktop",
     R"({"thickness":40,"depth":620,"stock_length":3000,"upstand":{"height":100,"thickness":18}})"},
    {"legs", "plinth",
     R"({"height":150,"other_heights":[100,200],"stock_length":2400,"sealed_edges":"all"})"},
    {"legs", "back", R"("standing_off")"}};

void put_in(const std::vector<Node>& all, Random& random) {
  const Extra& extra = extras[random.below(std::size(extras))];
  const std::size_t start = random.below(all.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    Json& object = *all[(start + i) % all.size()].value;
    if (!object.is_object() || !object.contains(extra.beside)) continue;
    object[extra.member] = Json::parse(extra.value);
    return;
  }
}

// An item again, with an id of its own if it has one.
void again(const Node& node, Random& random) {
  Json copy = *node.value;
  if (copy.is_object() && copy.contains("id") && copy["id"].is_string())
    copy["id"] = copy["id"].get<std::string>() + std::to_string(random.below(1000));
  if (copy.is_object() && copy.contains("units") && copy["units"].is_array())
    for (Json& unit : copy["units"])
      if (unit.is_object() && unit.contains("id") && unit["id"].is_string())
        unit["id"] = unit["id"].get<std::string>() + std::to_string(random.below(1000));
  node.parent->push_back(std::move(copy));
}

void change(Json& document, Random& random) {
  std::vector<Node> all;
  collect(document, nullptr, "", 0, all);
  const Node node = all[random.below(all.size())];
  const bool in_list = node.parent && node.parent->is_array();
  switch (random.below(12)) {
    case 0:
      put_in(all, random);
      return;
    case 1:
      if (in_list)
        node.parent->erase(node.item);
      else if (node.parent)
        node.parent->erase(node.name);
      return;
    case 2:
      if (in_list) again(node, random);
      return;
    case 3:
      if (in_list) std::swap(*node.value, (*node.parent)[random.below(node.parent->size())]);
      return;
    case 4:
      if (const Node* other = namesake(node, all, random)) *node.value = Json(*other->value);
      return;
    case 5:
      for (int tries = 0; tries < 20; ++tries) {
        const Word& word = words[random.below(std::size(words))];
        if (node.value->is_object() && node.value->contains(word.member)) {
          (*node.value)[word.member] = word.text;
          return;
        }
      }
      return;
    default:
      break;
  }
  if (node.value->is_number()) {
    *node.value = other_number(node.value->get<double>(), all, random);
  } else if (node.value->is_boolean()) {
    *node.value = !node.value->get<bool>();
  } else if (node.value->is_string()) {
    if (const Node* other = namesake(node, all, random)) *node.value = Json(*other->value);
  }
}

}  // namespace

std::string mutated_json(std::string_view text, std::uint64_t seed) {
  Json document = Json::parse(text, nullptr, false);
  if (document.is_discarded()) return std::string(text);
  Random random(seed);
  for (std::size_t changes = 1 + random.below(4); changes > 0; --changes) change(document, random);
  return document.dump(1, ' ', false, Json::error_handler_t::replace);
}

std::size_t mutate_survey(std::uint8_t* data, std::size_t size, std::size_t most, unsigned seed,
                          bool (*wants)(std::string_view)) {
  constexpr unsigned by_bytes = 16, tries = 6;  // one in 16 is changed by bytes
  if (seed % by_bytes == 0 && !wants) return LLVMFuzzerMutate(data, size, most);
  const std::string_view before(reinterpret_cast<const char*>(data), size);
  std::string text;
  for (unsigned i = 0; i < tries; ++i) {
    text = mutated_json(before, std::uint64_t(seed) * tries + i);
    if (!wants || wants(text)) break;
  }
  if (text == before || text.size() > most) return LLVMFuzzerMutate(data, size, most);
  std::memcpy(data, text.data(), text.size());
  return text.size();
}

}  // namespace levelrun
