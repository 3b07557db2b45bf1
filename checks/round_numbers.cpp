#include "checks/round_numbers.h"

#include <algorithm>
#include <cmath>

#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double too_rare = 1e-3;  // chance; common practice, no source
constexpr std::size_t fewest = 4;  // readings
constexpr double whole = 1e-6;     // mm: a step's multiple, as it comes out of a file
constexpr double tape_sd = 2;      // mm, where no instrument is named
constexpr int steps[] = {10, 5};   // mm, coarser first

struct Booked {
  const char* kind;
  std::optional<Index> instrument;
  std::string at;  // of the first
  std::vector<double> values;
};

class Lists {
 public:
  void add(const char* kind, std::optional<Index> instrument, double value, std::string at) {
    for (Booked& list : lists_)
      if (list.kind == kind && list.instrument == instrument) {
        list.values.push_back(value);
        return;
      }
    lists_.push_back({kind, instrument, std::move(at), {value}});
  }
  const std::vector<Booked>& lists() const { return lists_; }

 private:
  std::vector<Booked> lists_;
};

Lists booked(const Room& room, Index index) {
  static constexpr const char *lengths = "wall lengths", *diagonals = "diagonals",
                              *offsets = "offsets", *staff = "staff readings";
  Lists out;
  for (Index w = 0; w < room.walls.size(); ++w) {
    const Wall& wall = room.walls[w];
    const std::string at = pointer(index, "walls", w);
    for (const WallLength& l : wall.lengths)
      out.add(lengths, l.instrument, l.length, at + "/lengths");
    for (const WallOffset& o : wall.offsets)
      out.add(offsets, o.instrument, o.offset, at + "/offsets");
  }
  for (const Diagonal& d : room.diagonals)
    out.add(diagonals, d.instrument, d.length, pointer(index) + "/diagonals");
  for (Index s = 0; s < room.levels.setups.size(); ++s)
    for (const StaffReading& r : room.levels.setups[s].readings)
      out.add(staff, room.levels.setups[s].instrument, r.staff,
              pointer(index) + "/levels/setups/" + std::to_string(s));
  return out;
}

bool all_multiples(const std::vector<double>& values, int step) {
  return std::all_of(values.begin(), values.end(),
                     [&](double v) { return std::abs(v - step * std::round(v / step)) < whole; });
}

}  // namespace

std::vector<Finding> round_numbers(const Survey& survey, Index room_index) {
  std::vector<Finding> out;
  const Lists all = booked(survey.rooms[room_index], room_index);
  for (const Booked& list : all.lists()) {
    std::vector<double> different = list.values;
    std::sort(different.begin(), different.end());
    different.erase(std::unique(different.begin(), different.end()), different.end());
    if (different.size() < fewest) continue;
    const double sd = list.instrument ? survey.instruments[*list.instrument].sd : tape_sd;
    for (const int step : steps) {
      const double chance = std::pow(step, -double(different.size()));
      const double rounding = step / std::sqrt(12.0);  // sd of a number rounded to the step
      if (!all_multiples(list.values, step) || chance >= too_rare || sd >= rounding) continue;
      const std::string with =
          list.instrument ? survey.instruments[*list.instrument].id : std::string();
      Finding f;
      f.code = "round numbers";
      f.severity = Severity::note;
      f.id = slug(list.kind) + (with.empty() ? "" : "/" + with);
      f.at = list.at;
      f.measured = rounding;
      f.limit = sd;
      f.unit = "mm";
      f.source = "sd of the instrument";
      f.says = "All " + std::to_string(list.values.size()) + " " + list.kind +
               (with.empty() ? "" : " of " + with) + " end in " + (step == 10 ? "0" : "0 or 5") +
               ": rounding adds an sd of " + decimal(rounding) + " where " + decimal(sd) +
               " is stated.";
      f.remedy = "Read to the millimetre, or state the sd that they were rounded to.";
      out.push_back(std::move(f));
      break;
    }
  }
  return out;
}

}  // namespace levelrun
