#include "geometry/scan_face.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "geometry/face_prior.hpp"
#include "geometry/scan_landmarks.hpp"
#include "geometry/scan_limits.hpp"
#include "geometry/similarity.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

TriangleMesh in_face_frame(const TriangleMesh& scan, const ScanRegistration& registration) {
  TriangleMesh out = scan;
  for (Vec3& v : out.vertices) v = registration.to_face(v);
  return out;
}

// Whether most of the front's area, seen from the axis, faces inwards.
bool faces_inwards(const TriangleMesh& mesh) {
  const Vec3 low(-75, -120, -60);
  const Vec3 high(75, 60, 60);
  double outward = 0;
  for (const auto& t : mesh.triangles) {
    const Vec3& a = mesh.vertices[t[0]];
    if ((a.array() < low.array()).any() || (a.array() > high.array()).any()) continue;
    const Vec3 normal = (mesh.vertices[t[1]] - a).cross(mesh.vertices[t[2]] - a);
    outward += normal.dot(Vec3(a.x(), 0, a.z() - SkinMap::axis_z_mm).normalized());
  }
  return outward < 0;
}

void turn_over(TriangleMesh& mesh) {
  for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
}

std::vector<Landmark> scaled(std::span<const Landmark> reference, double size) {
  std::vector<Landmark> out(reference.begin(), reference.end());
  for (Landmark& landmark : out) landmark.position_face *= size;
  return out;
}

std::vector<Landmark> marked_in_face_frame(std::span<const ScanLandmark> marked,
                                           const ScanRegistration& registration) {
  std::vector<Landmark> out;
  for (const ScanLandmark& mark : marked) {
    out.push_back({mark.name, mark.side, registration.to_face(mark.position_scan), 0});
  }
  return out;
}

// Turns the frame as the reference's is, by the landmarks met, and puts the sellion at its origin.
void settle_frame(LandmarksOnScan& found, ScanRegistration& registration,
                  std::span<const Landmark> reference) {
  const auto n = std::count(found.met.begin(), found.met.end(), true);
  Eigen::Matrix3Xd from(3, n);
  Eigen::Matrix3Xd to(3, n);
  Eigen::Index column = 0;
  for (std::size_t k = 0; k < reference.size(); ++k) {
    if (!found.met[k]) continue;
    from.col(column) = found.landmarks[k].position_face;
    to.col(column++) = reference[k].position_face;
  }
  const Mat3 turn = similarity(from, to).rotation;
  const Vec3 origin = find_landmark(found.landmarks, "sellion", Side::midline).position_face;
  for (Landmark& landmark : found.landmarks) {
    landmark.position_face = turn * (landmark.position_face - origin);
  }
  registration.rotation = turn * registration.rotation;
  registration.shift_mm = turn * (registration.shift_mm - origin);
}

// For each node of the grid whether it is near a landmark that rims touch.
std::vector<bool> seal_region(const GridFrame& frame, std::span<const Landmark> landmarks) {
  std::vector<Vec2> centres;
  for (const SealRegion region : {SealRegion::over_nose, SealRegion::over_nose_and_mouth}) {
    const std::vector<std::string> names = seal_landmarks(region);
    for (const Landmark& landmark : landmarks) {
      if (std::find(names.begin(), names.end(), landmark.name) != names.end()) {
        centres.push_back(SkinMap::chart(landmark.position_face));
      }
    }
  }
  const double reach = scan_limits().seal_reach_mm;
  std::vector<bool> out;
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      const Vec2 uv(frame.u_at(i), frame.v_at(j));
      out.push_back(std::any_of(centres.begin(), centres.end(),
                                [&](const Vec2& c) { return (uv - c).norm() < reach; }));
    }
  }
  return out;
}

/// @param part which nodes count; those outside the resampled region never do
ScanReading read(const ScanRadius& resampled, const SkinMap& by_landmarks,
                 const std::vector<bool>& part) {
  const SkinMap by_radius(resampled.radius);
  double landmarks = 0;
  double radius = 0;
  double met = 0;
  double holes = 0;
  double rejected = 0;
  for (std::size_t k = 0; k < part.size(); ++k) {
    if (!part[k]) continue;
    switch (resampled.nodes[k]) {
      case ScanNode::outside: break;
      case ScanNode::hole: ++holes; break;
      case ScanNode::rejected: ++rejected; break;
      case ScanNode::met:
        ++met;
        landmarks += std::pow(by_landmarks.first_order_distance(resampled.skin[k]), 2);
        radius += std::pow(by_radius.first_order_distance(resampled.skin[k]), 2);
    }
  }
  const double all = std::max(1.0, met + holes + rejected);
  const double some = std::max(1.0, met);
  return {std::sqrt(landmarks / some), std::sqrt(radius / some), holes / all, rejected / all};
}

