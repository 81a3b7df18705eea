#include "scene.hpp"

#include <array>
#include <vector>

#include "stored_face.hpp"

namespace rimload {

ReferenceFace::ReferenceFace()
    : model(stored_face("reference")),
      skin(model.landmarks),
      tissue(skin, model.landmarks),
      modulus(0.45) {}

const ReferenceFace& reference_face() {
  static const ReferenceFace face;
  return face;
}

Mask test_mask(RimSampling sampling) {
  const ReferenceFace& face = reference_face();
  struct OutlinePoint {
    double x, y, proud;
  };
  constexpr std::array<OutlinePoint, 9> half{{{0, -7, 3},
                                              {10, -12, 2},
                                              {18, -25, 0},
                                              {26, -39, 0},
                                              {33, -53, 0},
                                              {36, -66, 0},
                                              {32, -78, 0},
                                              {19, -87, 0},
                                              {0, -90, 0}}};
  const Vec3 apex(0, half[0].y, front_z(face.skin, 0, half[0].y) - half[0].proud);
  Rim rim{.controls = {}, .section = {.lip_width_mm = 9, .crown_radius_mm = 8}};
  const auto add = [&](const OutlinePoint& p, double side) {
    Vec3 at(p.x, p.y, front_z(face.skin, p.x, p.y));
    Vec3 axis = face.skin.normal(SkinMap::chart(at)) + Vec3::UnitZ();
    if (p.x == 0) axis.x() = 0;
    at.z() -= p.proud;
    const Vec3 mirror(side, 1, 1);
    rim.controls.push_back({mirror.cwiseProduct(at - apex), mirror.cwiseProduct(axis).normalized(),
                            1 + 0.3 * (p.y < -80)});
  };
  for (const OutlinePoint& p : half) add(p, 1);
  for (std::size_t k = half.size() - 2; k > 0; --k) add(half[k], -1);

  Mask mask;
  mask.rim = sample_rim(rim, sampling);
  mask.lip = {.stiffness_n_mm3 = 1e-3,
              .travel_mm = 3,
              .bottomed_stiffness_n_mm3 = 12e-3,
              .tangential_stiffness_n_mm3 = 1e-3,
              .gas_share = 0.7,
              .bending_n_mm2 = 12,
              .hoop_tension_n = 0.3};
  for (const Side side : {Side::left, Side::right}) {
    const Vec3 mirror(side == Side::right ? -1 : 1, 1, 1);
    const Vec3 tragion = find_landmark(face.model.landmarks, "tragion", side).position_face;
    const auto strap = [&](const char* name, const Vec3& anchor, const Vec3& from_tragion) {
      mask.straps.push_back({.name = name,
                             .side = side,
                             .anchor_mask = mirror.cwiseProduct(anchor),
                             .exit_face = tragion + mirror.cwiseProduct(from_tragion),
                             .bearings = {}});
    };
    strap("upper", {31, 4, 20}, {0, 28, -5});
    strap("lower", {34, -68, 12}, {-3, -45, 0});
  }
  mask.pad = ForeheadPad{.centre_mask = Vec3(0, 45, 8) - Vec3(0, 0, apex.z()) +
                                        Vec3(0, 0, front_z(face.skin, 0, 38) - 8.5),
                         .width_mm = 36,
                         .height_mm = 12,
                         .lean_rad = -0.2,
                         .stiffness_n_mm3 = 2e-3};
  mask.masses = {{{0, -48, 42}, 0.09}, {{0, -58, 60}, 0.04}};
  mask.hose_pull_n = {0, -0.3, 0.1};
  mask.hose_point_mask = {0, -58, 60};
  mask.apex_below_sellion_mm = 7;
  return mask;
}

MaskState set_up(MaskOnFace& mask, const Setting& setting) {
  const Pose pose = mask.placement(setting.offset);
  mask.place(pose, std::vector<double>(mask.mask().straps.size(), setting.tension_n));
  mask.set_gas_and_gravity(setting.gas_pressure, setting.gravity);
  return {pose, Eigen::VectorXd::Zero(static_cast<Eigen::Index>(mask.n_stations()))};
}

PhaseState solve(const Mask& mask, const Setting& setting, const EquilibriumOptions& options) {
  MaskOnFace on_face(reference_face().field(), mask, options);
  MaskState state = set_up(on_face, setting);
  return balance_phase(on_face, state, options);
}

namespace {
Vec6 wrench(const Vec3& force, const Vec3& at) {
  Vec6 out;
  out << force, at.cross(force);
  return out;
}
}  // namespace

Vec6 contact_wrench(const PhaseState& state) {
  Vec6 sum = Vec6::Zero();
  for (const ContactSample& s : state.samples) {
    sum += wrench(s.area_mm2 * (s.pressure * s.normal + s.shear), s.position);
  }
  return sum;
}

Vec6 load_wrench(const PhaseState& state) {
  Vec6 sum;
  sum << state.gas.force_n, state.gas.moment_n_mm;
  for (const StrapLoad& strap : state.straps) {
    sum += wrench(strap.tension_n * strap.direction, strap.anchor_face);
  }
  for (const PointLoad& load : {state.weight, state.hose}) {
    sum += wrench(load.force_n, load.point_mm);
  }
  return sum;
}

}  // namespace rimload
