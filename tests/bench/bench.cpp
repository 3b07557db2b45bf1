// How long does a solve take, and where does the time go? Google Benchmark.
#include <benchmark/benchmark.h>

#include <cstdlib>

#include "checks/floor_surface.h"
#include "checks/results_json.h"
#include "checks/room_levels.h"
#include "checks/room_plan.h"
#include "checks/solve.h"
#include "checks/wall_faces.h"
#include "survey/survey_file.h"
#include "tests/bench/kitchen.h"

using namespace levelrun;

namespace {

Survey kitchen(const KitchenSize& size) {
  auto file = read_survey(kitchen_text(size, 1));
  if (!file.ok()) std::abort();  // the benchmark's own survey must be a good one
  return std::move(file.value().survey);
}

void time_solve(benchmark::State& state, const KitchenSize& size) {
  const Survey survey = kitchen(size);
  for (auto _ : state) benchmark::DoNotOptimize(solve(survey));
}

void one_kitchen(benchmark::State& state) { time_solve(state, {}); }
void one_kitchen_wrong_length(benchmark::State& state) {
  KitchenSize size;
  size.wrong_length = true;
  time_solve(state, size);
}
void room_of_40_corners_wrong_length(benchmark::State& state) {
  KitchenSize size;
  size.corners = 40;
  size.wrong_length = true;
  time_solve(state, size);
}
void readings(benchmark::State& state) {
  KitchenSize size;
  size.readings = int(state.range(0));
  time_solve(state, size);
  state.SetComplexityN(state.range(0));
}
void units(benchmark::State& state) {
  KitchenSize size;
  size.units = int(state.range(0));
  time_solve(state, size);
}
void corners(benchmark::State& state) {
  KitchenSize size;
  size.corners = int(state.range(0));
  time_solve(state, size);
}

void read(benchmark::State& state) {
  const std::string text = kitchen_text({}, 1);
  for (auto _ : state) benchmark::DoNotOptimize(read_survey(text));
  state.SetBytesProcessed(std::int64_t(text.size()) * state.iterations());
}
void write(benchmark::State& state) {
  const Results results = solve(kitchen({}));
  for (auto _ : state) benchmark::DoNotOptimize(results_json(results));
}
void part_plan(benchmark::State& state) {
  const Survey survey = kitchen({});
  for (auto _ : state) benchmark::DoNotOptimize(adjust_room(survey, 0));
}
void part_levels(benchmark::State& state) {
  const Survey survey = kitchen({});
  for (auto _ : state) benchmark::DoNotOptimize(adjust_room_levels(survey, 0));
}
void part_floor(benchmark::State& state) {
  const Survey survey = kitchen({});
  const RoomPlan plan = adjust_room(survey, 0);
  const RoomLevels levels = adjust_room_levels(survey, 0);
  for (auto _ : state) benchmark::DoNotOptimize(FloorSurface(survey, 0, plan, levels));
}
// What tests/bench/numpy_kitchen.py does too: no bounds, plinths, findings or text.
void same_mathematics(benchmark::State& state) {
  const Survey survey = kitchen({});
  std::vector<PlanPoint> with_band, without;
  for (int i = 0; i < 350; ++i)
    (i < 130 ? with_band : without).push_back({37.0 * (i * 101 % 170), -3.0 * (i * 53 % 190)});
  for (auto _ : state) {
    const RoomPlan plan = adjust_room(survey, 0);
    const RoomLevels levels = adjust_room_levels(survey, 0);
    const FloorSurface floor(survey, 0, plan, levels);
    benchmark::DoNotOptimize(floor.estimates(with_band));
    benchmark::DoNotOptimize(floor.heights(without));
  }
}
void part_walls(benchmark::State& state) {
  const Survey survey = kitchen({});
  for (auto _ : state) benchmark::DoNotOptimize(wall_faces(survey, 0));
}

}  // namespace

BENCHMARK(one_kitchen)->Unit(benchmark::kMicrosecond);
BENCHMARK(one_kitchen_wrong_length)->Unit(benchmark::kMicrosecond);
BENCHMARK(room_of_40_corners_wrong_length)->Unit(benchmark::kMicrosecond);
BENCHMARK(same_mathematics)->Unit(benchmark::kMicrosecond);
BENCHMARK(part_plan)->Unit(benchmark::kMicrosecond);
BENCHMARK(part_levels)->Unit(benchmark::kMicrosecond);
BENCHMARK(part_floor)->Unit(benchmark::kMicrosecond);
BENCHMARK(part_walls)->Unit(benchmark::kMicrosecond);
BENCHMARK(read)->Unit(benchmark::kMicrosecond);
BENCHMARK(write)->Unit(benchmark::kMicrosecond);
BENCHMARK(readings)
    ->Arg(10)
    ->Arg(50)
    ->Arg(100)
    ->Arg(200)
    ->Arg(400)
    ->Arg(800)
    ->Arg(1600)
    ->Arg(2000)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK(units)->Arg(1)->Arg(24)->Arg(100)->Arg(300)->Unit(benchmark::kMicrosecond);
BENCHMARK(corners)->Arg(4)->Arg(8)->Arg(20)->Arg(40)->Unit(benchmark::kMicrosecond);
BENCHMARK_MAIN();
