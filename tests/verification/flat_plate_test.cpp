// A flat lip on flat uniform skin, where every station is alike and sums can be done by hand.
#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "contact/solve.hpp"
#include "shaped_skin.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr double radius_mm = 28;
constexpr double push_n = 6;
const TissuePoint tissue_point{.depth_mm = 12, .youngs_n_mm2 = 0.03, .backing_mm3_n = 40};

// A round mask with a lip as good as flat, pushed in its middle by a force that never changes, and
// held sideways by straps too soft to pull.
struct Plate {
  SkinMap skin = flat_skin();
  TissueMap tissue = TissueMap::uniform(tissue_point);
  LayerModulus modulus{0.45};
  Mask mask;
  EquilibriumOptions options;

  Plate() {
    mask.rim = sample_rim(ring(radius_mm, {.lip_width_mm = 9, .crown_radius_mm = 1e7}), {120, 9});
    mask.lip.gas_share = 0;
    mask.friction = 1e-3;  // next to none: some is needed, or the mask could slide and spin freely
    mask.hose_pull_n = {0, 0, -push_n};
    mask.hose_point_mask = {0, -radius_mm, 0};
  }
  [[nodiscard]] PhaseState at(double gas_pressure) const {
    MaskOnFace on_face({skin, tissue, modulus}, mask, options);
    Pose pose;
    pose.translation_mm = {0, radius_mm, shape_front_z_mm - 0.5};
    on_face.place(pose, {});
    on_face.set_gas_and_gravity(gas_pressure, {0, -1, 0});
    MaskState state{pose, Eigen::VectorXd::Zero(120)};
    return balance_phase(on_face, state, options);
  }
};

struct Contact {
  double force_n = 0, area_mm2 = 0, least = 1e9, most = 0;
  [[nodiscard]] double mean() const { return force_n / area_mm2; }
};
Contact contact_of(const PhaseState& state) {
  Contact out;
  for (const ContactSample& s : state.samples) {
    if (s.pressure <= 0) continue;
    out.force_n += s.area_mm2 * s.pressure;
    out.area_mm2 += s.area_mm2;
    out.least = std::min(out.least, s.pressure);
    out.most = std::max(out.most, s.pressure);
  }
  return out;
}

}  // namespace

TEST_CASE("a flat lip pressed evenly presses evenly: the patch test") {
  const Plate plate;
  const PhaseState state = plate.at(0);
  REQUIRE(state.termination == Termination::converged);
  const Contact contact = contact_of(state);
  CHECK(contact.force_n == Approx(push_n).epsilon(1e-6));
  // The ring of width 9 mm, all of it in touch.
  CHECK(contact.area_mm2 == Approx(2 * std::numbers::pi * radius_mm * 9).epsilon(1e-3));
  // Cells' lengths are chords, and a lip bent in its plane has more area outside than inside: what
  // is left is the spline's unevenness of the circle.
  CHECK(contact.most == Approx(contact.least).epsilon(1e-4));
  CHECK(contact.most == Approx(push_n / contact.area_mm2).epsilon(1e-4));
}

TEST_CASE("lip, tissue and what lies beneath give way as springs in series") {
  Plate plate;
  const PhaseState state = plate.at(0);
  const double p = contact_of(state).mean();
  const double m = tissue_point.youngs_n_mm2 *
                   plate.modulus.at(std::hypot(9, least_width_mm) / tissue_point.depth_mm).ratio;
  const double tissue = tissue_point.depth_mm * (1 - std::exp(-p / m));
  const double beneath = tissue_point.backing_mm3_n * p;
  const double lip = p / plate.mask.lip.stiffness_n_mm3;
  CHECK(state.lip_mm.mean() == Approx(lip).epsilon(2e-3));
  const double travel = shape_front_z_mm - state.pose.translation_mm.z();
  CHECK(travel ==
        Approx(lip + tissue + beneath + plate.options.contact_blend_mm / 2).epsilon(2e-3));
}

TEST_CASE("gas takes off contact pressure by the area inside over the area of contact (V5)") {
  const Plate plate;
  const double low = units::from_cmh2o(4);
  const double high = units::from_cmh2o(10);
  const PhaseState at_low = plate.at(low);
  const PhaseState at_high = plate.at(high);
  REQUIRE(at_low.termination == Termination::converged);
  REQUIRE(at_high.termination == Termination::converged);
  const double ratio = (contact_of(at_low).mean() - contact_of(at_high).mean()) / (high - low);
  const double inner = radius_mm - 4.5;
  const double exact = inner * inner / (2 * radius_mm * 9);
  WARN("V5: dP_contact/dP_gas " << ratio << ", A_inside/A_contact " << exact);
  CHECK(ratio == Approx(exact).epsilon(0.01));
}

TEST_CASE("with a gas-backed lip the balance on the flat is the same, the lip is let out less") {
  Plate gel;
  Plate flap;
  flap.mask.lip.gas_share = 1;
  const PhaseState a = gel.at(units::from_cmh2o(8));
  const PhaseState b = flap.at(units::from_cmh2o(8));
  CHECK(contact_of(a).force_n == Approx(contact_of(b).force_n).epsilon(1e-6));
  // Gas behind the lip carries P a unit of area of it: the spring is let out by P/k.
  const double eased = units::from_cmh2o(8) / gel.mask.lip.stiffness_n_mm3;
  CHECK(a.lip_mm.mean() - b.lip_mm.mean() == Approx(eased).epsilon(5e-3));
}
