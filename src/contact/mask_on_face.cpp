#include "contact/mask_on_face.hpp"

#include <cassert>
#include <cmath>

#include "contact/forehead_pad.hpp"
#include "contact/gas_edge.hpp"
#include "contact/gas_loop.hpp"
#include "contact/rim_beam.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

// How the arm of a point of the mask changes with shift, turn and lip: [0, -[arm]x, axis]. The
// reference point, from which arms are taken, shifts along.
Mat37 change_of_arm(const Vec3& arm, const Vec3& axis) {
  Mat37 change;
  change << Mat3::Zero(), -cross_matrix(arm), axis;
  return change;
}

// How far the point itself moves along a direction: direction' [1, -[arm]x, axis].
Row7 motion_along(const Vec3& direction, const Vec3& arm, const Vec3& axis) {
  Row7 row;
  row << direction.transpose(), arm.cross(direction).transpose(), direction.dot(axis);
  return row;
}

// A force at an arm: wrench and lip force, as 7 values.
Vec7 generalised(const Vec3& force, const Vec3& arm, const Vec3& axis) {
  Vec7 out;
  out << force, arm.cross(force), axis.dot(force);
  return out;
}

}  // namespace

// Sums over the samples of one station; the last row and column belong to the lip.
struct MaskOnFace::Station {
  Vec7 force = Vec7::Zero();
  Mat7 slope = Mat7::Zero();
  Vec7 by_width = Vec7::Zero();  ///< of force by contact width
  Row7 width_slope = Row7::Zero();

  void add(const Traction& traction, double area, const Vec3& arm, const Vec3& axis) {
    const Vec3 f = area * traction.force;
    force += generalised(f, arm, axis);
    // Rows of the 3 x 3 derivative K, each moved along with the mask; the moment's rows are
    // arm x those. At constant f the arm turns and the lip's axis with it.
    const Mat3 k = area * traction.by_position;
    Mat37 df;
    for (int row = 0; row < 3; ++row) df.row(row) = motion_along(k.row(row), arm, axis);
    slope.row(0) += df.row(0);
    slope.row(1) += df.row(1);
    slope.row(2) += df.row(2);
    slope.row(3) += arm.y() * df.row(2) - arm.z() * df.row(1);
    slope.row(4) += arm.z() * df.row(0) - arm.x() * df.row(2);
    slope.row(5) += arm.x() * df.row(1) - arm.y() * df.row(0);
    slope.row(6) += axis.x() * df.row(0) + axis.y() * df.row(1) + axis.z() * df.row(2);
    const Vec3 turned = axis.cross(f);
    slope.block<3, 3>(3, 3) += arm * f.transpose() - f.dot(arm) * Mat3::Identity();
    slope.block<3, 1>(3, 6) += turned;
    slope.block<1, 3>(6, 3) += turned.transpose();
    by_width += generalised(area * traction.by_width, arm, axis);
  }
};

MaskOnFace::MaskOnFace(const FaceField& face, const Mask& mask, const EquilibriumOptions& options)
    : face_(face), mask_(mask), options_(options) {
  const SampledRim& rim = mask_.rim;
  const std::size_t n = rim.n_stations();
  beam_ = RimBeam{.bending_n_mm2 = mask_.lip.bending_n_mm2,
                  .tension_n = mask_.lip.hoop_tension_n,
                  .station_mm = rim.perimeter_mm / static_cast<double>(n)}
              .stiffness(static_cast<int>(n));
  reference_mask_.setZero();
  for (std::size_t i = 0; i < n; ++i) {
    reference_mask_ += rim.stations[i].crown / static_cast<double>(n);
    for (std::size_t j = 0; j < rim.n_across(); ++j) {
      const double length =
          rim.sample_length_mm(static_cast<Eigen::Index>(j), static_cast<Eigen::Index>(i));
      local_.push_back({Part::rim, i, j, rim.sample(i, j), length * rim.cell_mm});
    }
  }
  if (mask_.pad) {
    for (const PadSample& s : sample_pad(*mask_.pad)) {
      local_.push_back({Part::pad, s.row, s.column, s.position_mask, s.area_mm2});
    }
  }
  edge_.resize(n);
  edge_slope_.resize(n);
}

