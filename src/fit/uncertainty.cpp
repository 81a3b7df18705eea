#include "fit/uncertainty.hpp"

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <cassert>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numeric>
#include <random>

#include "case/dentures.hpp"
#include "fit/scan_draw.hpp"
#include "fit_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr std::size_t n_numbers = 6;
constexpr std::array<const char*, n_numbers> keys{
    "tissue_factor", "poisson", "lip_factor", "friction", "sealed_above_cmH2O", "strap_factor"};
constexpr std::array<bool, n_numbers> is_factor{true, false, true, false, false, true};

struct Range {
  double low, high;
};
const std::array<Range, n_numbers>& ranges() {
  static const auto out = [] {
    const auto table = nlohmann::json::parse(data::uncertainty_json());
    std::array<Range, n_numbers> all{};
    for (std::size_t k = 0; k < n_numbers; ++k) {
      const auto& row = table.at(keys[k]);
      all[k] = {row.at("low").get<double>(), row.at("high").get<double>()};
    }
    return all;
  }();
  return out;
}

double at_fraction(std::size_t k, double fraction) {
  const Range& range = ranges()[k];
  if (!is_factor[k]) return range.low + fraction * (range.high - range.low);
  return range.low * std::pow(range.high / range.low, fraction);
}

double fraction_at(std::size_t k, double value) {
  const Range& range = ranges()[k];
  if (!is_factor[k]) return (value - range.low) / (range.high - range.low);
  return std::log(value / range.low) / std::log(range.high / range.low);
}

// Moduli are tabulated for each Poisson's ratio: draws share a few.
constexpr int n_poisson = 8;
double poisson_of(double fraction) {
  const int step = std::min(static_cast<int>(fraction * n_poisson), n_poisson - 1);
  return at_fraction(1, (step + 0.5) / n_poisson);
}

const LayerModulus& modulus_of(double poisson) {
  static const auto table = [] {
    std::vector<LayerModulus> all;
    for (int k = 0; k < n_poisson; ++k) all.emplace_back(at_fraction(1, (k + 0.5) / n_poisson));
    return all;
  }();
  return *std::min_element(table.begin(), table.end(), [&](const auto& a, const auto& b) {
    return std::abs(a.poisson() - poisson) < std::abs(b.poisson() - poisson);
  });
}

std::vector<double> ranks_of(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> out(values.size());
  for (std::size_t first = 0; first < order.size();) {
    std::size_t after = first + 1;
    while (after < order.size() && values[order[after]] == values[order[first]]) ++after;
    const double rank = 0.5 * static_cast<double>(first + after - 1);
    for (; first < after; ++first) out[order[first]] = rank;
  }
  return out;
}

}  // namespace

std::string_view name_of(Driver driver) {
  switch (driver) {
    case Driver::poisson: return "poisson";
    case Driver::lip: return "lip";
    case Driver::friction: return "friction";
    case Driver::seal_margin: return "seal_margin";
    case Driver::straps: return "straps";
    case Driver::cushion_height: return "cushion_height";
    case Driver::cushion_width: return "cushion_width";
    case Driver::rim_depth: return "rim_depth";
    case Driver::lip_width: return "lip_width";
    case Driver::travel: return "travel";
    case Driver::gas_share: return "gas_share";
    case Driver::placement: return "placement";
    case Driver::anchors: return "anchors";
    case Driver::mass: return "mass";
    case Driver::tissue: break;
  }
  return "tissue";
}

