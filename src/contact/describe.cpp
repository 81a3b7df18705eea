#include <limits>

#include "contact/gas_loop.hpp"
#include "contact/mask_on_face.hpp"
#include "units/units.hpp"

namespace rimload {

std::string_view name_of(Part part) {
  switch (part) {
    case Part::pad: return "pad";
    case Part::tube: return "tube";
    case Part::beside: return "beside";
    case Part::rim: break;
  }
  return "rim";
}

// The skin closest to a sample that does not press, looked for where it was when last described.
SkinPoint MaskOnFace::skin_beneath(std::size_t sample, const Vec3& position) {
  Footing& last = last_seen_[sample];
  const bool near = last.leads_to(position);
  const SkinPoint skin = near ? face_.skin.near(position, last.guess_at(position), Slopes::without)
                              : face_.skin.closest(position);
  last.position = position;
  last.uv = skin.uv;
  if (!near) last.duv_dx = skin.duv_dx;
  return skin;
}

PhaseState MaskOnFace::describe(const MaskState& state) {
  // Leaves samples and gas edge of this state.
  (void)evaluate(state, std::numeric_limits<double>::infinity());
  PhaseState out;
  out.gas_pressure = gas_pressure_;
  out.pose = state.pose;
  out.lip_mm = state.lip_mm;
  out.samples = samples_;
  for (std::size_t k = 0; k < local_.size(); ++k) {
    ContactSample& sample = out.samples[k];
    if (sample.pressure > 0) continue;
    const LocalSample& local = local_[k];
    sample.position = state.pose * local.position_mask;
    if (local.part == Part::rim) {
      sample.position += state.lip_mm[static_cast<Eigen::Index>(local.station)] *
                         (state.pose.rotation * mask_.rim.stations[local.station].axis);
    }
    const SkinPoint skin = on_cover(skin_beneath(k, sample.position)).skin;
    sample.foot = skin.foot;
    sample.normal = skin.normal;
    sample.gap_mm = std::max(skin.distance, 0.0);
    sample.shear.setZero();
  }
  for (std::size_t k = 0; k < bands_.size(); ++k) {
    const Strap& strap = mask_.straps[k];
    StrapLoad load;
    load.name = strap.name;
    load.anchor_face = state.pose * strap.anchor_mask;
    const Vec3 course = strap.exit_face - load.anchor_face;
    load.direction = course.normalized();
    load.tension_n = band_tension(bands_[k], course.norm()).tension_n;
    load.stretch_mm = std::max(0.0, course.norm() - bands_[k].slack_length_mm);
    out.straps.push_back(load);
  }
  const Vec3 origin = state.pose * reference_mask_;
  const LoopThrust thrust = loop_thrust(contact_->edge, -gas_pressure_);
  out.gas.pressure = gas_pressure_;
  out.gas.force_n = thrust.force;
  out.gas.moment_n_mm = thrust.moment + origin.cross(thrust.force);
  out.gas.area_mm2 = gas_pressure_ > 0 ? thrust.force.norm() / gas_pressure_
                                       : loop_thrust(contact_->edge, 1).force.norm();
  double mass = 0;
  Vec3 moment = Vec3::Zero();
  for (const FrameLoad& load : mask_.masses) {
    mass += load.mass_kg;
    moment += load.mass_kg * load.point_mask;
  }
  out.weight.force_n = mass * units::newton_per_kilogram * gravity_;
  out.weight.point_mm = state.pose * (mass > 0 ? Vec3(moment / mass) : reference_mask_);
  out.hose = {mask_.hose_pull_n, state.pose * mask_.hose_point_mask};
  return out;
}

}  // namespace rimload
