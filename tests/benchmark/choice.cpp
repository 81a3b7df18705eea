// Choosing a dressing, and a size. Targets: dressings at 6 sites of 5 kinds at most 2 s; 24
// cushions with 100 draws at most 20 s on two cores.
#include <benchmark/benchmark.h>

#include <thread>

#include "choice/dressing_choice.hpp"
#include "choice/size_choice.hpp"
#include "stored_case.hpp"

namespace {

using namespace rimload;

// The demonstration's places (6, left and right together) and the first 5 kinds.
void dressings(benchmark::State& state) {
  Case input = demo_case("first-fit");
  input.dressings->dressings.resize(5);
  std::size_t n_options = 0;
  for (auto _ : state) {
    const DressingChoice choice = choose_dressings(input);
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

BENCHMARK(dressings)->Unit(benchmark::kMillisecond);
BENCHMARK(sizes)->Unit(benchmark::kSecond)->Iterations(1)->UseRealTime();

}  // namespace
