#include "skin/site_pressure.hpp"

#include <algorithm>
#include <iterator>
#include <map>

#include "skin/sensor_reading.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr double nail_fold_mmhg = 32;

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
  std::vector<ContactSample> pressed;
  std::copy_if(samples.begin(), samples.end(), std::back_inserter(pressed),
               [](const ContactSample& sample) { return sample.pressure > 0; });
  std::vector<double> force(out.size(), 0.0);
  for (const ContactSample& sample : pressed) {
    const std::size_t row = row_of.at(site_of(sample.foot));
    SitePressure& site = out[row];
    const double reading = sensor_reading(pressed, sample.foot);
    if (reading > site.sensor) {
      site.sensor = reading;
      site.sensor_at = sample.foot;
    }
    site.peak = std::max(site.peak, sample.pressure);
    site.shear_peak = std::max(site.shear_peak, sample.shear.norm());
    site.contact_area += sample.area_mm2;
    if (sample.pressure > units::from_mmhg(nail_fold_mmhg)) {
      site.area_over_32_mmhg += sample.area_mm2;
    }
    force[row] += sample.pressure * sample.area_mm2;
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
