#include <cmath>

#include "catch.hpp"
#include "report/raster.hpp"

namespace rimload {
namespace {

constexpr Rgb white{255, 255, 255};
constexpr Rgba black{0, 0, 0, 1};
constexpr PixelRect page{0, 0, 64, 64};

RasterLayer triangle(std::array<Vec2, 3> corners, float z, Rgba colour) {
  RasterLayer layer;
  for (const Vec2& c : corners) {
    layer.vertices.push_back(
        {static_cast<float>(c.x()), static_cast<float>(c.y()), z, colour, 0, 0});
  }
  layer.triangles = {{0, 1, 2}};
  return layer;
}

// How much of the page is ink, in pixels.
double inked(const Image& image) {
  double sum = 0;
  for (std::size_t k = 0; k < image.rgb.size(); k += 3) sum += 1 - image.rgb[k] / 255.0;
  return sum;
}

double inked(const std::vector<RasterLayer>& layers) {
  Image image(64, 64, white);
  (void)draw_layers(image, page, layers);
  return inked(image);
}

TEST_CASE("A triangle inks as many pixels as its area") {
  for (const double turn : {0.0, 0.3, 0.7, 1.1, 2.0}) {
    std::array<Vec2, 3> corners;
    for (std::size_t k = 0; k < 3; ++k) {
      const double a = turn + 2.0944 * static_cast<double>(k);
      corners[k] = Vec2(32.3 + 25 * std::cos(a), 31.6 + 25 * std::sin(a));
    }
    const double area = 0.25 * 3 * std::sqrt(3.0) * 25 * 25;
    // Corners are rounded by up to 1/32 px: 130 px of edge can move by 4 px of area. What the 8
    // samples of a pixel miss nearly cancels along an edge.
    CHECK(inked({triangle(corners, 0, black)}) == Approx(area).margin(5));
  }
}

TEST_CASE("A pixel cut in halves is half covered") {
  Image image(64, 64, white);
  const std::vector<RasterLayer> layers{
      triangle({Vec2(10.5, -100), Vec2(10.5, 200), Vec2(300, 50)}, 0, black)};
  (void)draw_layers(image, page, layers);
  CHECK(image.at(10, 30).r == 128);
  CHECK(image.at(9, 30).r == 255);
  CHECK(image.at(11, 30).r == 0);
}

TEST_CASE("Two triangles that share an edge neither gap nor overlap") {
  const Vec2 a(5.2, 7.9);
  const Vec2 b(58.7, 11.3);
  const Vec2 c(51.1, 60.4);
  const Vec2 d(8.8, 49.6);
  const Rgba half{0, 0, 0, 0.5F};
  // Both are laid over the page: a sample drawn twice would be darker, one left out lighter.
  RasterLayer quad = triangle({a, b, c}, 0, half);
  quad.vertices.push_back({static_cast<float>(d.x()), static_cast<float>(d.y()), 0, half, 0, 0});
  quad.triangles.push_back({0, 2, 3});
  RasterLayer first = triangle({a, b, c}, 0, half);
  RasterLayer second = triangle({a, c, d}, 0, half);
  Image image(64, 64, white);
  (void)draw_layers(image, page, std::vector<RasterLayer>{first, second});
  for (int k = 20; k < 44; ++k) CHECK(image.at(k, k).r == 128);
  CHECK(inked(image) == inked({quad}));
}

TEST_CASE("What is nearer hides what is farther, whatever the order") {
  const std::array<Vec2, 3> big{Vec2(-50, -50), Vec2(200, -50), Vec2(-50, 200)};
  const RasterLayer near = triangle(big, 5, {1, 0, 0, 1});
  const RasterLayer far = triangle(big, 1, {0, 1, 0, 1});
  for (const auto& layers : {std::vector{near, far}, std::vector{far, near}}) {
    Image image(64, 64, white);
    const DepthMap depth = draw_layers(image, page, layers);
    CHECK(image.at(20, 20) == Rgb{255, 0, 0});
    CHECK(depth.at(20, 20) == Approx(5));
  }
}

TEST_CASE("A translucent layer does not darken where it overlaps itself") {
  const std::array<Vec2, 3> big{Vec2(-50, -50), Vec2(200, -50), Vec2(-50, 200)};
  RasterLayer veil = triangle(big, 1, {0, 0, 0, 0.5F});
  veil.triangles.push_back({0, 1, 2});
  veil.hides = false;
  Image image(64, 64, white);
  const DepthMap depth = draw_layers(image, page, std::vector{veil});
  CHECK(image.at(20, 20).r == 128);
  CHECK(depth.at(20, 20) == DepthMap::nothing);
}

TEST_CASE("Backs are left out when only faces are asked for") {
  RasterLayer layer = triangle({Vec2(10, 10), Vec2(50, 10), Vec2(10, 50)}, 0, black);
  layer.faces = Faces::front;
  CHECK(inked({layer}) == 0);
  layer.triangles = {{0, 2, 1}};
  CHECK(inked({layer}) == Approx(800).margin(5));
}

TEST_CASE("Colours between the corners are interpolated linearly") {
  RasterLayer layer = triangle({Vec2(0, 0), Vec2(64, 0), Vec2(0, 64)}, 0, black);
  layer.vertices[1].colour = {1, 1, 1, 1};
  Image image(64, 64, white);
  (void)draw_layers(image, page, std::vector{layer});
  for (const int x : {5, 20, 40}) {
    CHECK(image.at(x, 3).r == Approx(255 * (x + 0.5) / 64).margin(1));
  }
}

}  // namespace
}  // namespace rimload
