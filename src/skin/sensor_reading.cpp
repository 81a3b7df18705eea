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
  for (const ContactSample& sample : samples) {
    if (sample.pressure <= 0) continue;
    const double cell = std::sqrt(sample.area_mm2);  // as wide as the square of its area
    loads_.push_back({sample.foot, sample.pressure * sample.area_mm2, 1 / (2 * radius_mm * cell)});
    widest = std::max(widest, cell);
  }
  reach_mm_ = std::sqrt(radius_mm * (radius_mm + widest));
  std::stable_sort(loads_.begin(), loads_.end(), [](const Load& a, const Load& b) {
    return std::pair(row_of(a.foot.y()), a.foot.x()) < std::pair(row_of(b.foot.y()), b.foot.x());
  });
  if (loads_.empty()) return;
  lowest_row_ = row_of(loads_.front().foot.y());
  for (std::size_t k = 0; k < loads_.size(); ++k) {
    const auto row = static_cast<std::size_t>(row_of(loads_[k].foot.y()) - lowest_row_);
    while (row_start_.size() <= row) row_start_.push_back(k);
  }
  row_start_.push_back(loads_.size());
}

std::vector<double> SensorField::readings(std::span<const Vec3> centres_face) const {
  if (centres_face.empty()) return {};
  // What any of the discs can reach, gathered once.
  const Vec3 middle = centres_face[centres_face.size() / 2];
  double reach = 0;
  for (const Vec3& centre : centres_face) reach = std::max(reach, (centre - middle).norm());
  reach += reach_mm_;
  std::vector<Load> near;
  near.reserve(loads_.size());
  const auto n_rows = static_cast<int>(row_start_.size()) - 1;
  const int first_row = std::max(row_of(middle.y() - reach) - lowest_row_, 0);
  const int last_row = std::min(row_of(middle.y() + reach) - lowest_row_, n_rows - 1);
  for (int row = first_row; row <= last_row; ++row) {
    const Load* const end = loads_.data() + row_start_[static_cast<std::size_t>(row) + 1];
    const Load* load = std::lower_bound(loads_.data() + row_start_[static_cast<std::size_t>(row)],
                                        end, middle.x() - reach,
                                        [](const Load& a, double x) { return a.foot.x() < x; });
    for (; load != end && load->foot.x() <= middle.x() + reach; ++load) {
      if ((load->foot - middle).squaredNorm() < reach * reach) near.push_back(*load);
    }
  }
  std::vector<double> out;
  using Four = Eigen::Array4d;  // discs at a time
  for (std::size_t first = 0; first < centres_face.size(); first += 4) {
    const std::size_t n = std::min<std::size_t>(4, centres_face.size() - first);
    Four x = Four::Zero();
    Four y = Four::Zero();
    Four z = Four::Zero();
    for (std::size_t k = 0; k < n; ++k) {
      const Vec3& centre = centres_face[first + k];
      const auto lane = static_cast<Eigen::Index>(k);
      x[lane] = centre.x();
      y[lane] = centre.y();
      z[lane] = centre.z();
    }
    Four force = Four::Zero();
    for (const Load& each : near) {
      const Four square = (x - each.foot.x()).square() + (y - each.foot.y()).square() +
                          (z - each.foot.z()).square();
      const Four inside = 0.5 + (radius_mm * radius_mm - square) * each.per_fade_mm2;
      force += each.force_n * inside.max(0.0).min(1.0);
    }
    for (std::size_t k = 0; k < n; ++k) {
      out.push_back(force[static_cast<Eigen::Index>(k)] / sensor_area_mm2);
    }
  }
  return out;
}

double sensor_reading(std::span<const ContactSample> samples, const Vec3& centre_face) {
  return SensorField(samples).readings({&centre_face, 1}).front();
}

}  // namespace rimload
