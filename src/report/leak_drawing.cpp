#include "report/leak_drawing.hpp"

#include <cmath>

#include "report/palette.hpp"
#include "report/skin_surface.hpp"
#include "report/stroke.hpp"

namespace rimload {

namespace {

constexpr double jet_length_mm = 20;
constexpr double end_on_mm = 7;  // an arrow that looks shorter than this is seen end on

// A tube's course on the skin in short pieces, up to shortly before the view ends and labels begin.
StrokePath on_skin(const SceneTube& tube, const SkinMap& skin, const Camera& camera,
                   PixelRect area) {
  constexpr double step_mm = 2;
  constexpr double gap_mm = 2;
  const double reach = (0.5 * tube.width_mm + gap_mm) * camera.px_per_mm;
  StrokePath out;
  const std::vector<Vec3>& line = tube.points;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Vec3 way = line[k] - line[k - 1];
    const int n = std::max(1, static_cast<int>(std::ceil(way.norm() / step_mm)));
    for (int i = k == 1 ? 0 : 1; i <= n; ++i) {
      const Vec3 p = line[k - 1] + way * (static_cast<double>(i) / n);
      const SkinPoint foot = skin.closest(p);
      if (shown_share(foot.uv) < 0.5) return out;
      const Vec3 at = camera.project(foot.foot + 0.5 * tube.width_mm * foot.normal);
      if (at.x() < area.left + reach || at.x() > area.right - reach) return out;
      out.push_back(at);
    }
  }
  return out;
}

Vec3 tip_of(const SceneJet& jet) { return jet.from + jet_length_mm * jet.towards; }

bool is_end_on(const SceneJet& jet, const Camera& camera) {
  const Vec3 way = camera.sight(tip_of(jet)) - camera.sight(jet.from);
  return way.head<2>().norm() < end_on_mm;
}

}  // namespace

Vec2 jet_anchor(const SceneJet& jet, const Camera& camera) {
  return camera.project(is_end_on(jet, camera) ? jet.from : tip_of(jet)).head<2>();
}

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
  const StrokePath course = on_skin(*scene.tube, *scene.skin, camera, depth.area());
  const double width = scene.tube->width_mm * mm;
  draw_stroke(image, course,
              {.width_px = width, .colour = palette::tube_edge, .behind = &depth, .lift_mm = 8});
  draw_stroke(image, course,
              {.width_px = 0.7 * width, .colour = palette::tube, .behind = &depth, .lift_mm = 8});
}

bool shows(View view, const SceneJet& jet, const SkinMap& skin) {
  if (is_visible(skin, jet.from, view)) return true;
  return view == View::front && !is_visible(skin, jet.from, View::left) &&
         !is_visible(skin, jet.from, View::right);
}

void draw_jets(Image& image, const Scene& scene, const Camera& camera) {
  const double mm = camera.px_per_mm;
  for (const SceneJet& jet : scene.jets) {
    if (!shows(camera.view, jet, *scene.skin)) continue;
    const Vec3 from = camera.project(jet.from);
    if (is_end_on(jet, camera)) {
      draw_dot(image, from.head<2>(), 4.2 * mm, palette::paper);
      draw_dot(image, from.head<2>(), 3.6 * mm, palette::jet);
      draw_dot(image, from.head<2>(), 2.5 * mm, palette::paper);
      draw_dot(image, from.head<2>(), 1.2 * mm, palette::jet);
      continue;
    }
    const Vec3 tip = camera.project(tip_of(jet));
    const Vec2 along = (tip - from).head<2>().normalized();
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
