#include "leak/beard_bed.hpp"

#include <array>
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr Gas gas{.density = 1.12e-12, .viscosity = 1.88e-11};
constexpr Hair beard{.length_mm = 10, .per_mm2 = 0.45, .diameter_mm = 0.12, .modulus_n_mm2 = 4000};
constexpr double kpa = units::kpa;
constexpr double cmh2o = units::cmh2o;

double one_part(const Hair& hair, double contact, double pressure) {
  const std::array parts{BedPart{contact, 8}};
  return bed_flow(hair, parts, pressure, gas);
}

}  // namespace

TEST_CASE("A fibrous bed has the permeability that Davies measured") {
  // Davies 1952: K = d^2/(64 phi^1.5 (1 + 56 phi^3)), worked by hand at phi 0.04 and 0.25, where
  // phi^1.5 is 0.008 and 0.125: 64 x 0.008 x 1.003584 and 64 x 0.125 x 1.875.
  CHECK(fibre_permeability(0.1, 0.04) == Approx(0.01 / 0.513835).epsilon(1e-6));
  CHECK(fibre_permeability(0.2, 0.25) == Approx(0.04 / 15).epsilon(1e-12));
  // Exact drag on a sparse square array of cylinders across the flow, K = d^2 (-ln phi - 1.476 +
  // 2 phi)/(32 phi) [Sangani and Acrivos 1982, from memory]: within a factor of 2.
  const double array = (-std::log(0.05) - 1.476 + 0.1) / (32 * 0.05);
  CHECK(fibre_permeability(1, 0.05) > array / 2);
  CHECK(fibre_permeability(1, 0.05) < array * 2);
}

TEST_CASE("A bed of fibres compacts with the cube root of the pressure, as van Wyk found") {
  const double loose = solid_fraction(beard, 0);
  CHECK(solid_fraction(beard, -1) == loose);
  // phi^3 - phi0^3 is proportional to p over the modulus [van Wyk 1946].
  const auto cube_gained = [&](const Hair& hair, double p) {
    return std::pow(solid_fraction(hair, p), 3) - std::pow(loose, 3);
  };
  CHECK(cube_gained(beard, 8 * kpa) == Approx(8 * cube_gained(beard, kpa)).epsilon(1e-9));
  Hair soft = beard;
  soft.modulus_n_mm2 /= 5;
  CHECK(cube_gained(soft, kpa) == Approx(5 * cube_gained(beard, kpa)).epsilon(1e-9));
  // Far above any load on skin it stops at the packing of crushed rods, below that of parallel
  // touching cylinders, pi/sqrt(12).
  CHECK(solid_fraction(beard, 1e6) == solid_fraction(beard, 1e7));
  CHECK(solid_fraction(beard, 1e6) < 0.9069);
}

TEST_CASE("Compaction keeps the volume of the hair") {
  for (const double p : {0.0, 1 * kpa, 5 * kpa, 1e6}) {
    CAPTURE(p);
    // 0.45 cylinders a square millimetre, 10 mm by 0.12 mm: 0.45 x 10 x 0.0113097 mm3.
    CHECK(bed_thickness(beard, p) * solid_fraction(beard, p) == Approx(0.0508938).epsilon(1e-6));
  }
}

TEST_CASE("Slow gas passes a bed by Darcy's law") {
  const double p = 1e-12;  // so slow that inertia takes no part in 1e6
  const double thickness = bed_thickness(beard, 3 * kpa);
  const double k = fibre_permeability(beard.diameter_mm, solid_fraction(beard, 3 * kpa));
  // Superficial speed v = K P/(mu L), over the thickness.
  const double expected = k * p / (gas.viscosity * 8) * thickness;
  CHECK(one_part(beard, 3 * kpa, p) == Approx(expected).epsilon(1e-5));
  CHECK(one_part(beard, 3 * kpa, 2 * p) == Approx(2 * one_part(beard, 3 * kpa, p)).epsilon(1e-5));
}

TEST_CASE("Fast gas passes a bed by the square law of Forchheimer") {
  const double p = 1e6;
  const double thickness = bed_thickness(beard, 3 * kpa);
  const double k = fibre_permeability(beard.diameter_mm, solid_fraction(beard, 3 * kpa));
  const double c = beard_law().forchheimer;
  const double expected = std::sqrt(p * std::sqrt(k) / (8 * c * gas.density)) * thickness;
  CHECK(one_part(beard, 3 * kpa, p) == Approx(expected).epsilon(1e-4));
  CHECK(one_part(beard, 3 * kpa, 4 * p) == Approx(2 * one_part(beard, 3 * kpa, p)).epsilon(1e-4));
}

