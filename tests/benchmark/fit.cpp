// The parts of one fit on one core. Targets: face map at most 80 ms, a cold fit of one phase at
// most 5 ms from placement, a warm one after a small change at most 1 ms.
#include <benchmark/benchmark.h>

#include "case/mask_of_case.hpp"
#include "contact/solve.hpp"
#include "fit/fit.hpp"
#include "fit/strap_sweep.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

namespace {

using namespace rimload;

// The demonstration's case, its tension given so that no search is timed.
struct Bench {
  Case input = demo_case("first-fit");
  FaceInUse face{input.face};
  Mask mask = make_mask(input);
  std::vector<double> tension = std::vector<double>(mask.straps.size(), 3.5);
  MaskOnFace mask_on_face{face.field(), mask, input.numerics};
  Pose placement = mask_on_face.placement({});
  double pressure = units::from_cmh2o(10);

  MaskState unloaded() const {
    return {placement, Eigen::VectorXd::Zero(static_cast<Eigen::Index>(mask.rim.n_stations()))};
  }
};

void face_map(benchmark::State& state) {
  const Case input = demo_case("first-fit");
  for (auto _ : state) benchmark::DoNotOptimize(FaceInUse(input.face));
}

void placement(benchmark::State& state) {
  Bench bench;
  for (auto _ : state) benchmark::DoNotOptimize(bench.mask_on_face.placement({}));
}

void cold_fit(benchmark::State& state) {
  Bench bench;
  int evaluations = 0;
  for (auto _ : state) {
    MaskOnFace fresh(bench.face.field(), bench.mask, bench.input.numerics);
    fresh.place(bench.placement, bench.tension);
    fresh.set_gas_and_gravity(bench.pressure, {0, -1, 0});
    const Solution solution = solve_balance(fresh, bench.unloaded(), bench.input.numerics);
    evaluations = solution.evaluations;
    benchmark::DoNotOptimize(solution);
  }
  state.counters["evaluations"] = evaluations;
  state.counters["samples"] = static_cast<double>(bench.mask_on_face.n_samples());
}

void warm_fit(benchmark::State& state) {
  Bench bench;
  bench.mask_on_face.place(bench.placement, bench.tension);
  bench.mask_on_face.set_gas_and_gravity(bench.pressure, {0, -1, 0});
  MaskState warm = solve_balance(bench.mask_on_face, bench.unloaded(), bench.input.numerics).state;
  int evaluations = 0;
  bool tighter = false;
  for (auto _ : state) {
    tighter = !tighter;
    for (double& tension : bench.tension) tension = tighter ? 3.52 : 3.5;
    bench.mask_on_face.place(bench.placement, bench.tension);
    Solution solution = solve_balance(bench.mask_on_face, warm, bench.input.numerics);
    evaluations = solution.evaluations;
    warm = std::move(solution.state);
  }
  state.counters["evaluations"] = evaluations;
}

void one_evaluation(benchmark::State& state) {
  Bench bench;
  bench.mask_on_face.place(bench.placement, bench.tension);
  bench.mask_on_face.set_gas_and_gravity(bench.pressure, {0, -1, 0});
  const MaskState warm =
      solve_balance(bench.mask_on_face, bench.unloaded(), bench.input.numerics).state;
  MaskState moved = warm;
  moved.pose.translation_mm.z() += 1e-3;
  bool there = false;
  for (auto _ : state) {
    there = !there;  // the contact of one state is kept: it must change
    benchmark::DoNotOptimize(bench.mask_on_face.evaluate(there ? moved : warm));
  }
}

void whole_estimate(benchmark::State& state) {
  const Case input = demo_case("first-fit");
  for (auto _ : state) benchmark::DoNotOptimize(estimate_fit(input));
}

void strap_sweep(benchmark::State& state) {
  Bench bench;
  std::vector<UpperLower> settings;
  for (int k = 0; k < 40; ++k) settings.push_back({2.5 + 0.1 * k, 2.5 + 0.1 * k});
  for (auto _ : state) {
    benchmark::DoNotOptimize(strap_points(settings, bench.input, bench.face, bench.mask));
  }
}

BENCHMARK(strap_sweep)->Unit(benchmark::kMillisecond);
BENCHMARK(face_map)->Unit(benchmark::kMillisecond);
BENCHMARK(placement)->Unit(benchmark::kMillisecond);
BENCHMARK(cold_fit)->Unit(benchmark::kMillisecond);
BENCHMARK(warm_fit)->Unit(benchmark::kMillisecond);
BENCHMARK(one_evaluation)->Unit(benchmark::kMillisecond);
BENCHMARK(whole_estimate)->Unit(benchmark::kMillisecond);

}  // namespace
