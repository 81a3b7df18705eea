#include "skin/sensor_reading.hpp"

#include <algorithm>
#include <cmath>

#include "skin/site_pressure.hpp"

namespace rimload {

namespace {
constexpr double radius_mm = sensor_diameter_mm / 2;
}  // namespace

SensorField::SensorField(std::span<const ContactSample> samples) {
  double widest = 0;
  for (const ContactSample& sample : samples) {
    if (sample.pressure <= 0) continue;
    const double cell = std::sqrt(sample.area_mm2);  // as wide as the square of its area
    loads_.push_back({sample.foot, sample.pressure * sample.area_mm2, 2 * radius_mm * cell});
    widest = std::max(widest, cell);
  }
  reach_mm_ = std::sqrt(radius_mm * (radius_mm + widest));
  std::stable_sort(loads_.begin(), loads_.end(),
                   [](const Load& a, const Load& b) { return a.foot.y() < b.foot.y(); });
}

std::vector<double> SensorField::readings(std::span<const Vec3> centres_face) const {
  if (centres_face.empty()) return {};
  // What any of the discs can reach, gathered once.
  const Vec3 middle = centres_face[centres_face.size() / 2];
  double reach = 0;
  for (const Vec3& centre : centres_face) reach = std::max(reach, (centre - middle).norm());
  reach += reach_mm_;
  Eigen::Array<double, Eigen::Dynamic, 5> near(static_cast<Eigen::Index>(loads_.size()), 5);
  Eigen::Index n = 0;
  auto load = std::lower_bound(loads_.begin(), loads_.end(), middle.y() - reach,
                               [](const Load& a, double y) { return a.foot.y() < y; });
  for (; load != loads_.end() && load->foot.y() <= middle.y() + reach; ++load) {
    if ((load->foot - middle).squaredNorm() >= reach * reach) continue;
    near.row(n++) << load->foot.transpose().array(), load->force_n, 1 / load->fade_mm2;
  }
  std::vector<double> out;
  for (const Vec3& centre : centres_face) {
    const auto square = (near.col(0).head(n) - centre.x()).square() +
                        (near.col(1).head(n) - centre.y()).square() +
                        (near.col(2).head(n) - centre.z()).square();
    const auto inside = 0.5 + (radius_mm * radius_mm - square) * near.col(4).head(n);
    out.push_back((near.col(3).head(n) * inside.max(0.0).min(1.0)).sum() / sensor_area_mm2);
  }
  return out;
}

double sensor_reading(std::span<const ContactSample> samples, const Vec3& centre_face) {
  return SensorField(samples).readings({&centre_face, 1}).front();
}

}  // namespace rimload
