#include "geometry/before_axis.hpp"

#include <algorithm>

#include "geometry/skin_map.hpp"

namespace rimload {

std::vector<Landmark> before_the_axis(std::vector<Landmark> landmarks) {
  constexpr double least_mm = 0.5;
  for (Landmark& each : landmarks) {
    double& z = each.position_face.z();
    z = std::max(z, SkinMap::axis_z_mm + least_mm);
  }
  return landmarks;
}

}  // namespace rimload