void MaskOnFace::place(const Pose& pose, std::span<const double> tension_n) {
  assert(tension_n.size() == mask_.straps.size());
  placed_.clear();
  for (const LocalSample& sample : local_) placed_.push_back(pose * sample.position_mask);
  bands_.clear();
  for (std::size_t k = 0; k < mask_.straps.size(); ++k) {
    const Strap& strap = mask_.straps[k];
    const double length = (strap.exit_face - pose * strap.anchor_mask).norm();
    bands_.push_back(band_with_tension(strap.stiffness_n_mm, tension_n[k], length));
  }
}

void MaskOnFace::set_gas_and_gravity(double gas_pressure, const Vec3& gravity) {
  gas_pressure_ = gas_pressure;
  gravity_ = gravity;
}

SampleLaw MaskOnFace::law_of(const LocalSample& sample) const {
  SampleLaw law;
  law.modulus = &face_.modulus;
  law.blend_mm = options_.contact_blend_mm;
  law.slip.mu = mask_.friction;
  law.slip.layer_stiffness_n_mm3 = mask_.lip.tangential_stiffness_n_mm3;
  if (sample.part == Part::pad) {
    law.contact_width_mm = mask_.pad->height_mm;
    law.layer_compliance_mm3_n = 1 / mask_.pad->stiffness_n_mm3;
    law.slip.layer_stiffness_n_mm3 = mask_.pad->stiffness_n_mm3;
  }
  return law;
}

void MaskOnFace::add_station(std::size_t station, const MaskState& state, Balance& out) {
  const SampledRim& rim = mask_.rim;
  const std::size_t n_across = rim.n_across();
  const auto row = static_cast<Eigen::Index>(station);
  const std::size_t first = station * n_across;
  const Vec3 axis = state.pose.rotation * rim.stations[station].axis;
  const Vec3 lift = state.lip_mm[row] * axis;
  const Vec3 origin = state.pose * reference_mask_;

  touching_.clear();
  EdgeSamples edge(n_across);
  Station sum;
  double width = 0;
  double pressed_area = 0;  // area weighted by how surely it touches
  Row7 pressed_slope = Row7::Zero();
  for (std::size_t j = 0; j < n_across; ++j) {
    const LocalSample& local = local_[first + j];
    const Vec3 position = state.pose * local.position_mask + lift;
    const auto skin = face_.skin.pressed(position);
    if (!skin) continue;
    const Switch chi = smooth_switch(-skin->distance / options_.edge_blend_mm);
    const Row7 chi_slope =
        -chi.slope / options_.edge_blend_mm * motion_along(skin->gradient, position - origin, axis);
    edge.touch(j, chi.value, chi_slope);
    width += chi.value * rim.cell_mm;
    sum.width_slope += rim.cell_mm * chi_slope;
    pressed_area += chi.value * local.area_mm2;
    pressed_slope += local.area_mm2 * chi_slope;
    touching_.push_back({first + j, *skin, position});
  }
  for (const Touching& t : touching_) {
    SampleLaw law = law_of(local_[t.sample]);
    law.contact_width_mm = width;
    const Traction traction =
        skin_traction(t.skin, face_.tissue.at(t.skin.uv), t.position - placed_[t.sample], law);
    out.pressure[t.sample] = traction.pressure;
    sum.add(traction, local_[t.sample].area_mm2, t.position - origin, axis);
  }
  sum.slope += sum.by_width * sum.width_slope;

  const RimStation& geometry = rim.stations[station];
  const Response lip = mask_.lip.force_per_length(state.lip_mm[row], rim.section.lip_width_mm,
                                                  geometry.stiffness_factor);
  const double share = mask_.lip.gas_share * gas_pressure_;
  out.mask += sum.force.head<6>();
  out.mask_by_pose += sum.slope.topLeftCorner<6, 6>();
  out.mask_by_lip.col(row) = sum.slope.topRightCorner<6, 1>();
  out.lip[row] = sum.force[6] - lip.value * geometry.length_mm - share * pressed_area;
  out.lip_by_pose.row(row) = sum.slope.bottomLeftCorner<1, 6>() - share * pressed_slope.head<6>();
  out.lip_by_lip[row] = sum.slope(6, 6) - lip.slope * geometry.length_mm - share * pressed_slope[6];

  // The innermost edge of contact, where the gas stops.
  const GasEdge gas = edge.locate(rim.cell_mm);
  const double s = gas.offset_mm - 0.5 * rim.section.lip_width_mm;
  const double curvature = 1 / rim.section.crown_radius_mm;
  const Vec3 local = geometry.crown + s * geometry.across + 0.5 * s * s * curvature * geometry.axis;
  const Vec3 moves_by = state.pose.rotation * (geometry.across + s * curvature * geometry.axis);
  edge_[station] = state.pose * local + lift - origin;
  edge_slope_[station] = change_of_arm(edge_[station], axis) + moves_by * gas.slope;
}

