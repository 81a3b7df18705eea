#include "report/face_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "report/leak_drawing.hpp"
#include "report/palette.hpp"
#include "report/pressure_field.hpp"
#include "report/rim_drawing.hpp"
#include "report/skin_surface.hpp"
#include "report/strap_drawing.hpp"

namespace rimload {

namespace {

constexpr float fade_mmhg = 4;          // pressures below are drawn more and more translucent
constexpr float shade_of_heat = 0.15F;  // share of the skin's shading that pressure colours take

Rgba mix(const Rgba& under, const Rgba& over, float share) {
  const float rest = 1 - share;
  return {rest * under.r + share * over.r, rest * under.g + share * over.g,
          rest * under.b + share * over.b, under.a};
}

float smooth_step(float t) {
  t = std::clamp(t, 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

// Pressure and gaps as a translucent coat of the skin's own triangles.
RasterLayer pressure_layer(const RasterLayer& skin, const PressureField& field,
                           const ColourScale& scale, double stripe_px) {
  RasterLayer layer;
  layer.faces = Faces::front;
  layer.hides = false;
  layer.vertices = skin.vertices;
  for (const auto& triangle : skin.triangles) {
    const bool near = std::any_of(triangle.begin(), triangle.end(), [&](int k) {
      const RasterVertex& vertex = skin.vertices[static_cast<std::size_t>(k)];
      return field.is_near(vertex.u, vertex.v);
    });
    if (near) layer.triangles.push_back(triangle);
  }
  layer.paint = [&field, &scale, stripe_px](const Fragment& f) {
    const PressureField::Value here = field.at(f.u, f.v);
    // The samples' cover falls from 1 to 0 over a cell: the edge is in its middle.
    const float edge = f.colour.a * smooth_step(2 * here.cover - 0.5F);
    if (edge <= 0) return Rgba{0, 0, 0, 0};
    const float shade = 1 + shade_of_heat * (f.colour.g / 0.80F - 1);
    const Rgba pure = with_cover(scale.at(here.mmhg), 1);
    const Rgba heat{std::min(1.0F, pure.r * shade), std::min(1.0F, pure.g * shade),
                    std::min(1.0F, pure.b * shade), edge * smooth_step(here.mmhg / fade_mmhg)};
    const float gap = edge * smooth_step(4 * here.open - 1.5F);
    if (gap <= 0) return heat;
    const Rgba stripe = with_cover(palette::paper, 1);
    const float ink = gap_stripe(f.x + 0.5, f.y + 0.5, stripe_px);
    const Rgba both = mix(stripe, with_cover(palette::ink, 1), ink);
    Rgba out = mix(heat, both, gap / std::max(gap, heat.a));
    out.a = std::max(gap, heat.a);
    return out;
  };
  return layer;
}

}  // namespace

float gap_stripe(double x, double y, double stripe_px) {
  // Distance across the stripes, which rise to the right at 45 degrees.
  const double s = (x + y) * std::sqrt(0.5) / (2 * stripe_px);
  const double from_middle = std::abs(s - std::floor(s) - 0.5) * 2 * stripe_px;  // 0 .. stripe_px
  return static_cast<float>(std::clamp(0.5 * stripe_px - from_middle + 0.5, 0.0, 1.0));
}

DepthMap draw_face(Image& image, PixelRect area, const Scene& scene, const Camera& camera,
                   const ColourScale& scale) {
  if (scene.skin == nullptr) return DepthMap(area);
  const double mm = camera.px_per_mm;
  const PressureField field(scene);
  std::vector<StrapBand> bands;
  std::vector<StrapBand> arms;
  for (const SceneStrap& strap : scene.straps) {
    bands.push_back(strap_band(strap, *scene.skin));
    arms.push_back(arm_band(strap, *scene.skin));
  }

  // Pressure comes after the straps: nothing may veil its colours.
  std::vector<RasterLayer> layers{skin_layer(*scene.skin, camera, scene.chin_end_mm),
                                  band_layer(arms, {palette::strap_edge, 0.55}, camera),
                                  band_layer(bands, {palette::strap, 0.88}, camera)};
  layers.push_back(pressure_layer(layers.front(), field, scale, 0.9 * mm));
  layers.push_back(rim_layer(scene, camera));
  DepthMap depth = draw_layers(image, area, layers);

  draw_strokes(
      image, band_edges(bands, camera),
      {.width_px = 0.3 * mm, .colour = palette::strap_edge, .cover = 0.7, .behind = &depth});
  draw_strokes(image, lip_edges(scene, camera),
               {.width_px = 0.3 * mm, .colour = palette::rim, .cover = 0.75, .behind = &depth});
  draw_stroke(image, rim_line(scene, camera),
              {.width_px = 0.25 * mm, .colour = palette::rim, .cover = 0.6, .behind = &depth});
  const std::vector<StrokePath> gaps = gap_outlines(scene, camera);
  draw_strokes(image, gaps, {.width_px = 0.5 * mm, .colour = palette::ink, .behind = &depth});

  for (const SceneInjury& injury : scene.injuries) {
    std::vector<StrokePath> hatch;
    for (const std::vector<Vec3>& line : injury.hatch) {
      hatch.emplace_back();
      for (const Vec3& p : line) hatch.back().push_back(camera.project(p));
    }
    draw_strokes(image, hatch,
                 {.width_px = 0.7 * mm, .colour = palette::alarm, .cover = 0.9, .behind = &depth});
  }
  draw_hair_and_tube(image, scene, camera, depth);
  for (const ScenePatch& patch : scene.patches) {
    StrokePath outline;
    for (const Vec3& p : patch.outline) outline.push_back(camera.project(p));
    outline = closed(std::move(outline));
    draw_stroke(image, outline,
                {.width_px = 1.1 * mm, .colour = palette::paper, .cover = 0.85, .behind = &depth});
    draw_strokes(image, dashes(outline, 2.6 * mm, 1.7 * mm),
                 {.width_px = 0.6 * mm, .colour = palette::dressing, .behind = &depth});
  }
  draw_jets(image, scene, camera);
  return depth;
}

}  // namespace rimload
