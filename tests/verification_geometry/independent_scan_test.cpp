// A face mesh that others made, fetched when the test runs: npm package mind-ar 1.2.5 (MIT
// licence), file src/face-target/face-geometry/canonical-face-model.obj, 468 vertices, in cm. None
// of it is kept in the project.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "catch.hpp"
#include "geometry/closest_point.hpp"
#include "geometry/face_prior.hpp"
#include "geometry/scan_face.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

// The file's bytes; empty when it can't be fetched.
std::string fetched_face() {
  namespace fs = std::filesystem;
  const fs::path folder = fs::temp_directory_path() / "rimload-independent-scan";
  std::error_code error;
  fs::create_directories(folder, error);
  const fs::path file = folder / "package/src/face-target/face-geometry/canonical-face-model.obj";
  if (!fs::exists(file)) {
    const std::string command = "cd '" + folder.string() +
                                "' && timeout 120 npm pack --silent mind-ar@1.2.5 > /dev/null 2>&1"
                                " && tar -xzf mind-ar-1.2.5.tgz";
    if (std::system(command.c_str()) != 0) return "";
  }
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return std::move(text).str();
}

// Vertices of that mesh at our landmarks, as read off its profile and its corners of eyes and
// mouth.
std::vector<ScanLandmark> marks() {
  return {{"sellion", Side::midline, {0, 3.271, 5.236}},
          {"pronasale", Side::midline, {0, -0.463, 7.587}},
          {"subnasale", Side::midline, {0, -2.089, 6.058}},
          {"menton", Side::midline, {0, -9.403, 4.264}},
          {"exocanthion", Side::left, {4.446, 2.664, 3.173}},
          {"exocanthion", Side::right, {-4.446, 2.664, 3.173}},
          {"cheilion", Side::left, {2.456, -4.343, 4.284}},
          {"cheilion", Side::right, {-2.456, -4.343, 4.284}}};
}

// From points of a skin, within 8 mm of the landmarks that rims touch, to the mesh. [mm, RMS]
double to_mesh_rms(std::span<const Landmark> face, const SkinMap& skin, const ClosestPoint& mesh) {
  const std::vector<std::string> names = seal_landmarks(SealRegion::over_nose_and_mouth);
  double sum = 0;
  int n = 0;
  for (const Landmark& landmark : face) {
    if (std::find(names.begin(), names.end(), landmark.name) == names.end()) continue;
    for (int du = -8; du <= 8; du += 2) {
      for (int dv = -8; dv <= 8; dv += 2) {
        if (du * du + dv * dv > 64) continue;
        const Vec3 x = skin.point(SkinMap::chart(landmark.position_face) + Vec2(du, dv));
        sum += std::pow(mesh(x).distance, 2);
        ++n;
      }
    }
  }
  return std::sqrt(sum / n);
}

}  // namespace

TEST_CASE("a face mesh that others made is met within 1.5 mm over the seal region") {
  const std::string bytes = fetched_face();
  if (bytes.empty()) {
    std::printf(
        "SKIPPED: npm pack mind-ar@1.2.5 failed (no network, or no npm); the scan's fit to "
        "an independent face is NOT checked\n");
    SUCCEED("skipped without the network");
    return;
  }
  const std::vector<Landmark> reference = stored_face("reference").landmarks;
  const ScanMesh scan = read_scan(bytes, "canonical-face-model.obj");
  CHECK(scan.mesh.vertices.size() == 468);
  const ScannedFace found = face_of_scan(scan, marks(), reference, std::nullopt);
  CHECK(found.registration.unit == ScanUnit::cm);
  CHECK(found.settled);
  TriangleMesh mesh = scan.mesh;
  for (Vec3& v : mesh.vertices) v = found.registration.to_face(v);
  const ClosestPoint exact(mesh);
  const std::vector<Landmark>& face = found.face.landmarks;
  const double by_landmarks = to_mesh_rms(face, SkinMap(face), exact);
  const double by_radius = to_mesh_rms(face, SkinMap(found.resampled.radius), exact);
  std::printf(
      "independent face: through landmarks %.2f mm, resampled %.2f mm, reported %.2f mm; "
      "%.0f %% of the face filled\n",
      by_landmarks, by_radius, found.seal.landmarks_rms_mm, 100 * found.whole.hole_share);
  // Its edges are about 8 mm long: over the nose's 8 mm radius a facet alone is 1 mm off.
  CHECK(by_landmarks < 1.5);
  CHECK(by_radius < 1.5);
  CHECK(found.seal.hole_share < 0.02);
  // The mesh is its own mirror image, and so is what is found, though nothing makes it so. Across
  // the normal a landmark is where the others have it, to the millimetre.
  for (const Landmark& landmark : face) {
    if (landmark.side != Side::left) continue;
    const Vec3 twin = find_landmark(face, landmark.name, Side::right).position_face;
    INFO(landmark.name);
    CHECK((twin.cwiseProduct(Vec3(-1, 1, 1)) - landmark.position_face).norm() < 0.5);
  }
}
