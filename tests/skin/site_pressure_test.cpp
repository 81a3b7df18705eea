#include "skin/site_pressure.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <random>

#include "catch.hpp"
#include "skin/sensor_reading.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr double cell_mm = 0.5;
constexpr double pressure = units::from_mmhg(60);

// Flat samples half a millimetre apart over [x0, x1] by [y0, y1].
std::vector<ContactSample> patch(double x0, double x1, double y0, double y1, double p = pressure) {
  std::vector<ContactSample> out;
  for (double x = x0 + cell_mm / 2; x < x1; x += cell_mm) {
    for (double y = y0 + cell_mm / 2; y < y1; y += cell_mm) {
      ContactSample sample;
      sample.foot = sample.position = {x, y, 0};
      sample.area_mm2 = cell_mm * cell_mm;
      sample.pressure = p;
      out.push_back(sample);
    }
  }
  return out;
}

const std::vector<Landmark>& landmarks() {
  static const std::vector<Landmark> all{{"dorsum_upper", Side::midline, {0, 0, 0}, 4},
                                         {"cheek_mid", Side::left, {200, 0, 0}, 20},
                                         {"cheek_mid", Side::right, {-200, 0, 0}, 20},
                                         {"lid_front", Side::left, {0, 200, 0}, 5}};
  return all;
}

SitePressure row(const std::vector<SitePressure>& all, Site site, Side side) {
  for (const SitePressure& each : all) {
    if (each.site == site && each.side == side) return each;
  }
  FAIL("no row for the site");
  return {};
}

SitePressure at_bridge(const std::vector<ContactSample>& samples) {
  return row(site_pressures(samples, SiteFinder(landmarks())), Site::nasal_bridge, Side::midline);
}

// Area common to a strip of the width and a disc of the sensor's diameter about its middle.
double strip_in_disc_mm2(double width_mm) {
  const double r = sensor_diameter_mm / 2;
  const double a = width_mm / 2;
  return 2 * (a * std::sqrt(r * r - a * a) + r * r * std::asin(a / r));
}

// The disc's border runs through cells of 0.5 mm, which count by a ramp.
constexpr double border_error = 0.01;

}  // namespace

TEST_CASE("A sensor under a wide even patch reads its pressure") {
  const SitePressure bridge = at_bridge(patch(-10, 10, -10, 10));
  // A disc 11.3 mm across has 100.29 mm2, read over 100.
  CHECK(bridge.sensor == Approx(1.0029 * pressure).epsilon(border_error));
  CHECK(bridge.peak == pressure);
  CHECK(bridge.mean == Approx(pressure).epsilon(1e-12));
}

TEST_CASE("A sensor under a narrow strip counts the bare skin beside it as zero") {
  for (const double width_mm : {1.5, 2.5, 4.5, 8.5}) {
    CAPTURE(width_mm);
    const SitePressure bridge = at_bridge(patch(-width_mm / 2, width_mm / 2, -15, 15));
    CHECK(bridge.sensor ==
          Approx(pressure * strip_in_disc_mm2(width_mm) / 100).epsilon(border_error));
    CHECK(bridge.mean == Approx(pressure).epsilon(1e-12));
  }
}

TEST_CASE("A sensor over a small patch reads its whole force over 100 mm2") {
  const SitePressure bridge = at_bridge(patch(-2, 2, -3, 3));
  CHECK(bridge.sensor == Approx(pressure * 24 / 100).epsilon(1e-9));
  CHECK(bridge.contact_area == Approx(24).epsilon(1e-12));
}

TEST_CASE("A taped sensor reads what presses its own place") {
  const auto half = patch(0, 20, -20, 20);
  CHECK(sensor_reading(half, {0, 0, 0}) == Approx(0.5 * 1.0029 * pressure).epsilon(border_error));
  CHECK(sensor_reading(half, {10, 0, 0}) == Approx(1.0029 * pressure).epsilon(border_error));
  CHECK(sensor_reading(half, {-10, 0, 0}) == 0);
}

TEST_CASE("A sensor between two strips reads both") {
  std::vector<ContactSample> both = patch(-4, -2, -15, 15);
  const auto gap = patch(-2, 2, -15, 15, 0.0);
  const auto other = patch(2, 4, -15, 15);
  both.insert(both.end(), gap.begin(), gap.end());
  both.insert(both.end(), other.begin(), other.end());
  const double expected = pressure * (strip_in_disc_mm2(8) - strip_in_disc_mm2(4)) / 100;
  CHECK(at_bridge(both).sensor == Approx(expected).epsilon(2 * border_error));
}

