// One slice through the tissue on one core. Target: at most 30 ms with dressing, contact of a lip
// and strains.
#include <benchmark/benchmark.h>

#include <vector>

#include "skin/section.hpp"

namespace {

using namespace rimload;

constexpr SectionTissue cheek{.depth_mm = 15, .youngs_n_mm2 = 0.016};
constexpr SectionDressing foam{.thickness_mm = 3, .youngs_n_mm2 = 0.05, .poisson = 0.2};
constexpr SectionLip lip{.width_mm = 10, .crown_radius_mm = 8, .stiffness_n_mm3 = 1e-3};

std::vector<StationSample> samples() {
  std::vector<StationSample> out;
  for (int k = -3; k <= 3; ++k) out.push_back({1.2 * k, 1.2, 0.004 - 0.001 * k * k / 4, 0.001});
  return out;
}

void section_under_lip(benchmark::State& state) {
  for (auto _ : state) {
    const Section section({.layers = part_layers(cheek, lip.width_mm), .dressing = foam});
    benchmark::DoNotOptimize(section.under(lip, 0.03));
  }
}

void section_of_station(benchmark::State& state) {
  const std::vector<StationSample> across = samples();
  for (auto _ : state) benchmark::DoNotOptimize(station_section(cheek, across, foam));
}

void parting_layers(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(part_layers(cheek, 10));
}

void factoring(benchmark::State& state) {
  const TissueLayers layers = part_layers(cheek, 10);
  for (auto _ : state) {
    benchmark::DoNotOptimize(Section({.layers = layers, .dressing = foam}));
  }
}

void pressing_lip(benchmark::State& state) {
  const Section section({.layers = part_layers(cheek, 10), .dressing = foam});
  for (auto _ : state) benchmark::DoNotOptimize(press_lip(section.body(), lip, 0.03));
}

BENCHMARK(section_under_lip)->Unit(benchmark::kMillisecond);
BENCHMARK(section_of_station)->Unit(benchmark::kMillisecond);
BENCHMARK(parting_layers)->Unit(benchmark::kMillisecond);
BENCHMARK(factoring)->Unit(benchmark::kMillisecond);
BENCHMARK(pressing_lip)->Unit(benchmark::kMillisecond);

}  // namespace
