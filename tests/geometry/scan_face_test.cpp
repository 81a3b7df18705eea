#include "geometry/scan_face.hpp"

#include <algorithm>
#include <cstdio>

#include "catch.hpp"
#include "geometry/face_prior.hpp"
#include "geometry/mesh_file.hpp"
#include "scanned_face.hpp"
#include "stored_face.hpp"
#include "units/error.hpp"

using namespace rimload;

namespace {

const std::vector<Landmark>& reference() {
  static const std::vector<Landmark> landmarks = stored_face("reference").landmarks;
  return landmarks;
}

// Points of a face's own skin within 8 mm of the landmarks that rims touch.
std::vector<Vec3> seal_skin(std::span<const Landmark> face) {
  const SkinMap skin(face);
  const std::vector<std::string> names = seal_landmarks(SealRegion::over_nose_and_mouth);
  std::vector<Vec3> out;
  for (const Landmark& landmark : face) {
    if (std::find(names.begin(), names.end(), landmark.name) == names.end()) continue;
    for (int du = -8; du <= 8; du += 2) {
      for (int dv = -8; dv <= 8; dv += 2) {
        if (du * du + dv * dv > 64) continue;
        out.push_back(skin.point(SkinMap::chart(landmark.position_face) + Vec2(du, dv)));
      }
    }
  }
  return out;
}

// How far the true skin lies from a skin found, laid back by the pose and registration. [mm]
double error_rms(std::span<const Vec3> truth, const ScanPose& pose, const ScanRegistration& laid,
                 const SkinMap& found) {
  double sum = 0;
  for (const Vec3& x : truth) sum += std::pow(found.closest(laid.to_face(pose(x))).distance, 2);
  return std::sqrt(sum / static_cast<double>(truth.size()));
}

struct Device {
  double spacing_mm = 1.5;
  double noise_mm = 0.3;
  bool holes = true;
};

TriangleMesh scanned(std::span<const Landmark> face, const Device& device) {
  TriangleMesh mesh = make_mesh(SkinMap(face), face_region(face), device.spacing_mm);
  add_noise(mesh, device.noise_mm, 7);
  if (!device.holes) return mesh;
  // On the nose's side, in a cheek, at an eye and beneath the lip: about where scans have them.
  cut_hole(mesh, find_landmark(face, "sidewall_rhinion", Side::left).position_face, 5);
  cut_hole(mesh, find_landmark(face, "nasolabial_fold", Side::right).position_face, 6);
  cut_hole(mesh, find_landmark(face, "lid_front", Side::right).position_face, 9);
  cut_hole(mesh, find_landmark(face, "supramentale", Side::midline).position_face, 5);
  return mesh;
}

ScanMesh through_file(const TriangleMesh& mesh, MeshFormat format, const std::string& name) {
  return read_scan(write_mesh(mesh, format), name);
}

}  // namespace

TEST_CASE("a scan of our own face refits within 0.5 mm over the seal region, noise and holes") {
  std::printf("face          unit   through landmarks  resampled  reported  holes   [mm, RMS]\n");
  unsigned seed = 0;
  for (const char* name : face_names) {
    const std::vector<Landmark> face = stored_face(name).landmarks;
    const ScanUnit unit = std::array{ScanUnit::mm, ScanUnit::cm, ScanUnit::m}[seed % 3];
    const ScanPose pose = random_pose(++seed, mm_in(unit));
    const ScanMesh scan = through_file(posed(scanned(face, {}), pose), MeshFormat::ply, "scan.ply");
    const ScannedFace found = face_of_scan(scan, marked_on(face, pose), reference(), std::nullopt);
    const std::vector<Vec3> truth = seal_skin(face);
    const double by_landmarks =
        error_rms(truth, pose, found.registration, SkinMap(found.face.landmarks));
    const double by_radius =
        error_rms(truth, pose, found.registration, SkinMap(found.resampled.radius));
    std::printf("%-13s %-6s %.3f              %.3f      %.3f     %.1f %%\n", name,
                std::string(name_of(unit)).c_str(), by_landmarks, by_radius,
                found.seal.landmarks_rms_mm, 100 * found.seal.hole_share);
    INFO(name);
    CHECK(found.registration.unit == unit);
    CHECK(found.settled);
    CHECK(by_landmarks < 0.5);  // the bound of the requirement, holes included
    CHECK(by_radius < 0.5);
    // What is reported is what is measured, but for the scan's own noise of 0.3 mm.
    CHECK(found.seal.landmarks_rms_mm < std::hypot(by_landmarks, 0.3) + 0.1);
    CHECK(found.seal.hole_share > 0.01);
    CHECK(found.seal.rejected_share < 0.01);
  }
}

TEST_CASE("a clean scan of our own face comes back by its resampled radius to a tenth") {
  const ScanPose pose = random_pose(11, 1);
  const TriangleMesh mesh = scanned(reference(), {.spacing_mm = 1, .noise_mm = 0, .holes = false});
  const ScannedFace found =
      face_of_scan(through_file(posed(mesh, pose), MeshFormat::obj, "scan.obj"),
                   marked_on(reference(), pose), reference(), ScanUnit::mm);
  // Facets of 1 mm over radii of 3 mm leave 0.04 mm, smoothing about as much.
  CHECK(error_rms(seal_skin(reference()), pose, found.registration,
                  SkinMap(found.resampled.radius)) < 0.1);
  CHECK(found.seal.hole_share == 0);
  // The mesh ends at the height of trichion.
  CHECK(found.carried == std::vector<std::string>{"trichion (midline)"});
  for (std::size_t k = 0; k < reference().size(); ++k) {
    CHECK(found.face.landmarks[k].tissue_depth_mm == reference()[k].tissue_depth_mm);
  }
}

