#include "contact/mask_on_face.hpp"

#include <cassert>
#include <cmath>
#include <utility>

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

}  // namespace

// Sums over the samples of one station, or of the pad, with their slopes by shift and turn.
struct MaskOnFace::Sum {
  Vec6 force = Vec6::Zero();
  Mat6 slope = Mat6::Zero();
  Vec6 by_width = Vec6::Zero();  ///< of force by contact width

  void add(const Traction& traction, double area, const Vec3& arm, Slopes slopes) {
    const Vec3 f = area * traction.force;
    force.head<3>() += f;
    force.tail<3>() += arm.cross(f);
    if (slopes == Slopes::without) return;
    const Vec3 w = area * traction.by_width;
    by_width.head<3>() += w;
    by_width.tail<3>() += arm.cross(w);
    Eigen::Matrix<double, 3, 6> of_force;  // by shift and by turn
    of_force.leftCols<3>() = area * traction.by_position;
    for (Eigen::Index k = 0; k < 3; ++k) {
      of_force.rightCols<3>().row(k) = arm.cross(of_force.row(k).head<3>().transpose());
    }
    slope.topRows<3>() += of_force;
    for (Eigen::Index k = 0; k < 6; ++k) {
      slope.col(k).tail<3>() += arm.cross(of_force.col(k));
    }
    // At constant force the arm turns.
    slope.bottomRightCorner<3, 3>() += arm * f.transpose();
    slope.diagonal().tail<3>().array() -= f.dot(arm);
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
      local_.push_back({Part::rim, i, j, rim.sample(i, j), length * rim.cell_mm[j]});
    }
  }
  if (mask_.pad) {
    for (const PadSample& s : sample_pad(*mask_.pad)) {
      local_.push_back({Part::pad, s.row, s.column, s.position_mask, s.area_mm2});
    }
  }
  for (const LocalSample& local : local_) {
    ContactSample sample;
    sample.part = local.part;
    sample.station = static_cast<int>(local.station);
    sample.across = static_cast<int>(local.across);
    sample.area_mm2 = local.area_mm2;
    samples_.push_back(sample);
  }
  footing_.resize(local_.size());
  last_seen_.resize(local_.size());
}

void MaskOnFace::place(const Pose& pose, std::span<const double> tension_n) {
  assert(tension_n.size() == mask_.straps.size());
  std::vector<Vec3> placed;
  placed.reserve(local_.size());
  for (const LocalSample& sample : local_) placed.push_back(pose * sample.position_mask);
  if (placed != placed_) {
    placed_ = std::move(placed);
    contact_.reset();
  }
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
    law.pad_compliance_mm3_n = 1 / mask_.pad->stiffness_n_mm3;
    law.slip.layer_stiffness_n_mm3 = mask_.pad->stiffness_n_mm3;
  }
  return law;
}

