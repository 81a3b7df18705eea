#include "report/strap_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "report/skin_surface.hpp"

namespace rimload {

namespace {

constexpr double strap_step_mm = 3;
constexpr int n_across = 7;
constexpr double clearance_mm = 1.0;  // of a band from the skin under it
constexpr double arm_width_mm = 10;

Vec3 radial(const Vec3& p) { return Vec3(p.x(), 0, p.z() - SkinMap::axis_z_mm).normalized(); }

double share_at(const Vec3& p) { return shown_share(SkinMap::chart(p)); }

std::vector<Vec3> resampled(const std::vector<Vec3>& line) {
  std::vector<Vec3> out;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Vec3 piece = line[k] - line[k - 1];
    const int n = std::max(1, static_cast<int>(std::ceil(piece.norm() / strap_step_mm)));
    for (int i = 0; i < n; ++i) out.push_back(line[k - 1] + piece * (static_cast<double>(i) / n));
  }
  if (!line.empty()) out.push_back(line.back());
  return out;
}

// Means over neighbours on either side, as many as there are up to `reach`.
template <typename Value>
std::vector<Value> running_mean(const std::vector<Value>& values, std::size_t reach) {
  std::vector<Value> out;
  for (std::size_t k = 0; k < values.size(); ++k) {
    const std::size_t near = std::min({reach, k, values.size() - 1 - k});
    Value sum = values[k];
    for (std::size_t i = 1; i <= near; ++i) sum += values[k - i] + values[k + i];
    out.push_back(sum / static_cast<double>(2 * near + 1));
  }
  return out;
}

// Goes on round the head, nearing the skin, until the shown face ends.
void go_on(std::vector<Vec3>& course, const SkinMap& skin) {
  constexpr int most_steps = 40;
  constexpr double nearing_mm = 10;
  const Vec3 end = course.back();
  Vec2 uv = SkinMap::chart(end);
  const Vec2 way = uv - SkinMap::chart(course[course.size() - 2]);
  if (way.norm() < 1e-6) return;
  const Vec2 step = strap_step_mm * way.normalized();
  const Vec3 under = skin.point(uv);
  const auto radius = [](const Vec3& p) { return std::hypot(p.x(), p.z() - SkinMap::axis_z_mm); };
  double off = std::max(clearance_mm, radius(end) - radius(under));
  for (int k = 0; k < most_steps && share_at(course.back()) > 0; ++k) {
    uv += step;
    off -= (off - clearance_mm) * strap_step_mm / nearing_mm;
    const Vec3 on_skin = skin.point(uv);
    course.push_back(on_skin + off * radial(on_skin));
  }
  course = running_mean(course, 4);  // rounds the corner between the two
}

// How far a point has to go outwards to be clear of the skin.
double lift_of(const Vec3& p, const SkinMap& skin) {
  double lift = 0;
  const Vec3 outwards = radial(p);
  for (int pass = 0; pass < 3; ++pass) {
    const double missing = clearance_mm - skin.first_order_distance(p + lift * outwards);
    if (missing <= 0) break;
    lift += missing;
  }
  return lift;
}

// Rises to what is asked for without a kink.
std::vector<double> eased(std::vector<double> lift) {
  for (int pass = 0; pass < 2; ++pass) {
    const std::vector<double> mean = running_mean(lift, 4);
    for (std::size_t k = 0; k < lift.size(); ++k) lift[k] = std::max(lift[k], mean[k]);
  }
  return running_mean(lift, 2);
}

// @param width_mm at the start and at the end
StrapBand band_over(const std::vector<Vec3>& course, const Vec2& width_mm, const SkinMap& skin) {
  StrapBand band;
  if (course.size() < 2) return band;
  for (std::size_t k = 0; k < course.size(); ++k) {
    const Vec3 along = course[std::min(k + 1, course.size() - 1)] - course[k == 0 ? 0 : k - 1];
    const Vec3 across = along.cross(radial(course[k])).normalized();
    const double share = static_cast<double>(k) / static_cast<double>(course.size() - 1);
    const double width = (1 - share) * width_mm.x() + share * width_mm.y();
    std::vector<Vec3> row;
    for (int i = 0; i < n_across; ++i) {
      const double offset = (static_cast<double>(i) / (n_across - 1) - 0.5) * width;
      row.push_back(course[k] + offset * across);
    }
    band.push_back(std::move(row));
  }
  for (std::size_t i = 0; i < n_across; ++i) {
    std::vector<double> lift;
    for (const auto& row : band) lift.push_back(lift_of(row[i], skin));
    lift = eased(lift);
    for (std::size_t k = 0; k < band.size(); ++k) band[k][i] += lift[k] * radial(band[k][i]);
  }
  return band;
}

// Darker where it turns away from the viewer.
Rgba shaded(const BandInk& ink, const Vec3& point, const Camera& camera) {
  const double facing = std::max(0.0, radial(point).dot(camera.towards_viewer()));
  const Rgba colour = with_cover(ink.colour, 1);
  const auto light = static_cast<float>(0.80 + 0.20 * facing);
  return {colour.r * light, colour.g * light, colour.b * light,
          static_cast<float>(ink.cover * share_at(point))};
}

bool faces_viewer(const StrapBand& band, std::size_t row, const Camera& camera) {
  const std::size_t next = std::min(row + 1, band.size() - 1);
  const std::size_t before = row == 0 ? 0 : row - 1;
  const Vec3 along = band[next][n_across / 2] - band[before][n_across / 2];
  const Vec3 across = band[row].back() - band[row].front();
  return across.cross(along).dot(camera.towards_viewer()) > 0;
}

}  // namespace