TEST_CASE("a scan keeps a face's asymmetry") {
  std::vector<Landmark> face = reference();
  for (Landmark& landmark : face) {
    // A swollen left cheek.
    const double away =
        (landmark.position_face - find_landmark(reference(), "cheek_mid", Side::left).position_face)
            .norm();
    landmark.position_face.x() += 5 * std::exp(-away * away / (2 * 20 * 20));
  }
  const ScanPose pose = random_pose(4, 1);
  const ScannedFace found =
      face_of_scan(through_file(posed(scanned(face, {}), pose), MeshFormat::stl, "scan.stl"),
                   marked_on(face, pose), reference(), ScanUnit::mm);
  CHECK_FALSE(found.face.symmetric);
  const double left =
      find_landmark(found.face.landmarks, "cheek_mid", Side::left).position_face.x();
  const double right =
      find_landmark(found.face.landmarks, "cheek_mid", Side::right).position_face.x();
  // 5 mm more on the left; the frame turns with the face by part of it.
  CHECK(left + right > 2.5);
  CHECK(error_rms(seal_skin(face), pose, found.registration, SkinMap(found.face.landmarks)) < 0.5);
}

TEST_CASE("an inside-out scan and loose pieces are seen and said") {
  TriangleMesh mesh = scanned(reference(), {});
  for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (const Vec3& v : {Vec3(200, 0, 0), Vec3(230, 0, 0), Vec3(200, 30, 0)}) {
    mesh.vertices.push_back(v);
  }
  mesh.triangles.push_back({first, first + 1, first + 2});
  const ScanPose pose = random_pose(5, 1);
  const ScannedFace found =
      face_of_scan(through_file(posed(mesh, pose), MeshFormat::ply, "scan.ply"),
                   marked_on(reference(), pose), reference(), std::nullopt);
  CHECK(found.inside_out);
  CHECK(error_rms(seal_skin(reference()), pose, found.registration, SkinMap(found.face.landmarks)) <
        0.5);
  std::string all;
  for (const std::string& remark : found.remarks) all += remark + "\n";
  CHECK_THAT(all, Catch::Contains("Of 2 pieces") && Catch::Contains("faced inwards") &&
                      Catch::Contains("taken to be mm") && Catch::Contains("not bone"));
}

TEST_CASE("a lock of hair before the brow is left out, and the brow stays where it was") {
  TriangleMesh mesh = scanned(reference(), {.holes = false});
  for (Vec3& v : mesh.vertices) {
    if (v.y() > 8 && v.y() < 30 && v.x() > 24 && v.x() < 40) v.z() += 12;
  }
  const ScanPose pose = random_pose(6, 1);
  const ScannedFace found =
      face_of_scan(through_file(posed(mesh, pose), MeshFormat::ply, "scan.ply"),
                   marked_on(reference(), pose), reference(), ScanUnit::mm);
  // The lock and its edges, 22 mm by 28 mm, of a face of about 200 mm by 180 mm: 0.017.
  CHECK(found.whole.rejected_share > 0.01);
  CHECK(found.whole.rejected_share < 0.03);
  const SkinMap skin(found.face.landmarks);
  const Vec3 brow = find_landmark(reference(), "brow_mid", Side::left).position_face;
  // Of 12 mm; filled over a gap of 20 mm.
  CHECK(std::abs(skin.closest(found.registration.to_face(pose(brow))).distance) < 1);
}

TEST_CASE("points marked a few millimetres off make no other skin") {
  const ScanPose pose = random_pose(8, 1);
  auto marked = marked_on(reference(), pose);
  const std::array off{Vec3(0, 2, 0),  Vec3(2, 0, 0), Vec3(0, -2, 1), Vec3(1, 0, 2),
                       Vec3(-2, 1, 0), Vec3(0, 2, 1), Vec3(2, -1, 0), Vec3(0, 0, 2)};
  for (std::size_t k = 0; k < marked.size(); ++k) {
    marked[k].position_scan += pose.rotation * off[k];
  }
  const ScannedFace found =
      face_of_scan(through_file(posed(scanned(reference(), {}), pose), MeshFormat::ply, "scan.ply"),
                   marked, reference(), ScanUnit::mm);
  CHECK(error_rms(seal_skin(reference()), pose, found.registration, SkinMap(found.face.landmarks)) <
        0.5);
  // Nor does the frame turn by much: the ears, 80 mm from the sellion, stay within the marks'
  // error.
  const Vec3 ear = find_landmark(reference(), "tragion", Side::left).position_face;
  CHECK((found.registration.to_face(pose(ear)) - ear).norm() < 3);
}

TEST_CASE("points marked away from the scan's skin are refused") {
  TriangleMesh mesh = scanned(reference(), {.holes = false});
  for (Vec3& v : mesh.vertices) v.z() -= 60;
  try {
    static_cast<void>(face_of_scan(through_file(mesh, MeshFormat::ply, "scan.ply"),
                                   marked_on(reference(), {}), reference(), ScanUnit::mm));
    FAIL("not refused");
  } catch (const InputError& error) {
    CHECK_THAT(error.what(), Catch::Contains("lie on the scan"));
  }
}
