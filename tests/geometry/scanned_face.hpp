// Scans of our own faces: what a device would have made of them.
#pragma once

#include <cmath>
#include <random>
#include <span>
#include <vector>

#include "geometry/mesh.hpp"
#include "geometry/scan_registration.hpp"

namespace rimload {

/// How a scan lies in its own frame: x_scan = (rotation x_face + shift) / mm_per_unit.
struct ScanPose {
  double mm_per_unit = 1;
  Mat3 rotation = Mat3::Identity();
  Vec3 shift_mm = Vec3::Zero();

  [[nodiscard]] Vec3 operator()(const Vec3& x_face) const {
    return (rotation * x_face + shift_mm) / mm_per_unit;
  }
};

/// A turn by any angle about any axis and a shift of up to 500 mm; the same one for the same seed.
inline ScanPose random_pose(unsigned seed, double mm_per_unit) {
  std::mt19937 random(seed);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
  };
  const auto any = [&](double most) {
    const double x = uniform(-most, most);
    const double y = uniform(-most, most);
    return Vec3(x, y, uniform(-most, most));
  };
  ScanPose pose;
  pose.mm_per_unit = mm_per_unit;
  const Vec3 axis = any(1).normalized();
  pose.rotation = Eigen::AngleAxisd(uniform(0, 6.28), axis).toRotationMatrix();
  pose.shift_mm = any(500);
  return pose;
}

/// Every vertex moved along its normal by a normal amount of this SD (Box and Muller 1958).
inline void add_noise(TriangleMesh& mesh, double sd_mm, unsigned seed) {
  const std::vector<Vec3> normals = vertex_normals(mesh);
  std::mt19937 random(seed);
  const auto uniform = [&] { return (static_cast<double>(random()) + 0.5) / 4294967296.0; };
  for (std::size_t k = 0; k < mesh.vertices.size(); ++k) {
    const double radius = std::sqrt(-2 * std::log(uniform()));
    mesh.vertices[k] += sd_mm * radius * std::cos(6.283185307179586 * uniform()) * normals[k];
  }
}

/// Leaves out the triangles with a corner this near to a point.
inline void cut_hole(TriangleMesh& mesh, const Vec3& centre, double radius_mm) {
  std::erase_if(mesh.triangles, [&](const auto& t) {
    for (const std::uint32_t k : t) {
      if ((mesh.vertices[k] - centre).norm() < radius_mm) return true;
    }
    return false;
  });
}

inline TriangleMesh posed(TriangleMesh mesh, const ScanPose& pose) {
  for (Vec3& v : mesh.vertices) v = pose(v);
  return mesh;
}

/// The points that somebody marks on a scan of the face, exactly.
inline std::vector<ScanLandmark> marked_on(std::span<const Landmark> face, const ScanPose& pose) {
  std::vector<ScanLandmark> marked;
  for (const auto& [name, side] : {std::pair{"sellion", Side::midline},
                                   {"pronasale", Side::midline},
                                   {"subnasale", Side::midline},
                                   {"menton", Side::midline},
                                   {"exocanthion", Side::left},
                                   {"exocanthion", Side::right},
                                   {"cheilion", Side::left},
                                   {"cheilion", Side::right}}) {
    marked.push_back({name, side, pose(find_landmark(face, name, side).position_face)});
  }
  return marked;
}

}  // namespace rimload
