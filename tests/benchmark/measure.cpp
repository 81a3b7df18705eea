// A face from measurements on one core. Target: at most 30 ms from the population's tables to the
// face with its bands and the next measurement.
#include <benchmark/benchmark.h>

#include "geometry/face_prior.hpp"
#include "stored_face.hpp"

namespace {

using namespace rimload;

const std::vector<FaceMeasurement>& taken() {
  static const std::vector<FaceMeasurement> list{
      {Measure::sellion_supramentale, 89}, {Measure::nose_breadth, 36}, {Measure::lip_length, 49}};
  return list;
}

void face_from_measurements(benchmark::State& state) {
  const FaceModel reference = stored_face("reference");
  for (auto _ : state) {
    const FacePrior prior =
        make_face_prior(reference.landmarks, face_population({.sex = Sex::female}));
    const FacePosterior posterior = condition_face(prior, taken());
    benchmark::DoNotOptimize(
        next_measures(prior, posterior, seal_landmarks(SealRegion::over_nose_and_mouth)));
  }
}

void conditioning(benchmark::State& state) {
  const FacePrior prior = make_face_prior(stored_face("reference").landmarks, face_population({}));
  for (auto _ : state) benchmark::DoNotOptimize(condition_face(prior, taken()));
}

void drawing_a_face(benchmark::State& state) {
  const FacePrior prior = make_face_prior(stored_face("reference").landmarks, face_population({}));
  const FaceSampler sampler(prior, condition_face(prior, taken()));
  unsigned seed = 0;
  for (auto _ : state) benchmark::DoNotOptimize(sampler.draw(++seed));
}

BENCHMARK(face_from_measurements)->Unit(benchmark::kMillisecond);
BENCHMARK(conditioning)->Unit(benchmark::kMillisecond);
BENCHMARK(drawing_a_face)->Unit(benchmark::kMillisecond);

}  // namespace