std::string_view words_for(Driver driver) {
  switch (driver) {
    case Driver::poisson: return "how incompressible the tissue is";
    case Driver::lip: return "stiffness of the lip";
    case Driver::friction: return "friction";
    case Driver::seal_margin: return "contact that seals";
    case Driver::straps: return "how the straps are set";
    case Driver::cushion_height: return "height of the cushion (assumed)";
    case Driver::cushion_width: return "width of the cushion (assumed)";
    case Driver::rim_depth: return "rim depth (assumed)";
    case Driver::lip_width: return "width of the lip (assumed)";
    case Driver::travel: return "travel of the lip (assumed)";
    case Driver::gas_share: return "gas behind the lip (assumed)";
    case Driver::placement: return "where the apex sits (assumed)";
    case Driver::anchors: return "strap anchors (assumed)";
    case Driver::mass: return "mass of the mask (assumed)";
    case Driver::tissue: break;
  }
  return "stiffness of the tissue";
}

std::vector<UncertainInputs> uncertain_draws(int n, unsigned seed) {
  assert(n >= 1);
  std::mt19937 random(seed);
  std::array<double, n_numbers> shift{};
  for (double& each : shift) each = static_cast<double>(random()) / 4294967296.0;
  // A generator of its own, so that nothing else is drawn otherwise for it.
  std::mt19937 random_for_assumed(seed ^ 0x9E3779B9U);
  AssumedFractions assumed_shift{};
  for (double& each : assumed_shift) {
    each = static_cast<double>(random_for_assumed()) / 4294967296.0;
  }
  boost::random::sobol engine(n_numbers + assumed_shift.size());
  constexpr double span = 18446744073709551616.0;  // 2^64
  std::vector<UncertainInputs> out;
  for (int k = 0; k < n; ++k) {
    const auto next = [&](double moved_by) {
      double whole = 0;
      return std::modf(static_cast<double>(engine()) / span + moved_by, &whole);
    };
    std::array<double, n_numbers> fraction{};
    for (std::size_t j = 0; j < n_numbers; ++j) fraction[j] = next(shift[j]);
    AssumedFractions assumed{};
    for (std::size_t j = 0; j < assumed.size(); ++j) assumed[j] = next(assumed_shift[j]);
    out.push_back({.tissue_factor = at_fraction(0, fraction[0]),
                   .poisson = poisson_of(fraction[1]),
                   .lip_factor = at_fraction(2, fraction[2]),
                   .friction = at_fraction(3, fraction[3]),
                   .sealed_above = units::from_cmh2o(at_fraction(4, fraction[4])),
                   .strap_factor = at_fraction(5, fraction[5]),
                   .face_seed = static_cast<unsigned>(random()),
                   .assumed = assumed});
  }
  return out;
}

std::array<double, 6> fractions_of(const UncertainInputs& inputs) {
  return {fraction_at(0, inputs.tissue_factor),
          fraction_at(1, inputs.poisson),
          fraction_at(2, inputs.lip_factor),
          fraction_at(3, inputs.friction),
          fraction_at(4, units::to_cmh2o(inputs.sealed_above)),
          fraction_at(5, inputs.strap_factor)};
}

FaceInUse with_inputs(const FaceInUse& face, const UncertainInputs& inputs) {
  FaceInUse out = face;
  out.tissue = out.tissue.stiffened(inputs.tissue_factor);
  out.modulus = modulus_of(inputs.poisson);
  return out;
}

Mask with_inputs(Mask mask, const UncertainInputs& inputs) {
  mask.lip.stiffness_n_mm3 *= inputs.lip_factor;
  mask.lip.bottomed_stiffness_n_mm3 *= inputs.lip_factor;
  mask.friction = inputs.friction;
  return mask;
}

Case with_inputs(Case input, const UncertainInputs& inputs) {
  input.sealed_above = inputs.sealed_above;
  if (input.cushion.assumed.empty()) return input;
  if (input.cushion.is_assumed(CushionField::stiffness)) {
    // The mask's lip_factor comes on top: together they are the wider range at the same fraction.
    const double factor =
        assumed_value(CushionField::stiffness, fraction_at(2, inputs.lip_factor)) /
        inputs.lip_factor;
    input.cushion.lip.stiffness_n_mm3 *= factor;
    input.cushion.lip.bottomed_stiffness_n_mm3 *= factor;
  }
  input.cushion = with_assumed(std::move(input.cushion), inputs.assumed);
  return input;
}

