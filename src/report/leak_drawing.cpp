#include "report/leak_drawing.hpp"

#include <cmath>

#include "report/palette.hpp"
#include "report/skin_surface.hpp"
#include "report/stroke.hpp"

namespace rimload {

namespace {

constexpr double jet_length_mm = 20;

// A polyline laid on the skin in short pieces.
StrokePath on_skin(const std::vector<Vec3>& line, double lift_mm, const SkinMap& skin,
                   const Camera& camera) {
  constexpr double step_mm = 2;
  StrokePath out;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Vec3 way = line[k] - line[k - 1];
    const int n = std::max(1, static_cast<int>(std::ceil(way.norm() / step_mm)));
    for (int i = k == 1 ? 0 : 1; i <= n; ++i) {
      const Vec3 p = line[k - 1] + way * (static_cast<double>(i) / n);
      const SkinPoint foot = skin.closest(p);
      if (shown_share(foot.uv) < 0.5) return out;
      out.push_back(camera.project(foot.foot + lift_mm * foot.normal));
    }
  }
  return out;
}

}  // namespace

Vec3 jet_tip(const SceneJet& jet) { return jet.from + jet_length_mm * jet.towards; }

void draw_hair_and_tube(Image& image, const Scene& scene, const Camera& camera,
                        const DepthMap& depth) {
  const double mm = camera.px_per_mm;
  std::vector<StrokePath> hairs;
  for (const auto& [root, tip] : scene.hair) {
    if (shown_share(SkinMap::chart(root)) < 0.9) continue;
    hairs.push_back({camera.project(root), camera.project(tip)});
  }
  draw_strokes(image, hairs,
               {.width_px = 0.45 * mm, .colour = palette::hair, .cover = 0.75, .behind = &depth});
  if (!scene.tube || scene.skin == nullptr) return;
  const StrokePath course =
      on_skin(scene.tube->points, 0.5 * scene.tube->width_mm, *scene.skin, camera);
  const double width = scene.tube->width_mm * mm;
  draw_stroke(image, course,
              {.width_px = width, .colour = palette::tube_edge, .behind = &depth, .lift_mm = 8});
  draw_stroke(image, course,
              {.width_px = 0.7 * width, .colour = palette::tube, .behind = &depth, .lift_mm = 8});
}

void draw_jets(Image& image, const Scene& scene, const Camera& camera) {
  const double mm = camera.px_per_mm;
  for (const SceneJet& jet : scene.jets) {
    if (!is_visible(*scene.skin, jet.from, camera.view)) continue;
    const Vec3 from = camera.project(jet.from);
    const Vec3 tip = camera.project(jet_tip(jet));
    const Vec2 way = (tip - from).head<2>();
    if (way.norm() < 3 * mm) continue;  // seen end on
    const Vec2 along = way.normalized();
    const Vec2 across(-along.y(), along.x());
    const double head = 4 * mm;
    std::vector<StrokePath> arrow{{from, tip}};
    for (const double side : {-1.0, 1.0}) {
      const Vec2 back = tip.head<2>() - head * along + side * 0.6 * head * across;
      arrow.push_back({tip, {back.x(), back.y(), tip.z()}});
    }
    for (const auto& [width, colour] :
         {std::pair{2.4, palette::paper}, std::pair{1.2, palette::jet}}) {
      draw_strokes(image, arrow, {.width_px = width * mm, .colour = colour});
    }
  }
}

}  // namespace rimload
