#include "geometry/round_corners.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace rimload {

namespace {

constexpr double sample_mm = 0.05;
constexpr double chord_mm = 0.3;

// The outline in steps of at most `sample_mm`, each with the way inwards.
struct Sample {
  Vec2 at;
  Vec2 inwards;
};

std::vector<Sample> samples_of(std::span<const Vec2> polygon) {
  std::vector<Sample> out;
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Vec2& from = polygon[k];
    const Vec2 edge = polygon[(k + 1) % polygon.size()] - from;
    const double length = edge.norm();
    if (length == 0) continue;
    const Vec2 inwards = Vec2(-edge.y(), edge.x()) / length;
    const int n = std::max(1, static_cast<int>(std::ceil(length / sample_mm)));
    for (int i = 0; i < n; ++i) out.push_back({from + (i + 0.5) / n * edge, inwards});
  }
  return out;
}

// An arc about a centre from one point to another, without its ends, the shorter way.
void add_arc(const Vec2& centre, const Vec2& from, const Vec2& to, Polygon& out) {
  const Vec2 a = from - centre;
  const Vec2 b = to - centre;
  const double angle = std::atan2(cross(a, b), a.dot(b));
  const int n = static_cast<int>(std::ceil(std::abs(angle) * a.norm() / chord_mm));
  for (int k = 1; k < n; ++k) {
    const double share = static_cast<double>(k) / n;
    const Vec2 turned = Eigen::Rotation2Dd(share * angle) * a;
    out.emplace_back(centre + turned * (1 + share * (b.norm() / a.norm() - 1)));
  }
}

// What a disc reaches that rolls on one side of the outline (1: inside, -1: outside); nothing when
// it doesn't get all the way round.
std::optional<Polygon> rolled(std::span<const Vec2> polygon, double radius, double side) {
  constexpr double touching = 1e-3;  // a disc may dip this deep into the outline
  constexpr double leap = 3 * 0.05;  // between neighbouring places of one disc
  const std::vector<Sample> samples = samples_of(polygon);
  std::vector<std::size_t> reached;
  for (std::size_t k = 0; k < samples.size(); ++k) {
    const Vec2 centre = samples[k].at + side * radius * samples[k].inwards;
    if (border_distance(polygon, centre) < radius - touching) continue;
    // Beside the tip of a spike a disc's middle may lie across it.
    if ((winding_number(polygon, centre) != 0) == (side > 0)) reached.push_back(k);
  }
  if (reached.empty()) return std::nullopt;
  Polygon out;
  for (std::size_t n = 0; n < reached.size(); ++n) {
    const std::size_t k = reached[n];
    const std::size_t next = reached[(n + 1) % reached.size()];
    out.push_back(samples[k].at);
    if (next == (k + 1) % samples.size()) continue;
    const Vec2 here = samples[k].at + side * radius * samples[k].inwards;
    const Vec2 there = samples[next].at + side * radius * samples[next].inwards;
    if ((there - here).norm() > leap) return std::nullopt;
    add_arc(0.5 * (here + there), samples[k].at, samples[next].at, out);
  }
  return out;
}

// Fewer points: each chord as long as it may be without leaving the points between it.
Polygon thinned(const Polygon& polygon) {
  constexpr double off_mm = 3e-3;
  constexpr double longest_mm = 3;
  const auto is_near = [&](std::size_t from, std::size_t to) {
    const Vec2 chord = polygon[to % polygon.size()] - polygon[from];
    const double length = chord.norm();
    if (length > longest_mm) return false;
    for (std::size_t k = from + 1; k < to; ++k) {
      if (std::abs(cross(polygon[k] - polygon[from], chord)) > off_mm * length) return false;
    }
    return true;
  };
  Polygon out;
  for (std::size_t k = 0; k < polygon.size();) {
    out.push_back(polygon[k]);
    std::size_t next = k + 1;
    while (next < polygon.size() && is_near(k, next + 1)) ++next;
    k = next;
  }
  return out;
}

Polygon rolled_until_round(Polygon polygon, double radius, double side) {
  constexpr double smaller = 0.8;
  constexpr double least_mm = 0.2;
  for (double r = radius; r > least_mm; r *= smaller) {
    if (auto round = rolled(polygon, r, side)) return thinned(*round);
  }
  return polygon;
}

}  // namespace

Polygon round_corners(std::span<const Vec2> polygon, double radius_mm) {
  Polygon out(polygon.begin(), polygon.end());
  out = rolled_until_round(std::move(out), radius_mm, 1);
  return rolled_until_round(std::move(out), radius_mm, -1);
}

}  // namespace rimload
