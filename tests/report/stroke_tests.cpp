#include "catch.hpp"
#include "report/palette.hpp"
#include "report/stroke.hpp"

namespace rimload {
namespace {

double inked(const Image& image) {
  double sum = 0;
  for (std::size_t k = 0; k < image.rgb.size(); k += 3) sum += 1 - image.rgb[k] / 255.0;
  return sum;
}

const Stroke black{.width_px = 4, .colour = {0, 0, 0}};

TEST_CASE("A line inks its length times its width, and its round ends") {
  for (const Vec3& to : {Vec3(90, 20, 0), Vec3(80, 75, 0), Vec3(20, 95, 0)}) {
    Image image(120, 120, palette::paper);
    const Vec3 from(20.3, 20.4, 0);
    draw_stroke(image, {from, to}, black);
    const double area = (to - from).norm() * 4 + 3.1416 * 2 * 2;
    CHECK(inked(image) == Approx(area).epsilon(0.01));  // cover by distance, not by exact area
  }
}

TEST_CASE("A translucent line is not darker where it crosses itself") {
  Image image(60, 60, palette::paper);
  Stroke half = black;
  half.cover = 0.5;
  draw_stroke(image, {{10, 10, 0}, {50, 50, 0}, {50, 10, 0}, {10, 50, 0}}, half);
  CHECK(image.at(30, 30).r == 128);
}

TEST_CASE("A line behind the surface is hidden and one before it is seen") {
  DepthMap surface(PixelRect{0, 0, 60, 60});
  for (int y = 0; y < 60; ++y) {
    for (int x = 0; x < 60; ++x) surface.set(x, y, 10);
  }
  Stroke on_face = black;
  on_face.behind = &surface;
  on_face.lift_mm = 0;
  Image image(60, 60, palette::paper);
  draw_stroke(image, {{5, 30, 5}, {55, 30, 5}}, on_face);
  CHECK(inked(image) == 0);
  draw_stroke(image, {{5, 30, 12}, {55, 30, 12}}, on_face);
  CHECK(inked(image) > 190);
}

TEST_CASE("Dashes cover their share of the path, a whole number of them") {
  const StrokePath ring = closed({{0, 0, 0}, {100, 0, 0}, {100, 50, 0}, {0, 50, 0}});
  const auto pieces = dashes(ring, 14, 6);
  CHECK(pieces.size() == 15);  // 300 px round, 20 px a dash and gap
  double on = 0;
  for (const StrokePath& piece : pieces) {
    for (std::size_t k = 1; k < piece.size(); ++k) on += (piece[k] - piece[k - 1]).norm();
  }
  CHECK(on == Approx(300 * 0.7));
}

}  // namespace
}  // namespace rimload