std::string listed(const std::vector<std::string>& names) {
  return fmt::format("{}", fmt::join(names, ", "));
}

std::vector<std::string> remarks_on(const ScannedFace& out, const ScanMesh& scan) {
  std::vector<std::string> remarks;
  const ScanRegistration& laid = out.registration;
  remarks.push_back(fmt::format(
      "The scan's unit {} {}; the face is {:.2f} times as large as the "
      "reference.",
      laid.unit_inferred ? "is taken to be" : "was given as", name_of(laid.unit), laid.size));
  for (const LandmarkResidual& each : laid.residuals) {
    if (each.distance_mm > scan_limits().marked_point_doubted_mm) {
      remarks.push_back(
          fmt::format("{} ({}) is marked {:.0f} mm from where the other points have "
                      "it: look whether it is the right point.",
                      each.name, name_of(each.side), each.distance_mm));
    }
  }
  if (scan.n_pieces > 1) {
    remarks.push_back(
        fmt::format("Of {} pieces the largest was kept; {:.1f} % of the area was "
                    "dropped.",
                    scan.n_pieces, 100 * scan.dropped_share));
  }
  if (out.inside_out) remarks.push_back("The scan's triangles faced inwards and were turned over.");
  remarks.push_back(fmt::format(
      "Where rims go the scan lies {:.2f} mm (RMS) from the skin through the landmarks; {:.1f} % "
      "of "
      "it is missing there and was filled from the face's own shape, {:.1f} % was left out as hair "
      "or a fault.",
      out.seal.landmarks_rms_mm, 100 * out.seal.hole_share, 100 * out.seal.rejected_share));
  remarks.push_back(fmt::format("Over the whole face: {:.2f} mm, {:.1f} % and {:.1f} %.",
                                out.whole.landmarks_rms_mm, 100 * out.whole.hole_share,
                                100 * out.whole.rejected_share));
  if (!out.carried.empty()) {
    remarks.push_back("The scan has no skin at these landmarks, which follow the others: " +
                      listed(out.carried) + ".");
  }
  if (!out.settled) remarks.push_back("The landmarks did not come to rest on the scan.");
  remarks.push_back(
      "A scan shows skin and not bone: the tissue's depth is the reference face's everywhere.");
  return remarks;
}

}  // namespace

ScannedFace face_of_scan(const ScanMesh& scan, std::span<const ScanLandmark> marked,
                         std::span<const Landmark> reference, std::optional<ScanUnit> unit) {
  ScannedFace out;
  out.registration = register_scan(marked, reference, unit);
  TriangleMesh skin = in_face_frame(scan.mesh, out.registration);
  out.inside_out = faces_inwards(skin);
  if (out.inside_out) turn_over(skin);
  const std::vector<Landmark> start = scaled(reference, out.registration.size);
  LandmarksOnScan found =
      landmarks_on_scan(ScanTree(skin), start, marked_in_face_frame(marked, out.registration));
  constexpr double fewest = 0.5;  // of the landmarks: a convention
  const auto n_met = std::count(found.met.begin(), found.met.end(), true);
  if (static_cast<double>(n_met) < fewest * static_cast<double>(found.met.size())) {
    throw InputError(
        "", "/landmarks",
        fmt::format("only {} of {} landmarks of a face lie on the scan; are the points "
                    "marked on it, and does it show most of the face?",
                    n_met, found.met.size()));
  }
  settle_frame(found, out.registration, reference);
  out.settled = found.settled;

  skin = in_face_frame(scan.mesh, out.registration);
  if (out.inside_out) turn_over(skin);
  const MeshRegion region = face_region(found.landmarks);
  out.resampled = resample(ScanTree(skin), SkinMap(found.landmarks), region);
  const SkinMap resampled(out.resampled.radius);
  for (std::size_t k = 0; k < found.landmarks.size(); ++k) {
    Landmark& landmark = found.landmarks[k];
    const SkinPoint foot = resampled.closest(landmark.position_face);
    if (std::abs(foot.distance) < scan_limits().outlier_mm) landmark.position_face = foot.foot;
    if (!found.met[k]) {
      out.carried.push_back(landmark.name + " (" + std::string(name_of(landmark.side)) + ")");
    }
  }
  const SkinMap by_landmarks(found.landmarks);
  out.seal = read(out.resampled, by_landmarks, seal_region(by_landmarks.frame(), found.landmarks));
  out.whole =
      read(out.resampled, by_landmarks, std::vector<bool>(out.resampled.nodes.size(), true));
  out.face.name = "scan";
  out.face.title = "Scanned face";
  out.face.symmetric = false;
  out.face.landmarks = std::move(found.landmarks);
  out.remarks = remarks_on(out, scan);
  out.face.provenance = fmt::format("Drawn from a scan. {}", fmt::join(out.remarks, " "));
  return out;
}

}  // namespace rimload
