// Where the skin map errs, drawn: the folds of the nose, and how much of each rim lies there.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "catch.hpp"
#include "fit/fit.hpp"
#include "geometry/closest_point.hpp"
#include "report/camera.hpp"
#include "report/face_drawing.hpp"
#include "report/palette.hpp"
#include "report/png.hpp"
#include "report/stroke.hpp"
#include "report/text_item.hpp"
#include "stored_case.hpp"

using namespace rimload;

namespace {

constexpr double err_mm = 0.02;  // what the map is held to elsewhere
constexpr double near_mm = 3;    // from the skin

// Of the map against the exact closest point on its mesh [mm].
double error_at(const SkinMap& skin, const ClosestPoint& exact, const Vec3& query) {
  return std::abs(skin.closest(query).distance - exact(query).distance);
}

// Points of the skin with a query above or below that errs by more than `err_mm`.
std::vector<Vec3> erring_skin(const SkinMap& skin, const ClosestPoint& exact) {
  std::vector<Vec3> out;
  for (double u = -38; u <= 38; u += 0.5) {
    for (double v = -75; v <= 5; v += 0.5) {
      const Vec3 foot = skin.point({u, v});
      const Vec3 normal = skin.normal({u, v});
      for (const double height : {-near_mm, -0.5 * near_mm, 0.5 * near_mm, near_mm}) {
        if (error_at(skin, exact, foot + height * normal) < err_mm) continue;
        out.push_back(foot);
        break;
      }
    }
  }
  return out;
}

struct RimOnFolds {
  std::string cushion;
  std::vector<Vec3> crown;  // of each station, on the skin
  int n_samples = 0;        // within `near_mm` of the skin
  int n_erring = 0;
  double worst_mm = 0;

  [[nodiscard]] double share() const { return static_cast<double>(n_erring) / n_samples; }
};

RimOnFolds rim_on_folds(const std::string& cushion, const ClosestPoint& exact) {
  RimOnFolds out{.cushion = cushion, .crown = {}};
  const Estimate estimate = estimate_fit(case_of({.cushion = cushion}));
  const PhaseState& state = estimate.phases.front().state;
  for (const ContactSample& sample : state.samples) {
    if (sample.part != Part::rim) continue;
    if (sample.across == 3) out.crown.push_back(sample.foot);
    if (std::abs(sample.gap_mm) > near_mm) continue;
    ++out.n_samples;
    const double error = error_at(estimate.face.skin, exact, sample.position);
    out.worst_mm = std::max(out.worst_mm, error);
    if (error > err_mm) ++out.n_erring;
  }
  return out;
}

Image draw_folds(const SkinMap& skin, const std::vector<Vec3>& erring,
                 const std::vector<RimOnFolds>& rims) {
  constexpr int width = 1400;
  constexpr int height = 1200;
  Image image(width, height, palette::paper);
  Scene scene;
  scene.skin = &skin;
  const Camera camera{
      .view = View::front, .px_per_mm = 6.8, .centre_px = {520, 650}, .centre_sight = {0, -37}};
  const DepthMap depth = draw_face(image, {40, 140, 1000, 1170}, scene, camera, ColourScale(100));
  const auto on_page = [&](const Vec3& point) { return camera.project(point); };
  for (const Vec3& point : erring) {
    const Vec3 at = on_page(point);
    draw_dot(image, at.head<2>(), 2, palette::alarm);
  }
  const TextStyle title{40, Weight::semibold, palette::ink};
  const TextStyle words{24, Weight::regular, palette::ink};
  draw_text(image, {"Where the skin map errs", title, {40, 66}});
  draw_text(image, {fmt::format("Red: within {} mm of the skin its distance is off by more than "
                                "{} mm from the closest point on a mesh of 0.5 mm.",
                                near_mm, err_mm),
                    words,
                    {40, 112}});
  double y = 190;
  draw_text(image, {"Rims on the reference", words, {1036, y}});
  draw_text(image, {"face, samples off by more:", words, {1036, y + 34}});
  y += 90;
  for (const RimOnFolds& rim : rims) {
    StrokePath path;
    for (const Vec3& point : rim.crown) path.push_back(on_page(point));
    draw_stroke(image, closed(path),
                {.width_px = 2.5, .colour = palette::ink, .cover = 0.6, .behind = &depth});
    draw_text(image, {rim.cushion, {24, Weight::semibold, palette::ink}, {1036, y}});
    draw_text(image, {fmt::format("{:.2f} % of {}, worst {:.3f} mm", 100 * rim.share(),
                                  rim.n_samples, rim.worst_mm),
                      {22, Weight::regular, palette::ink},
                      {1036, y + 32}});
    y += 88;
  }
  return image;
}

}  // namespace

TEST_CASE("only at the folds of the nose does the map err, and few samples of a rim lie there") {
  const FaceModel face = stored_face("reference");
  const SkinMap skin(face.landmarks);
  const ClosestPoint exact(make_mesh(skin, face_region(face.landmarks), 0.5));
  const std::vector<Vec3> erring = erring_skin(skin, exact);
  std::vector<RimOnFolds> rims;
  for (const char* cushion : {"demo-oronasal", "demo-oronasal-gel", "demo-oronasal-pad",
                              "demo-nasal", "demo-below-nose", "demo-total-face"}) {
    rims.push_back(rim_on_folds(cushion, exact));
  }
  const auto path = std::filesystem::temp_directory_path() / "rimload-skin-folds.png";
  std::ofstream(path, std::ios::binary) << png_bytes(draw_folds(skin, erring, rims));
  std::printf("where the skin map errs is drawn in %s\n", path.c_str());
  CHECK(erring.size() < 250);  // of 24,633 looked at
  for (const RimOnFolds& rim : rims) {
    CAPTURE(rim.cushion, rim.n_erring, rim.n_samples, rim.worst_mm);
    CHECK(rim.n_samples > 500);
    CHECK(rim.share() < 0.005);
  }
}
