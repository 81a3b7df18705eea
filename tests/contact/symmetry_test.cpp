// What must not change: mirror images, and the frame a mask is described in.
#include "catch.hpp"
#include "scene.hpp"

using namespace rimload;

namespace {

const Vec3 mirror(-1, 1, 1);

// Tension of the four straps, each its own: left pair, right pair.
PhaseState solve_pulled(const Mask& mask, const Setting& setting, std::vector<double> tension_n) {
  MaskOnFace on_face(reference_face().field(), mask, {});
  MaskState state = set_up(on_face, setting);
  on_face.place(state.pose, tension_n);
  return balance_phase(on_face, state, {});
}

// The sample at the mirrored place: stations count from the apex, a pad's columns from one side.
const ContactSample& mirror_image(const PhaseState& state, const ContactSample& sample,
                                  int n_stations) {
  constexpr int n_columns = 14;  // of a pad 36 mm wide
  for (const ContactSample& other : state.samples) {
    if (other.part != sample.part) continue;
    const bool found =
        sample.part == Part::rim
            ? other.station == (n_stations - sample.station) % n_stations &&
                  other.across == sample.across
            : other.station == sample.station && other.across == n_columns - 1 - sample.across;
    if (found) return other;
  }
  throw std::logic_error("no mirror image");
}

// Largest difference of pressure between a state and the mirror image of another [N/mm2].
double mirror_error(const PhaseState& a, const PhaseState& b, int n_stations) {
  double worst = 0;
  for (const ContactSample& sample : a.samples) {
    const ContactSample& other = mirror_image(b, sample, n_stations);
    worst = std::max(worst, std::abs(sample.pressure - other.pressure));
    worst = std::max(worst, (sample.shear - mirror.cwiseProduct(other.shear)).norm());
  }
  return worst;
}

double peak(const PhaseState& state) {
  double out = 0;
  for (const ContactSample& s : state.samples) out = std::max(out, s.pressure);
  return out;
}

// A point p of the mask frame described in another: p' = turn p + shift.
Mask redescribed(Mask mask, const Mat3& turn, const Vec3& shift) {
  const auto move = [&](Vec3& point) { point = turn * point + shift; };
  for (RimStation& station : mask.rim.stations) {
    move(station.crown);
    for (Vec3* direction : {&station.tangent, &station.axis, &station.across}) {
      *direction = turn * *direction;
    }
  }
  for (Strap& strap : mask.straps) move(strap.anchor_mask);
  for (FrameLoad& load : mask.masses) move(load.point_mask);
  move(mask.hose_point_mask);
  return mask;
}

}  // namespace

TEST_CASE("a symmetric mask on a symmetric face sits symmetrically") {
  const PhaseState state = solve(test_mask(), {});
  REQUIRE(state.termination == Termination::converged);
  // Balanced to 1e-6 N at a stiffness of several N/mm: pressures agree far below 1e-6 of the peak.
  CHECK(mirror_error(state, state, 120) < 1e-6 * peak(state));
  CHECK(std::abs((state.pose * Vec3::Zero()).x()) < 1e-6);
}

TEST_CASE("the mirrored case has the mirrored result") {
  const Mask mask = test_mask();
  Setting setting{.tension_n = 4, .gas_pressure = 1e-3, .gravity = Vec3(0.48, -0.6, -0.64)};
  setting.offset = {.shift_mm = {1.5, 0.5, 0}, .turn_rad = {0.01, 0.02, -0.015}};
  const PhaseState plain = solve_pulled(mask, setting, {5, 4, 3, 3.5});
  Setting other = setting;
  other.gravity.x() *= -1;
  other.offset = {.shift_mm = {-1.5, 0.5, 0}, .turn_rad = {0.01, -0.02, 0.015}};
  const PhaseState mirrored = solve_pulled(mask, other, {3, 3.5, 5, 4});
  REQUIRE(plain.termination == Termination::converged);
  REQUIRE(mirrored.termination == Termination::converged);
  CHECK(mirror_error(plain, mirrored, 120) < 1e-6 * peak(plain));
  CHECK(mirror_error(plain, plain, 120) > 0.05 * peak(plain));  // it is lopsided indeed
}

TEST_CASE("another frame to describe the mask in changes nothing on the face") {
  Mask mask = test_mask();
  mask.pad.reset();  // its face is given by an angle about the frame's own x axis
  const Mat3 turn = Eigen::AngleAxisd(0.7, Vec3(1, -2, 3).normalized()).toRotationMatrix();
  const Vec3 shift(12, -7, 30);
  const Mask other = redescribed(mask, turn, shift);

  MaskOnFace plain(reference_face().field(), mask, {});
  MaskOnFace moved(reference_face().field(), other, {});
  MaskState start = set_up(plain, {});
  MaskState other_start = start;
  other_start.pose.rotation = start.pose.rotation * turn.transpose();
  other_start.pose.translation_mm = start.pose * Vec3(-turn.transpose() * shift);
  moved.place(other_start.pose, std::vector<double>(4, 4.0));
  moved.set_gas_and_gravity(1.2e-3, {0, -0.6, -0.8});
  const PhaseState a = balance_phase(plain, start, {});
  const PhaseState b = balance_phase(moved, other_start, {});
  REQUIRE(a.termination == Termination::converged);
  REQUIRE(b.termination == Termination::converged);
  double worst = 0;
  for (std::size_t k = 0; k < a.samples.size(); ++k) {
    worst = std::max(worst, std::abs(a.samples[k].pressure - b.samples[k].pressure));
    worst = std::max(worst, (a.samples[k].shear - b.samples[k].shear).norm());
    REQUIRE((a.samples[k].position - b.samples[k].position).norm() < 1e-6);
  }
  CHECK(worst < 1e-6 * peak(a));
  CHECK((a.gas.moment_n_mm - b.gas.moment_n_mm).norm() < 1e-4);
}