void MaskOnFace::touch_station(std::size_t station, Slopes slopes) {
  const MaskState& state = contact_->state;
  const SampledRim& rim = mask_.rim;
  const std::size_t n_across = rim.n_across();
  const auto row = static_cast<Eigen::Index>(station);
  const std::size_t first = station * n_across;
  const Vec3 axis = state.pose.rotation * rim.stations[station].axis;
  const Vec3 lift = state.lip_mm[row] * axis;
  const Vec3 origin = state.pose * reference_mask_;

  touching_.clear();
  GasEdgeFinder gas_edge(rim.cell_mm);
  Sum sum;
  double width = 0;
  Row7 width_slope = Row7::Zero();
  double pressed_area = 0;  // area weighted by how surely it touches
  Row7 pressed_slope = Row7::Zero();
  for (std::size_t j = 0; j < n_across; ++j) {
    const LocalSample& local = local_[first + j];
    const Vec3 position = state.pose * local.position_mask + lift;
    const auto bare = skin_near(first + j, position, slopes);
    samples_[first + j].pressure = 0;
    Footing& footing = footing_[first + j];
    const bool pressed_before = std::exchange(footing.depth_mm, 0) > 0;
    if (!bare) continue;
    const Met met = on_cover(*bare);
    const SkinPoint& skin = met.skin;
    if (skin.distance >= 0) continue;
    const bool slope_known = slopes == Slopes::without && pressed_before;
    footing = {position, skin.uv, slope_known ? footing.duv_dx : skin.duv_dx, -skin.distance,
               -bare->distance};
    const Switch chi = smooth_switch(-skin.distance / options_.edge_blend_mm);
    Row7 chi_slope = Row7::Zero();
    if (chi.slope != 0 && slopes == Slopes::with) {
      chi_slope = -chi.slope / options_.edge_blend_mm *
                  motion_along(skin.gradient, position - origin, axis);
      width_slope += rim.cell_mm[j] * chi_slope;
      pressed_slope += local.area_mm2 * chi_slope;
    }
    gas_edge.touch(j, chi.value, chi_slope);
    width += chi.value * rim.cell_mm[j];
    pressed_area += chi.value * local.area_mm2;
    touching_.push_back({first + j, met, position});
  }
  for (const Touching& t : touching_) {
    SampleLaw law = law_of(local_[t.sample]);
    law.contact_width_mm = width;
    sum.add(press(t, law, slopes), local_[t.sample].area_mm2, t.position - origin, slopes);
  }

  const RimStation& geometry = rim.stations[station];
  const Response lip = mask_.lip.force_per_length(state.lip_mm[row], rim.section.lip_width_mm,
                                                  geometry.stiffness_factor);
  const Vec3 force = sum.force.head<3>();
  Balance& out = contact_->balance;
  out.mask += sum.force;
  out.lip[row] = axis.dot(force) - lip.value * geometry.length_mm;
  contact_->pressed_area_mm2[row] = pressed_area;
  // The innermost edge of contact, where the gas stops.
  const GasEdge gas = gas_edge.edge();
  const double s = gas.offset_mm - 0.5 * rim.section.lip_width_mm;
  const double curvature = 1 / rim.section.crown_radius_mm;
  const Vec3 local = geometry.crown + s * geometry.across + 0.5 * s * s * curvature * geometry.axis;
  contact_->edge[station] = state.pose * local + lift - origin;
  if (slopes == Slopes::without) return;

  // A lip that moves shifts the samples along its axis; the frame's turn turns that axis too.
  Vec6 turned = Vec6::Zero();
  turned.tail<3>() = axis.cross(force);
  const double axial_by_width = axis.dot(sum.by_width.head<3>());
  out.mask_by_pose += sum.slope + sum.by_width * width_slope.head<6>();
  out.mask_by_lip.col(row) =
      sum.slope.leftCols<3>() * axis + turned + sum.by_width * width_slope[6];
  out.lip_by_pose.row(row) = axis.transpose() * sum.slope.topRows<3>() + turned.transpose() +
                             axial_by_width * width_slope.head<6>();
  out.lip_by_lip[row] = axis.dot(sum.slope.topLeftCorner<3, 3>() * axis) +
                        axial_by_width * width_slope[6] - lip.slope * geometry.length_mm;
  contact_->pressed_slope.row(row) = pressed_slope;
  const Vec3 moves_by = state.pose.rotation * (geometry.across + s * curvature * geometry.axis);
  contact_->edge_slope[station] =
      change_of_arm(contact_->edge[station], axis) + moves_by * gas.slope;
}

// The skin that a sample of the station at hand may press. The search for its foot starts from
// where it was when the sample last pressed, if that is near; else from where the sample before
// leads to; but never beneath ridges, where feet run apart and may be on either flank.
std::optional<SkinPoint> MaskOnFace::skin_near(std::size_t sample, const Vec3& position,
                                               Slopes slopes) const {
  const double height = face_.cover ? face_.cover->greatest_height_mm() : 0;
  const Footing& last = footing_[sample];
  if (last.depth_mm > 0 && last.leads_to(position)) {
    const Vec2 guess = last.guess_at(position);
    const double length = (position - last.position).norm();
    const bool surely_beneath = length < last.depth_mm;
    const bool surely_plain = last.beneath_mm + length < SkinMap::plain_depth_mm / 2;
    if (surely_beneath && surely_plain) return face_.skin.near(position, guess, slopes);
    return face_.skin.within(height, position, guess, slopes);
  }
  if (touching_.empty()) return face_.skin.within(height, position, {}, slopes);
  const Footing& before = footing_[touching_.back().sample];
  const Vec2 guess = before.guess_at(position);
  const bool apart =
      (guess - before.uv).norm() > Footing::most_spread * (position - before.position).norm();
  return face_.skin.within(height, position, apart ? std::nullopt : std::optional(guess), slopes);
}

MaskOnFace::Met MaskOnFace::on_cover(const SkinPoint& skin) const {
  if (face_.cover == nullptr) return {skin, {}};
  const CoverPoint cover = face_.cover->at(skin.uv);
  return {on_top(skin, cover), cover};
}

Traction MaskOnFace::press(const Touching& touching, SampleLaw law, Slopes slopes) {
  const SkinPoint& skin = touching.met.skin;
  law.cover = touching.met.cover;
  const Traction traction =
      skin_traction(skin, face_.tissue.at(skin.uv, slopes),
                    touching.position - placed_[touching.sample], law, slopes);
  ContactSample& sample = samples_[touching.sample];
  sample.position = touching.position;
  sample.foot = skin.foot;
  sample.normal = skin.normal;
  sample.gap_mm = skin.distance;
  sample.pressure = traction.pressure;
  sample.shear = traction.shear;
  return traction;
}

