#include "demo_case.hpp"

#include <stdexcept>

#include "case/catalogue.hpp"
#include "case/mask_of_case.hpp"
#include "stored_face.hpp"
#include "units/units.hpp"

namespace rimload {

const std::vector<Cushion>& demo_cushions() {
  static const Catalogue catalogue =
      read_catalogue(stored_text("demo/catalogue/demo-cushions.json"), "demo-cushions.json");
  return catalogue.cushions;
}

const Cushion& demo_cushion(std::string_view name, std::string_view size) {
  for (const Cushion& cushion : demo_cushions()) {
    if (cushion.name == name && cushion.size == size) return cushion;
  }
  throw std::logic_error("no such cushion: " + std::string(name));
}

const FaceModel& face_named(const std::string& name) {
  static std::map<std::string, FaceModel> faces;
  const auto found = faces.find(name);
  return found != faces.end() ? found->second
                              : faces.emplace(name, stored_face(name)).first->second;
}

const FaceInUse& face_in_use(const std::string& name) {
  static std::map<std::string, FaceInUse> faces;
  const auto found = faces.find(name);
  if (found != faces.end()) return found->second;
  return faces.emplace(name, FaceInUse(face_named(name))).first->second;
}

Case case_with(const Cushion& cushion, double cmh2o) {
  Case out;
  out.face = face_named("reference");
  out.cushion = cushion;
  out.settings.inspiratory = out.settings.expiratory = units::from_cmh2o(cmh2o);
  return out;
}

TrialPhase solve_case(const Case& input, std::vector<double> tension_n) {
  const Mask mask = make_mask(input);
  if (tension_n.size() == 1) tension_n.assign(mask.straps.size(), tension_n.front());
  Trial trial(input, face_in_use(input.face.name), mask, {}, Effort::report);
  trial.set_straps(tension_n);
  return trial.solve(input.settings.expiratory);
}

BySite pressed_sites(const Case& input, const PhaseState& state) {
  BySite out;
  for (const SitePressure& site :
       site_pressures(state.samples, face_in_use(input.face.name).site_of)) {
    if (site.contact_area > 0) out[{site.site, site.side}] = site;
  }
  return out;
}

Vec3 contact_force(const PhaseState& state) {
  Vec3 sum = Vec3::Zero();
  for (const ContactSample& s : state.samples) {
    sum += s.area_mm2 * (s.pressure * s.normal + s.shear);
  }
  return sum;
}

Vec3 strap_force(const PhaseState& state) {
  Vec3 sum = Vec3::Zero();
  for (const StrapLoad& strap : state.straps) sum += strap.tension_n * strap.direction;
  return sum;
}

}  // namespace rimload