TEST_CASE("Peak, mean and area over 32 mmHg are those of the samples in contact") {
  std::vector<ContactSample> samples = patch(-5, 0, -5, 5, units::from_mmhg(20));
  const auto hard = patch(0, 5, -5, 5, units::from_mmhg(80));
  const auto bare = patch(5, 15, -5, 5, 0.0);
  samples.insert(samples.end(), hard.begin(), hard.end());
  samples.insert(samples.end(), bare.begin(), bare.end());
  samples[3].shear = {units::from_kpa(3), units::from_kpa(4), 0};
  const SitePressure bridge = at_bridge(samples);
  CHECK(units::to_mmhg(bridge.peak) == Approx(80));
  CHECK(units::to_mmhg(bridge.mean) == Approx(50));
  CHECK(bridge.area_over_32_mmhg == Approx(50));
  CHECK(bridge.contact_area == Approx(100));
  CHECK(units::to_kpa(bridge.shear_peak) == Approx(5));
}

TEST_CASE("Every contact site is listed once a side, with zeros where nothing touches") {
  const auto all = site_pressures(patch(195, 205, -5, 5), SiteFinder(landmarks()));
  CHECK(all.size() == 4 + 2 * 5);
  CHECK(row(all, Site::cheek, Side::left).sensor > 0);
  for (const SitePressure& site : all) {
    if (site.site == Site::cheek && site.side == Side::left) continue;
    CAPTURE(name_of(site.site), name_of(site.side));
    CHECK(site.sensor == 0);
    CHECK(site.peak == 0);
    CHECK(site.mean == 0);
    CHECK(site.contact_area == 0);
  }
}

TEST_CASE("A strap presses by its tension over radius and width") {
  std::vector<Strap> straps(3);
  straps[0] = {.name = "upper_left",
               .side = Side::left,
               .width_mm = 20,
               .bearings = {{Site::ear_top, 70}, {Site::occiput, 80}}};
  straps[1] = {.name = "upper_right",
               .side = Side::right,
               .width_mm = 20,
               .bearings = {{Site::ear_top, 70}, {Site::occiput, 80}}};
  straps[2] = {.name = "lower_left",
               .side = Side::left,
               .width_mm = 25,
               .bearings = {{Site::strap_cheek, 60}, {Site::occiput, 100}}};
  std::vector<StrapLoad> loads(3);
  loads[0].tension_n = 4;
  loads[1].tension_n = 5;
  loads[2].tension_n = 3;
  const auto all = strap_pressures(loads, straps);
  CHECK(all.size() == 5);
  CHECK(row(all, Site::ear_top, Side::left).sensor == Approx(4.0 / (70 * 20)));
  CHECK(row(all, Site::ear_top, Side::right).peak == Approx(5.0 / (70 * 20)));
  CHECK(row(all, Site::strap_cheek, Side::left).mean == Approx(3.0 / (60 * 25)));
  CHECK(row(all, Site::strap_cheek, Side::right).sensor == 0);
  // Of the bands that cross the back of the head the hardest counts.
  CHECK(row(all, Site::occiput, Side::midline).sensor == Approx(5.0 / (80 * 20)));
  CHECK(row(all, Site::occiput, Side::midline).strap_width_mm == 20);
  CHECK(row(all, Site::strap_cheek, Side::left).strap_width_mm == 25);
}

TEST_CASE("Where a third site lies between two samples, readings are the same either way round") {
  // On the line from the bridge to the cheek sites meet at 4 and 14 mm; the side of the nose, from
  // 4 to 14 mm, has no sample.
  const std::vector<Landmark> places{{"dorsum_upper", Side::midline, {0, 0, 0}, 4},
                                     {"tip_side", Side::left, {8, 0, 0}, 4},
                                     {"cheek_mid", Side::left, {20, 0, 0}, 20},
                                     {"lid_front", Side::left, {0, 200, 0}, 5}};
  const auto sample = [](double x, double y, Part part) {
    ContactSample out;
    out.foot = out.position = {x, y, 0};
    out.area_mm2 = 1;
    out.part = part;
    out.pressure = pressure;
    return out;
  };
  std::vector<ContactSample> round{sample(0, 0, Part::rim), sample(20, 0, Part::rim),
                                   sample(0, 190, Part::rim), sample(6, 0, Part::beside)};
  // The load beside is within reach of the disc at 4 mm alone.
  for (const bool other_way : {false, true}) {
    if (other_way) std::swap(round[0], round[2]);
    for (int k = 0; k < 3; ++k) round[static_cast<std::size_t>(k)].station = k;
    const auto all = site_pressures(round, SiteFinder(places));
    CAPTURE(other_way);
    const double one_mm2 = pressure / sensor_area_mm2;
    CHECK(row(all, Site::nasal_bridge, Side::midline).sensor == Approx(2 * one_mm2));
    CHECK(row(all, Site::cheek, Side::left).sensor == Approx(one_mm2));
  }
}

