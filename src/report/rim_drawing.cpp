#include "report/rim_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "report/palette.hpp"

namespace rimload {

namespace {

struct Edges {
  Vec3 inner, outer;
};

Vec3 not_below(const SkinMap& skin, const Vec3& point) {
  return skin.first_order_distance(point) < 0 ? skin.closest(point).foot : point;
}

// Edges of the lip at each station; none where a scene has no samples there.
std::vector<Edges> edges_of(const Scene& scene) {
  std::vector<Edges> out;
  for (const SceneStation& station : scene.stations) {
    const auto& p = station.points;
    if (p.size() < 2) continue;
    const std::size_t n = p.size();
    out.push_back({not_below(*scene.skin, 1.5 * p[0] - 0.5 * p[1]),
                   not_below(*scene.skin, 1.5 * p[n - 1] - 0.5 * p[n - 2])});
  }
  return out;
}

RasterVertex glass(const Camera& camera, const Vec3& point, const Vec3& normal) {
  // Glass seen along its surface is denser than glass seen through.
  const double along = 1 - std::abs(normal.dot(camera.towards_viewer()));
  const Vec3 p = camera.project(point);
  return {static_cast<float>(p.x()),
          static_cast<float>(p.y()),
          static_cast<float>(p.z()),
          with_cover(palette::rim, static_cast<float>(0.02 + 0.30 * along * along)),
          0,
          0};
}

}  // namespace

std::vector<GapRun> gap_runs(const std::vector<SceneStation>& stations, std::size_t bridge) {
  const std::size_t n = stations.size();
  std::vector<GapRun> runs;
  for (std::size_t k = 0; k < n; ++k) {
    if (!stations[k].open) continue;
    const bool near = !runs.empty() && k - (runs.back().first + runs.back().n_stations) < bridge;
    if (near) {
      runs.back().n_stations = k - runs.back().first + 1;
      runs.back().gap_mm = std::max(runs.back().gap_mm, stations[k].gap_mm);
    } else {
      runs.push_back({k, 1, stations[k].gap_mm});
    }
  }
  if (runs.size() > 1) {
    const std::size_t end = runs.back().first + runs.back().n_stations;
    const std::size_t closed_between = n - end + runs.front().first;
    if (closed_between < bridge) {
      runs.back().n_stations += closed_between + runs.front().n_stations;
      runs.back().gap_mm = std::max(runs.back().gap_mm, runs.front().gap_mm);
      runs.erase(runs.begin());
    }
  }
  return runs;
}

RasterLayer rim_layer(const Scene& scene, const Camera& camera) {
  RasterLayer layer;
  layer.hides = false;
  const std::vector<Edges> edges = edges_of(scene);
  if (edges.size() != scene.stations.size()) return layer;
  const std::size_t n = edges.size();
  for (std::size_t k = 0; k < n; ++k) {
    const Vec3& rim = scene.stations[k].rim;
    const Vec3 along = scene.stations[(k + 1) % n].rim - scene.stations[(k + n - 1) % n].rim;
    const Vec3 outer_wall = along.cross(edges[k].outer - rim).normalized();
    const Vec3 inner_wall = along.cross(rim - edges[k].inner).normalized();
    layer.vertices.push_back(glass(camera, edges[k].inner, inner_wall));
    layer.vertices.push_back(glass(camera, rim, inner_wall));
    layer.vertices.push_back(glass(camera, rim, outer_wall));
    layer.vertices.push_back(glass(camera, edges[k].outer, outer_wall));
    const auto here = static_cast<int>(4 * k);
    const auto next = static_cast<int>(4 * ((k + 1) % n));
    for (const int wall : {0, 2}) {
      layer.triangles.push_back({here + wall, next + wall, here + wall + 1});
      layer.triangles.push_back({next + wall, next + wall + 1, here + wall + 1});
    }
  }
  return layer;
}

std::vector<StrokePath> lip_edges(const Scene& scene, const Camera& camera) {
  StrokePath inner;
  StrokePath outer;
  for (const Edges& edge : edges_of(scene)) {
    inner.push_back(camera.project(edge.inner));
    outer.push_back(camera.project(edge.outer));
  }
  return {closed(std::move(inner)), closed(std::move(outer))};
}

StrokePath rim_line(const Scene& scene, const Camera& camera) {
  StrokePath line;
  for (const SceneStation& station : scene.stations) line.push_back(camera.project(station.rim));
  return closed(std::move(line));
}

std::vector<StrokePath> gap_outlines(const Scene& scene, const Camera& camera) {
  const std::vector<Edges> edges = edges_of(scene);
  const std::size_t n = edges.size();
  std::vector<StrokePath> out;
  if (n != scene.stations.size()) return out;
  for (const GapRun& run : gap_runs(scene.stations)) {
    StrokePath there;
    StrokePath back;
    for (std::size_t k = 0; k < run.n_stations; ++k) {
      const Edges& edge = edges[(run.first + k) % n];
      there.push_back(camera.project(edge.inner));
      back.push_back(camera.project(edge.outer));
    }
    if (run.n_stations == n) {  // all around: two rings
      out.push_back(closed(std::move(there)));
      out.push_back(closed(std::move(back)));
      continue;
    }
    there.insert(there.end(), back.rbegin(), back.rend());
    out.push_back(closed(std::move(there)));
  }
  return out;
}

}  // namespace rimload