void MaskOnFace::touch_pad(Slopes slopes) {
  const MaskState& state = contact_->state;
  const Vec3 origin = state.pose * reference_mask_;
  Sum sum;
  for (std::size_t k = n_stations() * mask_.rim.n_across(); k < local_.size(); ++k) {
    const Vec3 position = state.pose * local_[k].position_mask;
    samples_[k].pressure = 0;
    const double height = face_.cover ? face_.cover->greatest_height_mm() : 0;
    const auto bare = face_.skin.within(height, position, {}, slopes);
    if (!bare) continue;
    const Met met = on_cover(*bare);
    if (met.skin.distance >= 0) continue;
    sum.add(press({k, met, position}, law_of(local_[k]), slopes), local_[k].area_mm2,
            position - origin, slopes);
  }
  contact_->balance.mask += sum.force;
  if (slopes == Slopes::with) contact_->balance.mask_by_pose += sum.slope;
}

// No sample has moved farther between two states; rims reach some 80 mm from their middle.
double MaskOnFace::farthest_moved_mm(const MaskState& from, const MaskState& to) const {
  constexpr double reach_mm = 80;
  return (from.pose * reference_mask_ - to.pose * reference_mask_).norm() +
         reach_mm * (from.pose.rotation - to.pose.rotation).norm() +
         (from.lip_mm - to.lip_mm).cwiseAbs().maxCoeff();
}

void MaskOnFace::touch_skin(const MaskState& state, Slopes slopes) {
  const auto n = static_cast<Eigen::Index>(n_stations());
  if (!contact_) contact_.emplace();
  contact_->state = state;
  Balance& balance = contact_->balance;
  balance.mask.setZero();
  if (slopes == Slopes::with) {
    contact_->slopes_at = state;
    balance.mask_by_pose.setZero();
  }
  balance.lip.resize(n);
  balance.mask_by_lip.resize(6, n);
  balance.lip_by_pose.resize(n, 6);
  balance.lip_by_lip.resize(n);
  contact_->pressed_area_mm2.resize(n);
  contact_->pressed_slope.resize(n, 7);
  contact_->edge.resize(n_stations());
  contact_->edge_slope.resize(n_stations());
  for (std::size_t i = 0; i < n_stations(); ++i) touch_station(i, slopes);
  touch_pad(slopes);
  if (slopes == Slopes::with) note_thrust_slopes();
}

// Seen from the front the rim runs clockwise, so the thrust on the mask, towards the front, is that
// of the reversed loop.
void MaskOnFace::note_thrust_slopes() {
  const auto by_corner = loop_thrust_by_corner(contact_->edge, -1);
  contact_->thrust_by_pose.setZero();
  contact_->thrust_by_lip.resize(6, static_cast<Eigen::Index>(n_stations()));
  for (std::size_t i = 0; i < contact_->edge.size(); ++i) {
    const Eigen::Matrix<double, 6, 7> slope = by_corner[i] * contact_->edge_slope[i];
    contact_->thrust_by_pose += slope.leftCols<6>();
    contact_->thrust_by_lip.col(static_cast<Eigen::Index>(i)) = slope.col(6);
  }
}

void MaskOnFace::add_gas(Balance& out) const {
  const LoopThrust thrust = loop_thrust(contact_->edge, -gas_pressure_);
  out.mask.head<3>() += thrust.force;
  out.mask.tail<3>() += thrust.moment;
  out.mask_by_pose += gas_pressure_ * contact_->thrust_by_pose;
  out.mask_by_lip += gas_pressure_ * contact_->thrust_by_lip;
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

Balance MaskOnFace::evaluate(const MaskState& state, double slopes_within_mm) {
  assert(placed_.size() == local_.size());
  const bool near = contact_ && farthest_moved_mm(contact_->slopes_at, state) <= slopes_within_mm;
  const bool known = near && contact_->state == state;
  if (!known) touch_skin(state, near ? Slopes::without : Slopes::with);
  Balance out = contact_->balance;
  const double share = mask_.lip.gas_share * gas_pressure_;
  out.lip -= share * contact_->pressed_area_mm2 + beam_ * state.lip_mm;
  out.lip_by_pose -= share * contact_->pressed_slope.leftCols<6>();
  out.lip_by_lip -= share * contact_->pressed_slope.col(6);
  add_gas(out);
  add_straps_and_weight(state, out);
  return out;
}

}  // namespace rimload
