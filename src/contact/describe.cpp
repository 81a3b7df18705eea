#include "contact/gas_loop.hpp"
#include "contact/mask_on_face.hpp"
#include "units/units.hpp"

namespace rimload {

std::string_view name_of(Part part) {
  switch (part) {
    case Part::pad: return "pad";
    case Part::tube: return "tube";
    case Part::rim: break;
  }
  return "rim";
}

PhaseState MaskOnFace::describe(const MaskState& state) {
  (void)evaluate(state);  // leaves the gas edge of this state
  PhaseState out;
  out.gas_pressure = gas_pressure_;
  out.pose = state.pose;
  out.lip_mm = state.lip_mm;
  const SampledRim& rim = mask_.rim;
  std::vector<SkinPoint> skins;
  skins.reserve(local_.size());
  std::vector<double> width(rim.n_stations(), 0.0);
  for (std::size_t k = 0; k < local_.size(); ++k) {
    const LocalSample& local = local_[k];
    Vec3 position = state.pose * local.position_mask;
    if (local.part == Part::rim) {
      position += state.lip_mm[static_cast<Eigen::Index>(local.station)] *
                  (state.pose.rotation * rim.stations[local.station].axis);
    }
    // As the solver sees it: a sample outside the skin carries nothing.
    const auto pressed = face_.skin.pressed(position);
    SkinPoint skin = pressed ? *pressed : face_.skin.closest(position);
    if (!pressed) skin.distance = std::max(skin.distance, 0.0);
    if (local.part == Part::rim) {
      width[local.station] +=
          rim.cell_mm * smooth_switch(-skin.distance / options_.edge_blend_mm).value;
    }
    ContactSample sample;
    sample.part = local.part;
    sample.station = static_cast<int>(local.station);
    sample.across = static_cast<int>(local.across);
    sample.position = position;
    sample.foot = skin.foot;
    sample.normal = skin.normal;
    sample.area_mm2 = local.area_mm2;
    sample.gap_mm = skin.distance;
    out.samples.push_back(sample);
    skins.push_back(skin);
  }
  for (std::size_t k = 0; k < local_.size(); ++k) {
    SampleLaw law = law_of(local_[k]);
    if (local_[k].part == Part::rim) law.contact_width_mm = width[local_[k].station];
    const Traction traction = skin_traction(skins[k], face_.tissue.at(skins[k].uv),
                                            out.samples[k].position - placed_[k], law);
    out.samples[k].pressure = traction.pressure;
    out.samples[k].shear = traction.shear;
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
  const LoopThrust thrust = loop_thrust(edge_, -gas_pressure_);
  out.gas.pressure = gas_pressure_;
  out.gas.force_n = thrust.force;
  out.gas.moment_n_mm = thrust.moment + origin.cross(thrust.force);
  out.gas.area_mm2 = loop_thrust(edge_, 1.0).force.norm();
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