TEST_CASE("In a beard under a mask Darcy's law alone would give at least ten times the flow") {
  const double p = 15 * cmh2o;
  const double darcy = one_part(beard, 3 * kpa, 1e-12) * p / 1e-12;
  CHECK(darcy > 10 * one_part(beard, 3 * kpa, p));
}

TEST_CASE("Parts of a bed in series share the flow and add their pressure drops") {
  const std::array parts{BedPart{1 * kpa, 2}, BedPart{5 * kpa, 3}, BedPart{2 * kpa, 3}};
  const double p = 10 * cmh2o;
  const double q = bed_flow(beard, parts, p, gas);
  double sum = 0;
  for (const BedPart& part : parts) {
    // The drop that lets the same flow through this part alone, by bisection.
    double low = 0;
    double high = p;
    for (int i = 0; i < 60; ++i) {
      const double middle = (low + high) / 2;
      const std::array alone{part};
      (bed_flow(beard, alone, middle, gas) < q ? low : high) = middle;
    }
    sum += high;
  }
  CHECK(sum == Approx(p).epsilon(1e-9));
  // Cutting a part in two changes nothing.
  const std::array whole{BedPart{2 * kpa, 8}};
  const std::array halves{BedPart{2 * kpa, 3}, BedPart{2 * kpa, 5}};
  CHECK(bed_flow(beard, whole, p, gas) == Approx(bed_flow(beard, halves, p, gas)).epsilon(1e-12));
}

TEST_CASE("Nothing passes where there is no hair, no bed or no pressure") {
  Hair none = beard;
  none.length_mm = 0;
  CHECK(one_part(none, kpa, 10 * cmh2o) == 0);
  none = beard;
  none.per_mm2 = 0;
  CHECK(one_part(none, kpa, 10 * cmh2o) == 0);
  none = beard;
  none.diameter_mm = 0;
  CHECK(one_part(none, kpa, 10 * cmh2o) == 0);
  CHECK(bed_flow(beard, {}, 10 * cmh2o, gas) == 0);
  CHECK(one_part(beard, kpa, 0) == 0);
  CHECK(one_part(beard, kpa, -cmh2o) == 0);
}

TEST_CASE("A beard leaks more when longer, denser or under more gas, less when pressed harder") {
  for (const double length : {1.0, 4.0, 15.0, 40.0}) {
    for (const double contact : {0.0, 0.5 * kpa, 2 * kpa, 10 * kpa}) {
      for (const double p : {1 * cmh2o, 8 * cmh2o, 30 * cmh2o}) {
        CAPTURE(length, contact, p);
        Hair hair = beard;
        hair.length_mm = length;
        const double q = one_part(hair, contact, p);
        CHECK(one_part(hair, contact, 1.01 * p) > q);
        CHECK(one_part(hair, contact + 0.1 * kpa, p) < q);
        Hair longer = hair;
        longer.length_mm *= 1.01;
        CHECK(one_part(longer, contact, p) > q);
        Hair denser = hair;
        denser.per_mm2 *= 1.01;
        CHECK(one_part(denser, contact, p) > q);
      }
    }
  }
}

TEST_CASE("Words for a beard rank from stubble to full, about as dense as beards are counted") {
  std::vector<double> flow;
  for (const char* word : {"stubble", "short", "full"}) {
    const std::optional<Hair> hair = hair_named(word, 6);
    REQUIRE(hair);
    CHECK(hair->length_mm == 6);
    flow.push_back(one_part(*hair, 3 * kpa, 10 * cmh2o));
  }
  CHECK(flow[0] < flow[1]);
  CHECK(flow[1] < flow[2]);
  // 40 to 50 thick hairs a square centimetre on cheek and chin (from memory).
  CHECK(hair_named("full", 6)->per_mm2 >= 0.4);
  CHECK(hair_named("full", 6)->per_mm2 <= 0.5);
  CHECK_FALSE(hair_named("moustache", 6));
}

TEST_CASE("A full beard under 10 cm of a well pressed rim leaks litres, not hundreds, a minute") {
  // The evidence holds no leak in L/min: the bounds are a few to under a hundred, order of
  // magnitude only. Half masks over beards lose about 250 times their fit (Skretvedt 1984, from
  // memory).
  const std::optional<Hair> full = hair_named("full", 10);
  REQUIRE(full);
  for (const double contact : {2 * kpa, 5 * kpa}) {
    const double litres = units::to_l_per_min(100 * one_part(*full, contact, 15 * cmh2o));
    CAPTURE(contact, litres);
    CHECK(litres > 3);
    CHECK(litres < 100);
  }
}
