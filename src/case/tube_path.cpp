#include "case/tube_path.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/skin_map.hpp"

namespace rimload {

std::vector<Fault> tube_path_faults(const FeedingTube& tube, const JsonPlace& path,
                                    std::span<const Landmark> landmarks) {
  std::vector<Fault> out;
  const std::vector<Vec3>& points = tube.path_face;
  const std::vector<JsonPlace> places = path.entries();
  if (points.empty() || points.size() != places.size()) return out;
  constexpr double shortest_mm = 1;
  for (std::size_t k = 1; k < points.size(); ++k) {
    if ((points[k] - points[k - 1]).norm() >= shortest_mm) continue;
    out.push_back(
        {"", path.pointer(),
         fmt::format("points {} and {} lie less than {:g} mm apart", k - 1, k, shortest_mm)});
  }
  const double across = points.back().x() * (tube.side == Side::left ? 1 : -1);
  if (across < 0) {
    out.push_back({"", places.back().pointer(),
                   fmt::format("x = {:g} mm, where the tube ends, is on the wearer's {}, yet its "
                               "side is {}; left is above 0",
                               points.back().x(), tube.side == Side::left ? "right" : "left",
                               name_of(tube.side))});
  }
  if (landmarks.empty()) return out;
  // Landmarks lie on the skin: near one it takes no map of it.
  const auto near_landmark = [&](const Vec3& point) {
    return std::any_of(landmarks.begin(), landmarks.end(), [&](const Landmark& each) {
      return (each.position_face - point).norm() < tube_off_skin_mm;
    });
  };
  std::optional<SkinMap> skin;
  for (std::size_t k = 0; k < points.size(); ++k) {
    if (near_landmark(points[k])) continue;
    if (!skin) skin.emplace(landmarks);
    const double off = std::abs(skin->closest(points[k]).distance);
    if (off <= tube_off_skin_mm) continue;
    out.push_back({"", places[k].pointer(),
                   fmt::format("the point lies {:.0f} mm from the face's skin; allowed: 0 to {:g} "
                               "mm",
                               off, tube_off_skin_mm)});
  }
  return out;
}

}  // namespace rimload
