// The same result, whichever way one comes to it.
#include <future>

#include "catch.hpp"
#include "scene.hpp"

using namespace rimload;

namespace {

bool same_bits(const PhaseState& a, const PhaseState& b) {
  if (a.samples.size() != b.samples.size() || a.lip_mm != b.lip_mm) return false;
  if (a.pose.translation_mm != b.pose.translation_mm || a.pose.rotation != b.pose.rotation) {
    return false;
  }
  for (std::size_t k = 0; k < a.samples.size(); ++k) {
    const ContactSample& s = a.samples[k];
    const ContactSample& t = b.samples[k];
    if (s.pressure != t.pressure || s.shear != t.shear || s.position != t.position) return false;
  }
  return true;
}

// Largest difference of a sample's pressure over the peak.
double difference(const PhaseState& a, const PhaseState& b) {
  double worst = 0, peak = 0;
  for (std::size_t k = 0; k < a.samples.size(); ++k) {
    worst = std::max(worst, std::abs(a.samples[k].pressure - b.samples[k].pressure));
    peak = std::max(peak, a.samples[k].pressure);
  }
  return worst / peak;
}

}  // namespace

TEST_CASE("the same case has the same bits, run again and on any number of threads") {
  const Mask mask = test_mask();
  const auto run = [&](double tension) { return solve(mask, {.tension_n = tension}); };
  const std::vector<double> tensions{3, 4, 5, 6};
  std::vector<std::future<PhaseState>> running;
  for (const double tension : tensions) {
    running.push_back(std::async(std::launch::async, run, tension));
  }
  for (std::size_t k = 0; k < tensions.size(); ++k) {
    const PhaseState serial = run(tensions[k]);
    REQUIRE(serial.termination == Termination::converged);
    CHECK(same_bits(serial, running[k].get()));
    CHECK(same_bits(serial, run(tensions[k])));
  }
}

TEST_CASE("a solve from a neighbouring balance agrees with one from the placement") {
  MaskOnFace mask(reference_face().field(), test_mask(), {});
  for (const double before : {0.2e-3, 1.0e-3, 2.0e-3}) {
    MaskState state = set_up(mask, {.gas_pressure = before});
    REQUIRE(balance_phase(mask, state, {}).termination == Termination::converged);
    mask.set_gas_and_gravity(1.2e-3, Setting{}.gravity);
    const PhaseState warm = balance_phase(mask, state, {});
    const PhaseState cold = solve(test_mask(), {.gas_pressure = 1.2e-3});
    // Both are balanced to 1e-6 N and polished; a peak near 10 kPa.
    CHECK(difference(warm, cold) < 1e-6);
  }
}

TEST_CASE("the order of the phases of a breath doesn't matter") {
  MaskOnFace mask(reference_face().field(), test_mask(), {});
  const auto visit = [&](std::vector<double> pressures) {
    MaskState state = set_up(mask, {});
    PhaseState last;
    for (const double pressure : pressures) {
      mask.set_gas_and_gravity(pressure, Setting{}.gravity);
      last = balance_phase(mask, state, {});
      REQUIRE(last.termination == Termination::converged);
    }
    return last;
  };
  const PhaseState direct = visit({0.6e-3});
  CHECK(difference(direct, visit({1.8e-3, 0.6e-3})) < 1e-6);
  CHECK(difference(direct, visit({0.6e-3, 1.8e-3, 0.6e-3})) < 1e-6);
}

TEST_CASE("a warm solve takes fewer evaluations than a cold one") {
  MaskOnFace mask(reference_face().field(), test_mask(), {});
  MaskState state = set_up(mask, {});
  const int cold = balance_phase(mask, state, {}).evaluations;
  mask.set_gas_and_gravity(1.25e-3, Setting{}.gravity);
  CHECK(balance_phase(mask, state, {}).evaluations < cold);
}
