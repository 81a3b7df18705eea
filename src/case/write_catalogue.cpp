#include "case/write_catalogue.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "geometry/site.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

using Json = nlohmann::ordered_json;

// Shortest decimals: a multiple of a ten-thousandth is no sum of powers of two.
double to_places(double value) { return std::round(value * 1e4) / 1e4 + 0.0; }

Json point(const Vec3& p) { return {to_places(p.x()), to_places(p.y()), to_places(p.z())}; }

Json direction(const Vec3& v) {
  const auto places = [](double value) { return std::round(value * 1e7) / 1e7 + 0.0; };
  return {places(v.x()), places(v.y()), places(v.z())};
}

// Nine digits: enough to give a unit's conversion back.
double to_digits(double value) {
  if (value == 0) return 0;
  const double step = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 8);
  return step < 1 ? std::round(value / step) / std::round(1 / step)
                  : std::round(value / step) * step;
}

Json lip(const Cushion& cushion) {
  const LipLaw& law = cushion.lip;
  const auto kpa = [](double stiffness) { return to_digits(units::to_kpa(stiffness)); };
  return {{"width_mm", to_digits(cushion.rim.section.lip_width_mm)},
          {"crown_radius_mm", to_digits(cushion.rim.section.crown_radius_mm)},
          {"stiffness_kPa_per_mm", kpa(law.stiffness_n_mm3)},
          {"travel_mm", to_digits(law.travel_mm)},
          {"bottomed_stiffness_kPa_per_mm", kpa(law.bottomed_stiffness_n_mm3)},
          {"tangential_stiffness_kPa_per_mm", kpa(law.tangential_stiffness_n_mm3)},
          {"gas_share", law.gas_share},
          {"bending_N_mm2", law.bending_n_mm2},
          {"hoop_tension_N", law.hoop_tension_n}};
}

Json strap(const StrapPair& pair) {
  Json out{{"name", pair.name},
           {"anchor_mm", point(pair.anchor_mask)},
           {"exit_from_tragion_mm", point(pair.exit_from_tragion)},
           {"stiffness_N_per_mm", pair.stiffness_n_mm},
           {"width_mm", pair.width_mm},
           {"bears_on", Json::array()}};
  for (const StrapBearing& bearing : pair.bearings) {
    out["bears_on"].push_back(
        {{"site", std::string(name_of(bearing.site))}, {"radius_mm", bearing.radius_mm}});
  }
  return out;
}

Json masses(const Cushion& cushion) {
  Json out = Json::array();
  for (const FrameLoad& mass : cushion.masses) {
    out.push_back({{"point_mm", point(mass.point_mask)}, {"mass_kg", to_digits(mass.mass_kg)}});
  }
  return out;
}

Json entry(const Cushion& cushion) {
  Json out{{"name", cushion.name},           {"type", std::string(name_of(cushion.type))},
           {"vented", cushion.vented},       {"anti_asphyxia_valve", cushion.anti_asphyxia_valve},
           {"tube_port", cushion.tube_port}, {"magnets", cushion.magnets},
           {"friction", cushion.friction},   {"lip", lip(cushion)},
           {"straps", Json::array()}};
  for (const StrapPair& pair : cushion.straps) out["straps"].push_back(strap(pair));
  if (cushion.pad) {
    const ForeheadPad& pad = *cushion.pad;
    out["forehead_pad"] = {{"centre_mm", point(pad.centre_mask)},
                           {"width_mm", pad.width_mm},
                           {"height_mm", pad.height_mm},
                           {"lean_deg", to_digits(pad.lean_rad * 180 / std::numbers::pi)},
                           {"stiffness_kPa_per_mm", to_digits(units::to_kpa(pad.stiffness_n_mm3))}};
  }
  if (!cushion.hose_pull_n.isZero()) {
    out["hose"] = {{"point_mm", point(cushion.hose_point_mask)},
                   {"pull_N", point(cushion.hose_pull_n)}};
  }
  out["sizes"] = Json::array();
  return out;
}

Json size(const Cushion& cushion) {
  Json out{{"size", cushion.size}};
  if (!cushion.design_face.empty()) out["design_face"] = cushion.design_face;
  if (cushion.design_face_scale != 1) {
    out["design_face_scale"] = to_digits(cushion.design_face_scale);
  }
  out["apex_below_sellion_mm"] = to_places(cushion.apex_below_sellion_mm);
  if (!cushion.assumed.empty()) {
    out["assumed"] = Json::array();
    for (const CushionField field : cushion.assumed) {
      out["assumed"].push_back(std::string(name_of(field)));
    }
  }
  out["lip"] = lip(cushion);
  out["strap_anchors_mm"] = Json::object();
  for (const StrapPair& pair : cushion.straps) {
    out["strap_anchors_mm"][pair.name] = point(pair.anchor_mask);
  }
  if (cushion.pad) out["pad_centre_mm"] = point(cushion.pad->centre_mask);
  out["masses"] = masses(cushion);
  out["rim"] = Json::array();
  const std::size_t n_half = cushion.rim.controls.size() / 2 + 1;
  for (std::size_t k = 0; k < n_half; ++k) {
    const RimControl& control = cushion.rim.controls[k];
    Json row{{"at_mm", point(control.position_mask)}, {"axis", direction(control.axis_mask)}};
    if (control.stiffness_factor != 1) row["stiffness_factor"] = control.stiffness_factor;
    out["rim"].push_back(std::move(row));
  }
  return out;
}

}  // namespace

std::string write_catalogue(const Catalogue& catalogue) {
  Json out{{"rimload_catalogue", 1}, {"about", catalogue.about}, {"cushions", Json::array()}};
  Json& entries = out["cushions"];
  for (const Cushion& cushion : catalogue.cushions) {
    if (entries.empty() || entries.back()["name"] != cushion.name)
      entries.push_back(entry(cushion));
    entries.back()["sizes"].push_back(size(cushion));
  }
  return out.dump(1) + "\n";
}

}  // namespace rimload
