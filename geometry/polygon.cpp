#include "geometry/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rimload {

namespace {
const Vec2& next_of(std::span<const Vec2> polygon, std::size_t k) {
  return polygon[k + 1 < polygon.size() ? k + 1 : 0];
}
}  // namespace

double signed_area(std::span<const Vec2> polygon) {
  double twice = 0;
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    twice += cross(polygon[k] - polygon[0], next_of(polygon, k) - polygon[0]);
  }
  return 0.5 * twice;
}

double perimeter(std::span<const Vec2> polygon) {
  double length = 0;
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    length += (next_of(polygon, k) - polygon[k]).norm();
  }
  return length;
}

int winding_number(std::span<const Vec2> polygon, const Vec2& about) {
  // Sides that cross the ray to the right count upwards as 1, downwards as -1.
  int turns = 0;
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Vec2& a = polygon[k];
    const Vec2& b = next_of(polygon, k);
    const bool a_below = a.y() <= about.y();
    const bool b_below = b.y() <= about.y();
    if (a_below == b_below) continue;
    const double side = cross(b - a, about - a);
    if (a_below && side > 0) ++turns;
    if (b_below && side < 0) --turns;
  }
  return turns;
}

double border_distance(std::span<const Vec2> polygon, const Vec2& from) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Vec2 edge = next_of(polygon, k) - polygon[k];
    const Vec2 to = from - polygon[k];
    const double length = edge.squaredNorm();
    const double along = length > 0 ? std::clamp(to.dot(edge) / length, 0.0, 1.0) : 0;
    least = std::min(least, (to - along * edge).squaredNorm());
  }
  return std::sqrt(least);
}

std::optional<double> ray_length(std::span<const Vec2> polygon, const Vec2& from,
                                 const Vec2& direction, double beyond_mm) {
  std::optional<double> least;
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Vec2 edge = next_of(polygon, k) - polygon[k];
    const Vec2 to = polygon[k] - from;
    const double parallel = cross(direction, edge);
    if (parallel == 0) continue;
    const double along_edge = cross(to, direction) / parallel;
    const double length = cross(to, edge) / parallel * direction.norm();
    if (along_edge < 0 || along_edge > 1 || length <= beyond_mm) continue;
    if (!least || length < *least) least = length;
  }
  return least;
}

Extent extent_of(std::span<const Vec2> points) {
  Extent out{points.front(), points.front()};
  for (const Vec2& point : points) {
    out.low = out.low.cwiseMin(point);
    out.high = out.high.cwiseMax(point);
  }
  return out;
}

std::vector<Vec2> rotated(std::span<const Vec2> points, double angle_rad) {
  const Mat2 turn = Eigen::Rotation2Dd(angle_rad).toRotationMatrix();
  std::vector<Vec2> out;
  for (const Vec2& point : points) out.emplace_back(turn * point);
  return out;
}

std::vector<Vec2> shifted(std::span<const Vec2> points, const Vec2& by) {
  std::vector<Vec2> out;
  for (const Vec2& point : points) out.emplace_back(point + by);
  return out;
}

}  // namespace rimload
