#include "report/triangle.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rimload {

Triangle::Corner Triangle::rounded(const RasterVertex& v) {
  return {std::lround(v.x * samples::per_px), std::lround(v.y * samples::per_px)};
}

Triangle::Edge Triangle::edge_between(Corner p, Corner q) {
  Edge edge{};
  edge.dx = static_cast<std::int32_t>(p.y - q.y);
  edge.dy = static_cast<std::int32_t>(q.x - p.x);
  edge.at_origin = -(edge.dx * p.x + edge.dy * p.y);
  const bool left_or_top = edge.dx > 0 || (edge.dx == 0 && edge.dy > 0);
  if (!left_or_top) edge.at_origin -= 1;
  for (std::size_t s = 0; s < samples::n; ++s) {
    edge.offset[s] = edge.dx * samples::x[s] + edge.dy * samples::y[s];
  }
  edge.least = *std::min_element(edge.offset.begin(), edge.offset.end());
  edge.most = *std::max_element(edge.offset.begin(), edge.offset.end());
  return edge;
}

Triangle::Triangle(const RasterVertex& a, const RasterVertex& b, const RasterVertex& c, Faces faces)
    : corner_{&a, &b, &c} {
  std::array<Corner, 3> p{rounded(a), rounded(b), rounded(c)};
  std::int64_t twice_area =
      (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[1].y - p[0].y) * (p[2].x - p[0].x);
  const bool back = twice_area > 0;  // clockwise as seen
  if (twice_area == 0 || (back && faces == Faces::front)) return;
  if (twice_area < 0) {
    std::swap(p[1], p[2]);
    std::swap(corner_[1], corner_[2]);
    twice_area = -twice_area;
  }
  const auto [x_min, x_max] = std::minmax({p[0].x, p[1].x, p[2].x});
  const auto [y_min, y_max] = std::minmax({p[0].y, p[1].y, p[2].y});
  const auto pixel = [](std::int64_t v) { return static_cast<int>(v >> 4); };
  bounds_ = {pixel(x_min), pixel(y_min), pixel(x_max) + 1, pixel(y_max) + 1};
  edges_ = {edge_between(p[1], p[2]), edge_between(p[2], p[0]), edge_between(p[0], p[1])};
  per_area_ = 1.0 / static_cast<double>(twice_area);
  const double z0 = corner_[0]->z;
  const double z1 = corner_[1]->z;
  const double z2 = corner_[2]->z;
  z_least_ = static_cast<float>(std::min({z0, z1, z2}));
  z_most_ = static_cast<float>(std::max({z0, z1, z2}));
  const double d1 = (z1 - z0) * per_area_ * samples::per_px;
  const double d2 = (z2 - z0) * per_area_ * samples::per_px;
  z_dx_ = d1 * edges_[1].dx + d2 * edges_[2].dx;
  z_dy_ = d1 * edges_[1].dy + d2 * edges_[2].dy;
  z_origin_ = z0 - (z_dx_ * static_cast<double>(p[0].x) + z_dy_ * static_cast<double>(p[0].y)) /
                       samples::per_px;
  for (std::size_t s = 0; s < samples::n; ++s) {
    z_offset_[s] =
        static_cast<float>((z_dx_ * samples::x[s] + z_dy_ * samples::y[s]) / samples::per_px);
  }
}

Fragment Triangle::fragment_at(int x, int y, const EdgeValues& at_pixel) const {
  std::array<float, 3> w{};
  float sum = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    const auto value = at_pixel[k] + (edges_[k].dx + edges_[k].dy) * (samples::per_px / 2);
    w[k] = std::max(0.0F, static_cast<float>(static_cast<double>(value) * per_area_));
    sum += w[k];
  }
  if (sum > 1.0001F) {
    for (float& weight : w) weight /= sum;
  }
  const RasterVertex& a = *corner_[0];
  const RasterVertex& b = *corner_[1];
  const RasterVertex& c = *corner_[2];
  const auto mix = [&](float p, float q, float r) { return w[0] * p + w[1] * q + w[2] * r; };
  const Rgba colour{
      mix(a.colour.r, b.colour.r, c.colour.r), mix(a.colour.g, b.colour.g, c.colour.g),
      mix(a.colour.b, b.colour.b, c.colour.b), mix(a.colour.a, b.colour.a, c.colour.a)};
  return {x, y, colour, mix(a.u, b.u, c.u), mix(a.v, b.v, c.v)};
}

}  // namespace rimload
