// One picture of 1400 px on one core: drawing, encoding, both. Target: at most 150 ms together.
#include <benchmark/benchmark.h>

#include "report/heat_map.hpp"
#include "report/png.hpp"
#include "sample_scene.hpp"

namespace {

using namespace rimload;

void draw(benchmark::State& state) {
  const Scene scene = sample::scene();
  const auto view = static_cast<View>(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(draw_heat_map(scene, view));
}

void encode(benchmark::State& state) {
  const Image image = draw_heat_map(sample::scene(), View::front);
  for (auto _ : state) benchmark::DoNotOptimize(png_bytes(image));
}

void draw_and_encode(benchmark::State& state) {
  const Scene scene = sample::scene();
  for (auto _ : state) benchmark::DoNotOptimize(png_bytes(draw_heat_map(scene, View::front)));
}

BENCHMARK(draw)->Arg(0)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(encode)->Unit(benchmark::kMillisecond);
BENCHMARK(draw_and_encode)->Unit(benchmark::kMillisecond);

}  // namespace