ValueBand band_of(std::vector<double> values) {
  return band_of(values, std::vector<double>(values.size(), 1.0));
}

// Each value lies at the middle of its weight; the ends of the scale are the first and the last.
ValueBand band_of(const std::vector<double>& values, const std::vector<double>& weights) {
  assert(values.size() == weights.size());
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (weights[k] > 0) order.push_back(k);
  }
  assert(!order.empty());
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> place{0};
  for (std::size_t k = 1; k < order.size(); ++k) {
    place.push_back(place.back() + 0.5 * (weights[order[k - 1]] + weights[order[k]]));
  }
  const auto at = [&](double share) {
    const double wanted = share * place.back();
    const auto next = std::upper_bound(place.begin(), place.end(), wanted);
    if (next == place.end()) return values[order.back()];
    const auto above = static_cast<std::size_t>(next - place.begin());
    const double from = values[order[above - 1]];
    return from + (wanted - place[above - 1]) / (place[above] - place[above - 1]) *
                      (values[order[above]] - from);
  };
  return {at(0.1), at(0.5), at(0.9)};
}

std::vector<DriverShare> drivers_of(std::span<const UncertainInputs> draws,
                                    const std::vector<double>& values, const Cushion& cushion) {
  assert(draws.size() == values.size());
  constexpr std::size_t fewest = 10;
  if (values.size() < fewest) return {};
  std::vector<DriverShare> out;
  for (std::size_t j = 0; j < all_drivers.size(); ++j) {
    std::vector<double> input;
    for (const UncertainInputs& draw : draws) input.push_back(fractions_of(draw)[j]);
    out.push_back({all_drivers[j], rank_correlation(input, values)});
  }
  for (std::size_t j = 0; j < assumed_drivers.size(); ++j) {
    if (!cushion.is_assumed(drawn_fields[j])) continue;
    std::vector<double> input;
    for (const UncertainInputs& draw : draws) input.push_back(draw.assumed[j]);
    out.push_back({assumed_drivers[j], rank_correlation(input, values)});
  }
  std::stable_sort(out.begin(), out.end(), [](const DriverShare& a, const DriverShare& b) {
    return std::abs(a.correlation) > std::abs(b.correlation);
  });
  return out;
}

std::vector<FaceModel> faces_of_draws(const Case& input, std::span<const UncertainInputs> draws) {
  if (input.scan_residual_mm) {
    // The case's face has its dentures out already.
    const ScanSampler sampler(input.face, *input.scan_residual_mm);
    std::vector<FaceModel> out;
    for (const UncertainInputs& draw : draws) out.push_back(sampler.draw(draw.face_seed));
    return out;
  }
  if (!input.measured) return {};
  std::vector<unsigned> seeds;
  for (const UncertainInputs& draw : draws) seeds.push_back(draw.face_seed);
  std::vector<FaceModel> out = drawn_faces(input.measured->asked, seeds);
  if (input.dentures == Dentures::out) {
    for (FaceModel& face : out) face = without_dentures(std::move(face));
  }
  return out;
}

double rank_correlation(const std::vector<double>& a, const std::vector<double>& b) {
  assert(a.size() == b.size() && a.size() >= 2);
  const std::vector<double> x = ranks_of(a);
  const std::vector<double> y = ranks_of(b);
  const double mean = 0.5 * static_cast<double>(a.size() - 1);
  double xy = 0, xx = 0, yy = 0;
  for (std::size_t k = 0; k < x.size(); ++k) {
    xy += (x[k] - mean) * (y[k] - mean);
    xx += (x[k] - mean) * (x[k] - mean);
    yy += (y[k] - mean) * (y[k] - mean);
  }
  return xx > 0 && yy > 0 ? xy / std::sqrt(xx * yy) : 0;
}

}  // namespace rimload