void MaskOnFace::add_pad(const MaskState& state, Balance& out) {
  const Vec3 origin = state.pose * reference_mask_;
  Station sum;
  for (std::size_t k = n_stations() * mask_.rim.n_across(); k < local_.size(); ++k) {
    const Vec3 position = state.pose * local_[k].position_mask;
    const auto skin = face_.skin.pressed(position);
    if (!skin) continue;
    const Traction traction =
        skin_traction(*skin, face_.tissue.at(skin->uv), position - placed_[k], law_of(local_[k]));
    out.pressure[k] = traction.pressure;
    sum.add(traction, local_[k].area_mm2, position - origin, Vec3::Zero());
  }
  out.mask += sum.force.head<6>();
  out.mask_by_pose += sum.slope.topLeftCorner<6, 6>();
}

void MaskOnFace::add_gas(Balance& out) const {
  // Seen from the front the rim runs clockwise, so the thrust on the mask, towards the front, is
  // that of the reversed loop.
  const LoopThrust thrust = loop_thrust(edge_, -gas_pressure_);
  out.mask.head<3>() += thrust.force;
  out.mask.tail<3>() += thrust.moment;
  for (std::size_t i = 0; i < edge_.size(); ++i) {
    const Eigen::Matrix<double, 6, 7> slope = thrust.by_corner[i] * edge_slope_[i];
    out.mask_by_pose += slope.leftCols<6>();
    out.mask_by_lip.col(static_cast<Eigen::Index>(i)) += slope.col(6);
  }
}

void MaskOnFace::add_straps_and_weight(const MaskState& state, Balance& out) const {
  const Vec3 origin = state.pose * reference_mask_;
  for (std::size_t k = 0; k < bands_.size(); ++k) {
    const Strap& strap = mask_.straps[k];
    const Wrench pull =
        strap_pull(bands_[k], state.pose * strap.anchor_mask - origin, strap.exit_face - origin);
    out.mask += pull.value;
    out.mask_by_pose += pull.slope;
  }
  const auto add_force = [&](const Vec3& force, const Vec3& point_mask) {
    const Vec3 arm = state.pose * point_mask - origin;
    out.mask.head<3>() += force;
    out.mask.tail<3>() += arm.cross(force);
    out.mask_by_pose.bottomRightCorner<3, 3>() += cross_matrix(force) * cross_matrix(arm);
  };
  for (const FrameLoad& load : mask_.masses) {
    add_force(load.mass_kg * units::newton_per_kilogram * gravity_, load.point_mask);
  }
  add_force(mask_.hose_pull_n, mask_.hose_point_mask);
}

Balance MaskOnFace::evaluate(const MaskState& state) {
  assert(placed_.size() == local_.size());
  const auto n = static_cast<Eigen::Index>(n_stations());
  Balance out;
  out.lip.resize(n);
  out.mask_by_lip.resize(6, n);
  out.lip_by_pose.resize(n, 6);
  out.lip_by_lip.resize(n);
  out.pressure.assign(local_.size(), 0.0);
  for (std::size_t i = 0; i < n_stations(); ++i) add_station(i, state, out);
  add_pad(state, out);
  add_gas(out);
  add_straps_and_weight(state, out);
  out.lip -= beam_ * state.lip_mm;
  return out;
}

}  // namespace rimload
