#include "skin/site_pressure.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "contact/told_apart.hpp"
#include "skin/nail_fold.hpp"
#include "skin/sensor_reading.hpp"

namespace rimload {

namespace {

// How much of a sample's cell is pressed, the gap taken as straight across the lip.
double pressed_share(std::span<const ContactSample> samples, std::size_t k) {
  const ContactSample& here = samples[k];
  double change_mm = 0;                            // from cell to cell
  for (const std::size_t next : {k - 1, k + 1}) {  // k - 1 wraps round to a number too large
    if (next >= samples.size()) continue;
    const ContactSample& other = samples[next];
    if (other.part != here.part || other.station != here.station) continue;
    change_mm = std::max(change_mm, std::abs(other.gap_mm - here.gap_mm));
  }
  if (change_mm == 0) return here.pressure > 0 ? 1 : 0;
  return std::clamp(0.5 - here.gap_mm / change_mm, 0.0, 1.0);
}

Vec3 shear_on(const ContactSample& sample) {
  return sample.pressure > 0 ? sample.shear : Vec3(Vec3::Zero());
}

struct Border {
  std::size_t row, next_row;  // of the sites that meet
  Vec3 at_face;
  std::size_t sample = 0, next_sample = 0;  // between which it lies
  double share;                             // of the way from one to the other
};

struct Place {
  Vec3 at_face;
  std::size_t row;  // of its site
  double share;     // of the way from the sample to the next
};
using RowOf = std::function<std::size_t(const Vec3&)>;

// Where sites meet on the straight line between two places; by halving, so that it is the same from
// either end, also where a third site lies between.
void add_borders(const Place& from, const Place& to, int halvings, const RowOf& row_of,
                 std::vector<Border>& out) {
  if (from.row == to.row) return;
  const Vec3 middle = 0.5 * (from.at_face + to.at_face);
  const double share = 0.5 * (from.share + to.share);
  if (halvings == 0) {
    out.push_back({.row = from.row, .next_row = to.row, .at_face = middle, .share = share});
    return;
  }
  const Place between{middle, row_of(middle), share};
  add_borders(from, between, halvings - 1, row_of, out);
  add_borders(between, to, halvings - 1, row_of, out);
}

enum class Way { along_rim, across_lip };

// Where they meet between neighbouring samples of the rim.
std::vector<Border> borders(std::span<const ContactSample> samples,
                            std::span<const std::size_t> rows, const RowOf& row_of, Way way) {
  // A reading is taken at a border along the rim, only a pressure at one across the lip.
  const int halvings = way == Way::along_rim ? 8 : 4;
  const auto is_rim = [](const ContactSample& sample) { return sample.part == Part::rim; };
  const auto n_rim = static_cast<std::size_t>(
      std::find_if_not(samples.begin(), samples.end(), is_rim) - samples.begin());
  std::size_t n_across = 0;
  while (n_across < n_rim && samples[n_across].station == samples[0].station) ++n_across;
  std::vector<Border> out;
  for (std::size_t k = 0; k < n_rim; ++k) {
    const std::size_t next = way == Way::along_rim ? (k + n_across) % n_rim : k + 1;
    if (way == Way::across_lip && next % n_across == 0) continue;
    const std::size_t before = out.size();
    add_borders({samples[k].foot, rows[k], 0}, {samples[next].foot, rows[next], 1}, halvings,
                row_of, out);
    for (Border& border : std::span(out).subspan(before)) {
      border.sample = k;
      border.next_sample = next;
    }
  }
  return out;
}

// Of discs about feet of samples.
std::vector<float> rough_readings(const SensorField& sensor, std::span<const Vec3> feet) {
  constexpr std::size_t together = 24;  // close to each other, one after the other along the rim
  std::vector<float> out(feet.size());
  for (std::size_t first = 0; first < feet.size(); first += together) {
    const std::size_t n = std::min(together, feet.size() - first);
    sensor.rough_readings(feet.subspan(first, n), std::span(out).subspan(first, n));
  }
  return out;
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
  std::vector<double> force(out.size(), 0.0);
  // Counts a share of a sample's cell to a site, or takes it off.
  const auto count = [&](std::size_t k, std::size_t row, double share) {
    const ContactSample& sample = samples[k];
    const double area = share * sample.area_mm2;
    const bool touches = sample.part != Part::beside;
    if (touches) out[row].contact_area += pressed_share(samples, k) * area;
    if (touches && sample.pressure > 0) force[row] += sample.pressure * area;
    if (sample.pressure > nail_fold_pressure) out[row].area_over_32_mmhg += area;
  };
  std::vector<Vec3> feet;
  for (const ContactSample& sample : samples) feet.push_back(sample.foot);
  std::vector<std::size_t> rows;
  for (const SidedSite& site : site_of.along(feet)) rows.push_back(row_of.at(site));
  std::vector<bool> touched(out.size(), false);  // by a sample of the site's own
  for (std::size_t k = 0; k < samples.size(); ++k) {
    count(k, rows[k], 1);
    if (samples[k].pressure <= 0) continue;
    if (samples[k].part != Part::beside) touched[rows[k]] = true;
    SitePressure& site = out[rows[k]];
    site.peak = std::max(site.peak, samples[k].pressure);
    site.shear_peak = std::max(site.shear_peak, samples[k].shear.norm());
  }
  const auto row_at = [&](const Vec3& at_face) { return row_of.at(site_of(at_face)); };
  const std::vector<Border> along = borders(samples, rows, row_at, Way::along_rim);
  for (const Border& border : along) {  // a cell reaches half way to the next sample
    const bool nearer = border.share < 0.5;
    const std::size_t k = nearer ? border.sample : border.next_sample;
    const double past = std::abs(0.5 - border.share);
    count(k, nearer ? border.row : border.next_row, -past);
    count(k, nearer ? border.next_row : border.row, past);
  }
  // A disc can read most where its middle is bare, between two pressed edges.
  const SensorField sensor(samples);
  const auto read = [&](std::size_t row, double reading, const Vec3& at_face) {
    if (out[row].contact_area <= 0 || reading <= out[row].sensor) return;
    if (reading > out[row].sensor + told_apart) out[row].sensor_at = at_face;
    out[row].sensor = reading;
  };
  const std::vector<float> rough = rough_readings(sensor, feet);
  std::vector<float> largest(out.size(), 0.0F);
  for (std::size_t k = 0; k < samples.size(); ++k) {
    largest[rows[k]] = std::max(largest[rows[k]], rough[k]);
  }
  for (std::size_t k = 0; k < samples.size(); ++k) {
    constexpr float surely_less = 1 - 1e-4F;
    if (rough[k] < surely_less * largest[rows[k]] - 2 * static_cast<float>(told_apart)) continue;
    read(rows[k], sensor.reading(feet[k]), feet[k]);
  }
  // A site can be pressed hardest at its border, which lies between samples.
  const auto press = [&](const Border& border) {
    const ContactSample& from = samples[border.sample];
    const ContactSample& to = samples[border.next_sample];
    const double pressure = std::lerp(from.pressure, to.pressure, border.share);
    const Vec3 shear = (1 - border.share) * shear_on(from) + border.share * shear_on(to);
    for (const std::size_t row : {border.row, border.next_row}) {
      out[row].peak = std::max(out[row].peak, pressure);
      out[row].shear_peak = std::max(out[row].shear_peak, shear.norm());
    }
  };
  for (const Border& border : along) {
    press(border);
    const double reading = sensor.reading(border.at_face);
    for (const std::size_t row : {border.row, border.next_row}) read(row, reading, border.at_face);
  }
  for (const Border& border : borders(samples, rows, row_at, Way::across_lip)) press(border);
  for (std::size_t row = 0; row < out.size(); ++row) {
    SitePressure& site = out[row];
    // A lid that only borders on pressed skin is not touched.
    if (site.site == Site::eyelid && !touched[row]) site = {.site = site.site, .side = site.side};
    site.contact_area =
        std::max(0.0, site.contact_area);  // what rounding left of a cell given away
    site.area_over_32_mmhg = std::max(0.0, site.area_over_32_mmhg);
    if (site.contact_area > 0) site.mean = std::max(0.0, force[row]) / site.contact_area;
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
      if (pressure >= site.sensor) site.strap_width_mm = strap.width_mm;
      site.sensor = std::max(site.sensor, pressure);
      site.peak = site.mean = site.sensor;
    }
  }
  return out;
}

}  // namespace rimload
