#include "skin/sensor_reading.hpp"

#include <algorithm>
#include <cmath>

#include "skin/site_pressure.hpp"

namespace rimload {

namespace {
constexpr double radius_mm = sensor_diameter_mm / 2;
constexpr double row_mm = 4;  // any height of rows gives the same readings

int row_of(double y_mm) { return static_cast<int>(std::floor(y_mm / row_mm)); }
}  // namespace

SensorField::SensorField(std::span<const ContactSample> samples) {
  double widest = 0;
  std::vector<Load> loads;
  for (const ContactSample& sample : samples) {
    if (sample.pressure <= 0) continue;
    const double cell = std::sqrt(sample.area_mm2);  // as wide as the square of its area
    loads.push_back({sample.foot, sample.pressure * sample.area_mm2, 1 / (2 * radius_mm * cell)});
    widest = std::max(widest, cell);
    lowest_row_ = std::min(lowest_row_, row_of(sample.foot.y()));
  }
  reach_mm_ = std::sqrt(radius_mm * (radius_mm + widest));
  for (const Load& load : loads) {
    const auto row = static_cast<std::size_t>(row_of(load.foot.y()) - lowest_row_);
    if (row >= rows_.size()) rows_.resize(row + 1);
    rows_[row].push_back(load);
  }
}

template <class Visit>
void SensorField::visit_near(const Vec3& middle, double reach, const Visit& visit) const {
  if (rows_.empty()) return;
  const auto n_rows = static_cast<int>(rows_.size());
  const int first_row = std::max(row_of(middle.y() - reach) - lowest_row_, 0);
  const int last_row = std::min(row_of(middle.y() + reach) - lowest_row_, n_rows - 1);
  for (int row = first_row; row <= last_row; ++row) {
    for (const Load& load : rows_[static_cast<std::size_t>(row)]) {
      if ((load.foot - middle).squaredNorm() < reach * reach) visit(load);
    }
  }
}

double SensorField::reading(const Vec3& centre_face) const {
  double force = 0;
  visit_near(centre_face, reach_mm_, [&](const Load& each) {
    const double square = (centre_face - each.foot).squaredNorm();
    const double inside = 0.5 + (radius_mm * radius_mm - square) * each.per_fade_mm2;
    force += each.force_n * std::clamp(inside, 0.0, 1.0);
  });
  return force / sensor_area_mm2;
}

void SensorField::rough_readings(std::span<const Vec3> centres_face, std::span<float> out) const {
  if (centres_face.empty()) return;
  // What any of the discs can reach, gathered once.
  const Vec3 middle = centres_face[centres_face.size() / 2];
  double reach = 0;
  for (const Vec3& centre : centres_face) reach = std::max(reach, (centre - middle).norm());
  struct RoughLoad {
    Eigen::Vector3f foot;  // from the middle
    float force, per_fade;
  };
  std::vector<RoughLoad> loads;
  visit_near(middle, reach + reach_mm_, [&](const Load& each) {
    loads.push_back({(each.foot - middle).cast<float>(), static_cast<float>(each.force_n),
                     static_cast<float>(each.per_fade_mm2)});
  });
  using Some = Eigen::Array<float, 8, 1>;  // discs at a time
  constexpr std::size_t n_some = 8;
  for (std::size_t first = 0; first < centres_face.size(); first += n_some) {
    const std::size_t n = std::min(n_some, centres_face.size() - first);
    Some x = Some::Zero();
    Some y = Some::Zero();
    Some z = Some::Zero();
    for (std::size_t k = 0; k < n; ++k) {
      const Eigen::Vector3f centre = (centres_face[first + k] - middle).cast<float>();
      const auto lane = static_cast<Eigen::Index>(k);
      x[lane] = centre.x();
      y[lane] = centre.y();
      z[lane] = centre.z();
    }
    Some force = Some::Zero();
    for (const RoughLoad& each : loads) {
      const Some square = (x - each.foot.x()).square() + (y - each.foot.y()).square() +
                          (z - each.foot.z()).square();
      const Some inside =
          0.5F + (static_cast<float>(radius_mm * radius_mm) - square) * each.per_fade;
      force += each.force * inside.max(0.0F).min(1.0F);
    }
    for (std::size_t k = 0; k < n; ++k) {
      out[first + k] = force[static_cast<Eigen::Index>(k)] / static_cast<float>(sensor_area_mm2);
    }
  }
}

double sensor_reading(std::span<const ContactSample> samples, const Vec3& centre_face) {
  return SensorField(samples).reading(centre_face);
}

}  // namespace rimload