TEST_CASE("A site that ends between two samples is pressed there too") {
  // Bridge and side of the nose meet at 4 mm, a quarter of the way from 30 to 70 mmHg, or at 40.
  const std::vector<Landmark> places{{"dorsum_upper", Side::midline, {0, 0, 0}, 4},
                                     {"tip_side", Side::left, {8, 0, 0}, 4},
                                     {"lid_front", Side::left, {0, 200, 0}, 5}};
  std::vector<ContactSample> samples(3);
  const std::array feet{Vec3(3, 0, 0), Vec3(7, 0, 0), Vec3(0, 190, 0)};
  const std::array mmhg{30.0, 70.0, 0.0};
  for (int k = 0; k < 3; ++k) {
    ContactSample& sample = samples[static_cast<std::size_t>(k)];
    sample.station = k;
    sample.foot = sample.position = feet[static_cast<std::size_t>(k)];
    sample.area_mm2 = 1;
    sample.pressure = units::from_mmhg(mmhg[static_cast<std::size_t>(k)]);
    sample.shear = {0, 0.1 * sample.pressure, 0};
  }
  const auto all = site_pressures(samples, SiteFinder(places));
  const SitePressure bridge = row(all, Site::nasal_bridge, Side::midline);
  CHECK(units::to_mmhg(bridge.peak) == Approx(40).epsilon(0.01));
  CHECK(bridge.shear_peak == Approx(0.1 * bridge.peak));
  CHECK(units::to_mmhg(row(all, Site::nose_side, Side::left).peak) == Approx(70));
}

TEST_CASE("A lid is touched only where a sample of its own is pressed") {
  // Bridge and lid meet at 4 mm, nearer to the bridge's sample or to the lid's.
  const std::vector<Landmark> places{{"dorsum_upper", Side::midline, {0, 0, 0}, 4},
                                     {"lid_lower", Side::left, {8, 0, 0}, 5}};
  std::vector<ContactSample> samples(3);
  for (const double at_bridge_mm : {0.5, 3.5}) {
    for (const double lid_mmhg : {0.0, 20.0}) {
      const std::array feet{Vec3(at_bridge_mm, 0, 0), Vec3(at_bridge_mm + 4, 0, 0),
                            Vec3(0, -190, 0)};
      for (int k = 0; k < 3; ++k) {
        ContactSample& sample = samples[static_cast<std::size_t>(k)];
        sample.station = k;
        sample.foot = sample.position = feet[static_cast<std::size_t>(k)];
        sample.area_mm2 = 1;
        sample.pressure = units::from_mmhg(k == 0 ? 60 : k == 1 ? lid_mmhg : 0);
      }
      CAPTURE(at_bridge_mm, lid_mmhg);
      const auto all = site_pressures(samples, SiteFinder(places));
      const SitePressure lid = row(all, Site::eyelid, Side::left);
      CHECK((lid.contact_area > 0) == (lid_mmhg > 0));
      CHECK((lid.peak > 0) == (lid_mmhg > 0));
      CHECK((lid.sensor > 0) == (lid_mmhg > 0));
      CHECK((lid.mean > 0) == (lid_mmhg > 0));
      CHECK(row(all, Site::nasal_bridge, Side::midline).sensor > 0);
    }
  }
}

TEST_CASE("A reading in single precision is within its bound of the one in double") {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> uniform(0, 1);
  std::vector<ContactSample> samples = patch(-20, 20, -90, -60);
  for (ContactSample& sample : samples) {
    sample.pressure *= uniform(random);
    sample.foot.z() = 5 * uniform(random);
  }
  const SensorField sensor(samples);
  std::vector<Vec3> centres;
  for (int k = 0; k < 30; ++k) centres.emplace_back(2 * uniform(random), -75 + k, 0);
  std::vector<float> rough(centres.size());
  sensor.rough_readings(centres, rough);
  for (std::size_t k = 0; k < centres.size(); ++k) {
    CHECK(static_cast<double>(rough[k]) == Approx(sensor.reading(centres[k])).epsilon(1e-5));
  }
  CHECK(SensorField({}).reading({0, 0, 0}) == 0);
}
