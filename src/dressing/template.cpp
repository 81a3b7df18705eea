#include "dressing/template.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "dressing/template_cuts.hpp"
#include "geometry/round_corners.hpp"

namespace rimload {

namespace {

// A place's outline in the chart, fit to be meshed: a narrow spike or bay, as an outline has where
// it ran through itself, would draw thousands of points.
Polygon chart_outline(const DressingPlace& place) {
  constexpr double least_radius_mm = 1;
  constexpr double least_edge_mm = 0.8;
  std::vector<Vec2> chart;
  for (const Vec3& point : place.outline) chart.push_back(SkinMap::chart(point));
  return simple_outline(round_corners(simple_outline(chart), least_radius_mm), least_edge_mm);
}

// The angle by which the flat patch is turned for its y to be up: the mean, over its triangles, of
// where the face's vertical goes, laid along the skin.
double turn_to_upright(const CutPatch& cut) {
  Vec2 up = Vec2::Zero();
  const TriangleMesh& mesh = cut.patch.mesh;
  for (std::size_t k = 0; k < mesh.triangles.size(); ++k) {
    const auto& t = mesh.triangles[k];
    Eigen::Matrix<double, 3, 2> edges;
    edges << mesh.vertices[t[1]] - mesh.vertices[t[0]], mesh.vertices[t[2]] - mesh.vertices[t[0]];
    Mat2 flat;
    flat << cut.flat.points[t[1]] - cut.flat.points[t[0]],
        cut.flat.points[t[2]] - cut.flat.points[t[0]];
    const Mat2 metric = edges.transpose() * edges;
    up += cut.flat.areas[k] * flat * (metric.inverse() * (edges.transpose() * Vec3::UnitY()));
  }
  return std::atan2(up.x(), up.y());
}

// A line from the tip outwards, ended where it meets the outline.
std::vector<Vec2> clipped(std::vector<Vec2> line, const Polygon& outline) {
  while (line.size() > 2 && winding_number(outline, line.front()) == 0) line.erase(line.begin());
  const Vec2 outwards = (line[0] - line[1]).normalized();
  if (const auto length = ray_length(outline, line[1], outwards, 0)) {
    line.front() = line[1] + *length * outwards;
  }
  return line;
}

TemplateCut cut_of(const SlitBanks& banks, const Polygon& outline, bool deep) {
  TemplateCut out;
  out.under_rim = deep;
  if (banks.opening_mm > 0) {
    out.left = clipped(banks.left, outline);
    out.right = clipped(banks.right, outline);
    out.wedge_mm = (out.right.front() - out.left.front()).norm();
  } else {
    std::vector<Vec2> middle;
    for (std::size_t k = 0; k < banks.left.size(); ++k) {
      middle.emplace_back(0.5 * (banks.left[k] + banks.right[k]));
    }
    out.left = out.right = clipped(std::move(middle), outline);
    out.gap_mm = -banks.opening_mm;
  }
  for (std::size_t k = 0; k + 1 < out.left.size(); ++k) {
    out.length_mm += (out.left[k + 1] - out.left[k]).norm();
  }
  return out;
}

bool lies_near(const std::vector<Vec2>& points, const Vec2& here) {
  constexpr double near_mm = 1;
  return std::any_of(points.begin(), points.end(),
                     [&](const Vec2& point) { return (point - here).norm() < near_mm; });
}

// Points of the flat patch above the plane x = 0 of the face, from the top downwards. Where a slit
// runs along it, the slit marks it.
std::vector<Vec2> midline_of(const CutPatch& cut) {
  std::vector<Vec2> banks;
  for (const SlitLine& slit : cut.slits) {
    const SlitBanks both = banks_of(cut, slit);
    banks.insert(banks.end(), both.left.begin(), both.left.end());
    banks.insert(banks.end(), both.right.begin(), both.right.end());
  }
  std::vector<std::pair<double, Vec2>> crossings;  // height on the face, and where
  const std::vector<Vec3>& at = cut.patch.mesh.vertices;
  for (const auto& t : cut.patch.mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const auto from = t[k];
      const auto to = t[(k + 1) % 3];
      if ((at[from].x() < 0) == (at[to].x() < 0)) continue;
      const double share = at[from].x() / (at[from].x() - at[to].x());
      const Vec2 here =
          cut.flat.points[from] + share * (cut.flat.points[to] - cut.flat.points[from]);
      if (lies_near(banks, here)) continue;
      crossings.emplace_back(at[from].y() + share * (at[to].y() - at[from].y()), here);
    }
  }
  std::stable_sort(crossings.begin(), crossings.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  // One point a step of height: an inner edge is crossed by two triangles.
  constexpr double step_mm = 0.7;
  std::vector<Vec2> out;
  for (std::size_t k = 0; k < crossings.size();) {
    const double top = crossings[k].first;
    Vec2 sum = Vec2::Zero();
    double n = 0;
    for (; k < crossings.size() && crossings[k].first > top - step_mm; ++k, ++n) {
      sum += crossings[k].second;
    }
    out.emplace_back(sum / n);
  }
  return out;
}

void move(std::vector<Vec2>& points, double turn, const Vec2& by) {
  points = shifted(rotated(points, turn), by);
}

}  // namespace

TemplatePiece make_template(const SkinMap& skin, const DressingPlace& place, const CutRule& rule) {
  const CutPatch cut = cut_to_lie_flat(skin, chart_outline(place), rule);
  TemplatePiece out;
  out.site = place.site;
  out.outline = round_corners(outer_border(cut), rule.corner_radius_mm);
  for (std::size_t k = 0; k < cut.slits.size(); ++k) {
    out.cuts.push_back(cut_of(banks_of(cut, cut.slits[k]), out.outline, cut.deep[k]));
  }
  out.midline = midline_of(cut);
  out.stretch = cut.stretch;
  out.lies_flat = cut.stretch.most() <= rule.stretch_limit;
  const double turn = turn_to_upright(cut);
  const Extent extent = extent_of(rotated(out.outline, turn));
  const Vec2 by = -0.5 * (extent.low + extent.high);
  move(out.outline, turn, by);
  move(out.midline, turn, by);
  for (TemplateCut& each : out.cuts) {
    move(each.left, turn, by);
    move(each.right, turn, by);
  }
  return out;
}

}  // namespace rimload
