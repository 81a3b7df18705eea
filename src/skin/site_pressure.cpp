#include "skin/site_pressure.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "units/units.hpp"

namespace rimload {

namespace {

constexpr double nail_fold_mmhg = 32;

// Share of a sample's cell inside the disc, for a cell as wide as the square of its area.
double share_inside(double distance_mm, double area_mm2) {
  const double half_cell = 0.5 * std::sqrt(area_mm2);
  const double radius = sensor_diameter_mm / 2;
  return std::clamp((radius + half_cell - distance_mm) / (2 * half_cell), 0.0, 1.0);
}

double sensor_reading(const ContactSample& centre, std::span<const ContactSample* const> pressed) {
  double force = 0;
  for (const ContactSample* sample : pressed) {
    const double distance = (sample->foot - centre.foot).norm();
    if (distance > sensor_diameter_mm) continue;
    force += sample->pressure * sample->area_mm2 * share_inside(distance, sample->area_mm2);
  }
  return force / sensor_area_mm2;
}

}  // namespace

std::vector<SitePressure> site_pressures(std::span<const ContactSample> samples,
                                         const SiteFinder& site_of) {
  std::vector<SitePressure> out;
  std::map<SidedSite, std::size_t> row_of;
  for (const Site site : contact_sites) {
    for (const Side side : {Side::midline, Side::left, Side::right}) {
      if (is_midline(site) != (side == Side::midline)) continue;
      row_of[{site, side}] = out.size();
      out.push_back({.site = site, .side = side});
    }
  }
  std::vector<const ContactSample*> pressed;
  for (const ContactSample& sample : samples) {
    if (sample.pressure > 0) pressed.push_back(&sample);
  }
  std::vector<double> force(out.size(), 0.0);
  for (const ContactSample* sample : pressed) {
    const std::size_t row = row_of.at(site_of(sample->foot));
    SitePressure& site = out[row];
    const double reading = sensor_reading(*sample, pressed);
    if (reading > site.sensor) {
      site.sensor = reading;
      site.sensor_at = sample->foot;
    }
    site.peak = std::max(site.peak, sample->pressure);
    site.shear_peak = std::max(site.shear_peak, sample->shear.norm());
    site.contact_area += sample->area_mm2;
    if (sample->pressure > units::from_mmhg(nail_fold_mmhg)) {
      site.area_over_32_mmhg += sample->area_mm2;
    }
    force[row] += sample->pressure * sample->area_mm2;
  }
  for (std::size_t row = 0; row < out.size(); ++row) {
    if (out[row].contact_area > 0) out[row].mean = force[row] / out[row].contact_area;
  }
  return out;
}

std::vector<SitePressure> strap_pressures(std::span<const StrapLoad> loads,
                                          std::span<const Strap> straps) {
  std::vector<SitePressure> out;
  std::map<SidedSite, std::size_t> row_of;
  for (const Site site : strap_sites) {
    for (const Side side : {Side::midline, Side::left, Side::right}) {
      if (is_midline(site) != (side == Side::midline)) continue;
      row_of[{site, side}] = out.size();
      out.push_back({.site = site, .side = side});
    }
  }
  for (std::size_t k = 0; k < loads.size(); ++k) {
    const Strap& strap = straps[k];
    for (const StrapBearing& bearing : strap.bearings) {
      const Side side = is_midline(bearing.site) ? Side::midline : strap.side;
      SitePressure& site = out[row_of.at({bearing.site, side})];
      const double pressure = loads[k].tension_n / (bearing.radius_mm * strap.width_mm);
      site.sensor = std::max(site.sensor, pressure);
      site.peak = site.mean = site.sensor;
    }
  }
  return out;
}

}  // namespace rimload
