#include "leak/beard_bed.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <string>

#include "leak_data.hpp"

namespace rimload {
namespace {

const nlohmann::json& beard_data() {
  static const auto json = nlohmann::json::parse(data::beard_json());
  return json;
}

double value_of(const nlohmann::json& entry) { return entry.at("value").get<double>(); }

}  // namespace

const BeardLaw& beard_law() {
  static const BeardLaw law{
      .van_wyk = value_of(beard_data().at("van_wyk")),
      .loose_fraction = value_of(beard_data().at("loose_solid_fraction")),
      .packed_fraction = value_of(beard_data().at("packed_solid_fraction")),
      .forchheimer = value_of(beard_data().at("forchheimer")),
  };
  return law;
}

std::optional<Hair> hair_named(std::string_view density, double length_mm) {
  const nlohmann::json& densities = beard_data().at("hairs_per_cm2");
  const auto found = densities.find(std::string(density));
  if (found == densities.end()) return std::nullopt;
  constexpr double mm2_per_cm2 = 100;
  constexpr double n_mm2_per_gpa = 1000;
  return Hair{.length_mm = length_mm,
              .per_mm2 = value_of(*found) / mm2_per_cm2,
              .diameter_mm = value_of(beard_data().at("diameter_mm")),
              .modulus_n_mm2 = n_mm2_per_gpa * value_of(beard_data().at("modulus_GPa"))};
}

double solid_fraction(const Hair& hair, double pressure) {
  const BeardLaw& law = beard_law();
  const double added = std::max(pressure, 0.0) / (law.van_wyk * hair.modulus_n_mm2);
  return std::min(std::cbrt(std::pow(law.loose_fraction, 3) + added), law.packed_fraction);
}

double bed_thickness(const Hair& hair, double pressure) {
  const double section = std::numbers::pi * hair.diameter_mm * hair.diameter_mm / 4;
  return hair.per_mm2 * hair.length_mm * section / solid_fraction(hair, pressure);
}

double fibre_permeability(double diameter_mm, double solid_fraction) {
  return diameter_mm * diameter_mm /
         (64 * std::pow(solid_fraction, 1.5) * (1 + 56 * std::pow(solid_fraction, 3)));
}

double bed_flow(const Hair& hair, std::span<const BedPart> parts, double pressure, const Gas& gas) {
  if (parts.empty() || pressure <= 0) return 0;
  const double c = beard_law().forchheimer;
  double viscous = 0;
  double inertial = 0;
  for (const BedPart& part : parts) {
    const double thickness = bed_thickness(hair, part.contact);
    if (thickness <= 0) return 0;
    const double k = fibre_permeability(hair.diameter_mm, solid_fraction(hair, part.contact));
    viscous += part.length_mm * gas.viscosity / (k * thickness);
    inertial += part.length_mm * c * gas.density / (std::sqrt(k) * thickness * thickness);
  }
  // The root of inertial q^2 + viscous q = P, in the form that stays exact when either is small.
  return 2 * pressure / (viscous + std::sqrt(viscous * viscous + 4 * inertial * pressure));
}

}  // namespace rimload