StrapBand strap_band(const SceneStrap& strap, const SkinMap& skin) {
  std::vector<Vec3> course = resampled(strap.points);
  if (course.size() > 1) go_on(course, skin);
  return band_over(course, {strap.width_mm, strap.width_mm}, skin);
}

StrapBand arm_band(const SceneStrap& strap, const SkinMap& skin) {
  return band_over(resampled(strap.arm), {arm_width_mm, 0.5 * arm_width_mm}, skin);
}

RasterLayer band_layer(const std::vector<StrapBand>& bands, const BandInk& ink,
                       const Camera& camera) {
  RasterLayer layer;
  layer.faces = Faces::front;
  layer.hides = false;
  for (const StrapBand& band : bands) {
    const auto first = static_cast<int>(layer.vertices.size());
    for (const auto& row : band) {
      for (const Vec3& point : row) {
        const Vec3 p = camera.project(point);
        layer.vertices.push_back({static_cast<float>(p.x()), static_cast<float>(p.y()),
                                  static_cast<float>(p.z()), shaded(ink, point, camera), 0, 0});
      }
    }
    for (int k = 0; k + 1 < static_cast<int>(band.size()); ++k) {
      for (int i = 0; i + 1 < n_across; ++i) {
        const int a = first + k * n_across + i;
        layer.triangles.push_back({a, a + 1, a + n_across});
        layer.triangles.push_back({a + 1, a + n_across + 1, a + n_across});
      }
    }
  }
  return layer;
}

std::vector<StrokePath> band_edges(const std::vector<StrapBand>& bands, const Camera& camera) {
  std::vector<StrokePath> out;
  for (const StrapBand& band : bands) {
    // Along one edge to the start, across it, and along the other; cut where the band turns away.
    StrokePath path;
    const auto add = [&](std::size_t row, std::size_t i) {
      const Vec3& p = band[row][i];
      if (share_at(p) > 0.5 && faces_viewer(band, row, camera)) {
        path.push_back(camera.project(p));
      } else if (!path.empty()) {
        out.push_back(std::exchange(path, {}));
      }
    };
    for (std::size_t row = band.size(); row-- > 0;) add(row, 0);
    for (std::size_t i = 0; !band.empty() && i < n_across; ++i) add(0, i);
    for (std::size_t row = 0; row < band.size(); ++row) add(row, n_across - 1);
    if (path.size() > 1) out.push_back(std::move(path));
  }
  return out;
}

}  // namespace rimload
