// Whatever a user may set, the engine comes to a balance or says why not.
#include <algorithm>
#include <random>

#include "catch.hpp"
#include "demo_case.hpp"
#include "stored_face.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr unsigned seed = 20;

class Random {
 public:
  explicit Random(unsigned seed_value) : engine_(seed_value) {}
  double within(double from, double to) {
    return from + (to - from) * static_cast<double>(engine_()) / 4294967296.0;
  }
  std::size_t below(std::size_t n) { return engine_() % n; }

 private:
  std::mt19937 engine_;
};

}  // namespace

TEST_CASE("200 random cases all come to a balance") {
  Random random(seed);
  std::vector<int> evaluations;
  int n_seated = 0;
  int n_at_jump = 0;  // 3 of 3,000, all below-the-nose rims in the fold under the nose
  double worst_force = 0, worst_moment = 0;
  for (int k = 0; k < 200; ++k) {
    Case input =
        case_with(demo_cushions()[random.below(demo_cushions().size())], random.within(3, 40));
    input.face = face_named(face_names[random.below(face_names.size())]);
    input.posture = static_cast<Posture>(random.below(5));
    input.placement.shift_mm = {random.within(-3, 3), random.within(-3, 3), 0};
    input.placement.turn_rad = {random.within(-0.05, 0.05), random.within(-0.05, 0.05),
                                random.within(-0.05, 0.05)};
    std::vector<double> tension;
    const double all = 0.5 * std::pow(40.0, random.within(0, 1));  // 0.5 to 20 N, even in log
    for (std::size_t s = 0; s < 2 * input.cushion.straps.size(); ++s) {
      tension.push_back(std::clamp(all * random.within(0.8, 1.25), 0.5, 20.0));
    }
    const TrialPhase found = solve_case(input, tension);
    INFO("case " << k << ": " << input.cushion.name << ' ' << input.cushion.size << " on "
                 << input.face.name << ", " << units::to_cmh2o(input.settings.expiratory)
                 << " cmH2O, about " << all << " N: " << found.reason << ", "
                 << found.state.evaluations << " evaluations, " << found.state.force_residual_n
                 << " N");
    CHECK(found.state.termination != Termination::evaluation_limit);
    evaluations.push_back(found.state.evaluations);
    n_seated += found.seated;
    if (found.state.termination == Termination::at_jump) {
      ++n_at_jump;
      CHECK(found.state.force_residual_n < 0.02);
      continue;
    }
    worst_force = std::max(worst_force, found.state.force_residual_n);
    worst_moment = std::max(worst_moment, found.state.moment_residual_n_mm);
  }
  CHECK(worst_force < 1e-6);
  CHECK(worst_moment < 1e-4);
  CHECK(n_seated > 100);
  CHECK(n_at_jump <= 1);
  std::sort(evaluations.begin(), evaluations.end());
  CHECK(evaluations[100] <= 25);
  WARN("median " << evaluations[100] << " evaluations, nine in ten within " << evaluations[180]
                 << ", most " << evaluations.back() << ", seated " << n_seated << " of 200, worst "
                 << worst_force << " N, " << worst_moment << " N mm");
}
