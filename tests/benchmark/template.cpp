// Cut templates on one core: a piece laid flat, with and without a search for a slit, and its
// pages. Targets: a piece that needs no slit at most 100 ms, one that does at most 500 ms, the PDF
// at most 100 ms.
#include <benchmark/benchmark.h>

#include <algorithm>

#include "dressing/template.hpp"
#include "fit/fit.hpp"
#include "geometry/flatten.hpp"
#include "geometry/skin_patch.hpp"
#include "report/template_pdf.hpp"
#include "stored_case.hpp"

namespace {

using namespace rimload;

const Estimate& estimate() {
  static const Estimate once = estimate_fit(demo_case("first-fit"));
  return once;
}

const DressingPlace& place_at(Site site) {
  const auto& places = estimate().dressing_places;
  return *std::find_if(places.begin(), places.end(),
                       [&](const DressingPlace& place) { return place.site.site == site; });
}

void piece(benchmark::State& state, Site site) {
  const CutRule rule = usual_cut_rule();
  std::size_t cuts = 0;
  for (auto _ : state) {
    const TemplatePiece made = make_template(estimate().face.skin, place_at(site), rule);
    cuts = made.cuts.size();
    benchmark::DoNotOptimize(made);
  }
  state.counters["cuts"] = static_cast<double>(cuts);
}

std::vector<Vec2> chart_outline(Site site) {
  std::vector<Vec2> out;
  for (const Vec3& point : place_at(site).outline) out.push_back(SkinMap::chart(point));
  return simple_outline(out);
}

void meshing_chin(benchmark::State& state) {
  const std::vector<Vec2> outline = chart_outline(Site::chin);
  for (auto _ : state) {
    benchmark::DoNotOptimize(make_skin_patch(estimate().face.skin, outline, {}, {}));
  }
}

void flattening_chin(benchmark::State& state) {
  const SkinPatch patch = make_skin_patch(estimate().face.skin, chart_outline(Site::chin), {}, {});
  int steps = 0;
  for (auto _ : state) {
    const FlatPatch flat = flatten(patch.mesh);
    steps = flat.steps;
    benchmark::DoNotOptimize(flat);
  }
  state.counters["steps"] = steps;
  state.counters["points"] = static_cast<double>(patch.uv.size());
}

void pdf(benchmark::State& state) {
  const CutRule rule = usual_cut_rule();
  std::vector<TemplatePiece> pieces;
  for (const DressingPlace& place : estimate().dressing_places) {
    pieces.push_back(make_template(estimate().face.skin, place, rule));
  }
  const TemplatePrint print{.title = "Benchmark",
                            .note = "Invented.",
                            .material = "demo-thin-foam",
                            .sheet = {100, 100},
                            .rule = rule,
                            .paper = Paper::a4};
  for (auto _ : state) benchmark::DoNotOptimize(template_pdf(pieces, print));
  state.counters["pieces"] = static_cast<double>(pieces.size());
}

BENCHMARK_CAPTURE(piece, chin, Site::chin)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(piece, bridge_with_slit, Site::nasal_bridge)->Unit(benchmark::kMillisecond);
BENCHMARK(meshing_chin)->Unit(benchmark::kMillisecond);
BENCHMARK(flattening_chin)->Unit(benchmark::kMillisecond);
BENCHMARK(pdf)->Unit(benchmark::kMillisecond);

}  // namespace
