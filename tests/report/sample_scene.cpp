#include "sample_scene.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "case/face_file.hpp"
#include "geometry/rim.hpp"

namespace rimload::sample {

namespace {

Vec3 on_skin(double x, double y) { return {x, y, front_z(face(), x, y)}; }

SampledRim rim_on_face() {
  constexpr std::array<std::array<double, 2>, 8> half{
      {{0, -8}, {11, -15}, {20, -28}, {29, -45}, {34, -62}, {31, -79}, {18, -90}, {0, -93}}};
  Rim rim;
  const auto add = [&](double x, double y) {
    const Vec3 p = on_skin(x, y);
    const Vec3 n = face().normal(SkinMap::chart(p));
    rim.controls.push_back({p, (n + Vec3::UnitZ()).normalized(), 1});
  };
  for (const auto& [x, y] : half) add(x, y);
  for (std::size_t k = half.size() - 2; k > 0; --k) add(-half[k][0], half[k][1]);
  return sample_rim(rim, {.n_stations = 240, .n_across = 7});
}

// Smooth bumps round the rim, highest on the nasal bridge; position in turns from the apex.
double crown_pressure(double turn) {
  const auto bump = [&](double at, double width, double height) {
    const double d = std::remainder(turn - at, 1.0);
    return height * std::exp(-d * d / (2 * width * width));
  };
  return 16 + bump(0, 0.035, 72) + bump(0.5, 0.07, 22) + bump(0.30, 0.06, 18) +
         bump(0.70, 0.06, 26) - bump(0.11, 0.022, 19) - bump(0.885, 0.03, 24);
}

std::vector<Vec3> ellipse_on_skin(double x, double y, double half_x, double half_y) {
  std::vector<Vec3> out;
  for (int k = 0; k < 64; ++k) {
    const double a = 2 * std::numbers::pi * k / 64;
    const auto rounded = [](double c) { return std::copysign(std::pow(std::abs(c), 0.6), c); };
    out.push_back(on_skin(x + half_x * rounded(std::cos(a)), y + half_y * rounded(std::sin(a))));
  }
  return out;
}

// Along the skin at a height, from in front of the mask to near the ear.
SceneStrap strap(double side, double y_front, double y_back, double width) {
  SceneStrap out;
  out.width_mm = width;
  for (double angle = 0.42; angle <= 1.46; angle += 0.04) {
    const double t = (angle - 0.42) / (1.46 - 0.42);
    const Vec2 uv(side * angle * SkinMap::chart_radius_mm, y_front + t * (y_back - y_front));
    const double lift = 2 + 22 * std::pow(1 - t, 4);
    out.points.push_back(face().point(uv) + lift * face().normal(uv));
  }
  return out;
}

}  // namespace

const SkinMap& face() {
  static const SkinMap map(face_model_named("reference")->landmarks);
  return map;
}

Scene scene() {
  Scene s;
  s.skin = &face();
  const SampledRim rim = rim_on_face();
  for (std::size_t i = 0; i < rim.n_stations(); ++i) {
    SceneStation station;
    const double turn = static_cast<double>(i) / static_cast<double>(rim.n_stations());
    const double crown = crown_pressure(turn);
    station.open = crown < 4;
    station.gap_mm = station.open ? 0.15 * (4 - crown) : 0;
    station.rim = rim.stations[i].crown + 6 * rim.stations[i].axis;
    for (std::size_t j = 0; j < rim.n_across(); ++j) {
      const double across = rim.offset_mm[j] / 4.5;
      const Vec3 p = rim.sample(i, j);
      const SkinPoint foot = face().closest(p);
      station.points.push_back(foot.foot + station.gap_mm * foot.normal);
      station.pressure_mmhg.push_back(
          station.open ? 0 : std::max(0.0, crown * (1.05 - 1.15 * across * across)));
    }
    s.stations.push_back(std::move(station));
  }
  for (const double side : {1.0, -1.0}) {
    s.straps.push_back(strap(side, -38, 12, 18));
    s.straps.push_back(strap(side, -78, -62, 18));
  }
  s.labels = {{"nasal bridge", "91 mmHg", on_skin(0, -9)},
              {"side of nose, left", "12 mmHg", on_skin(17, -23)},
              {"side of nose, right", "5 mmHg", on_skin(-17, -23)},
              {"cheek, left", "34 mmHg", on_skin(34, -62)},
              {"cheek, right", "41 mmHg", on_skin(-34, -62)},
              {"chin", "37 mmHg", on_skin(0, -93)},
              {"mouth corner, left", "28 mmHg", on_skin(31, -76)},
              {"strap on cheek, left", "9 mmHg", face().point({100, -30})},
              {"strap on cheek, right", "9 mmHg", face().point({-100, -30})}};
  s.patches = {{ellipse_on_skin(0, -10, 12, 13), "dressing 34 x 28 mm"},
               {ellipse_on_skin(-33, -62, 9, 15), "dressing 20 x 30 mm"}};
  s.title = "Invented case for drawing";
  s.subtitle =
      "Reference adult face \u00b7 oronasal cushion, medium \u00b7 expiratory phase at 8 cmH2O "
      "(bilevel 16 over 8) \u00b7 straps 4.0 N each";
  s.caution =
      "Planning and teaching aid, not a medical device. The numbers are estimates of a model and "
      "can be wrong for this wearer: look at the skin, follow local policy and decide at the "
      "bedside.";
  return s;
}

Scene mirrored(Scene s) {
  const auto flip = [](Vec3& p) { p.x() = -p.x(); };
  for (SceneStation& station : s.stations) {
    for (Vec3& p : station.points) flip(p);
    flip(station.rim);
  }
  for (SceneStrap& strap : s.straps) {
    for (Vec3& p : strap.points) flip(p);
  }
  for (SceneLabel& label : s.labels) flip(label.anchor);
  for (ScenePatch& patch : s.patches) {
    for (Vec3& p : patch.outline) flip(p);
  }
  std::reverse(s.stations.begin() + 1, s.stations.end());
  return s;
}

}  // namespace rimload::sample
