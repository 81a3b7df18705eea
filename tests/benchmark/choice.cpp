// Choosing a dressing, and a size; bands. Targets: dressings at 6 sites of 5 kinds at most 2 s; 24
// cushions with 100 draws at most 20 s, bands of 200 draws for one cushion at most 1.5 s, on two
// cores.
#include <benchmark/benchmark.h>

#include <thread>

#include "choice/dressing_choice.hpp"
#include "choice/size_choice.hpp"
#include "fit/bands.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"

namespace {

using namespace rimload;

// The demonstration's places (6, left and right together) and the first 5 kinds.
void dressings(benchmark::State& state) {
  Case input = demo_case("first-fit");
  input.dressings->dressings.resize(5);
  std::size_t n_options = 0;
  for (auto _ : state) {
    const DressingChoice choice =
        choose_dressings(input, static_cast<int>(std::thread::hardware_concurrency()));
    n_options = 0;
    for (const DressedPlace& place : choice.places) n_options += place.options.size();
  }
  state.counters["options"] = static_cast<double>(n_options);
}

// The demonstration's catalogue, its cushions taken more than once to make 24.
void sizes(benchmark::State& state) {
  Case input = demo_case("first-fit");
  const std::vector<Cushion> few = input.catalogue;
  constexpr std::size_t n_cushions = 24;
  while (input.catalogue.size() < n_cushions) {
    input.catalogue.push_back(few[input.catalogue.size() % few.size()]);
  }
  input.catalogue.resize(n_cushions);
  const SizeOptions options{.n_draws = 100,
                            .n_threads = static_cast<int>(std::thread::hardware_concurrency())};
  for (auto _ : state) benchmark::DoNotOptimize(choose_size(input, options));
}

// Bands of one cushion, on a face taken as it stands and on one drawn from measurements.
void bands(benchmark::State& state, const char* name) {
  const Estimate estimate = estimate_fit(demo_case(name));
  const BandOptions options{.n_draws = 200,
                            .n_threads = static_cast<int>(std::thread::hardware_concurrency())};
  for (auto _ : state) benchmark::DoNotOptimize(with_bands(estimate, options));
}

BENCHMARK(dressings)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK_CAPTURE(bands, model_face, "first-fit")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK_CAPTURE(bands, measured_face, "measured-wearer")
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK(sizes)->Unit(benchmark::kSecond)->Iterations(1)->UseRealTime();

}  // namespace
