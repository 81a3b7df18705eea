#include "report/strap_drawing.hpp"

#include <algorithm>

#include "catch.hpp"
#include "report/skin_surface.hpp"
#include "sample_scene.hpp"

namespace rimload {

TEST_CASE("a strap lies clear of the skin, bends without kinks and goes on until the face ends") {
  const SkinMap& skin = sample::face();
  // Straight from before the cheek to beside the ear, through the head.
  const SceneStrap strap{{Vec3(40, -45, 10), Vec3(70, -20, -70)}, 18, {}};
  const StrapBand band = strap_band(strap, skin);
  REQUIRE(band.size() > 30);
  double sharpest = 1;
  for (std::size_t i = 0; i < band.front().size(); ++i) {
    for (std::size_t k = 0; k < band.size(); ++k) {
      CHECK(skin.first_order_distance(band[k][i]) > 0.4);
      if (k == 0 || k + 1 == band.size()) continue;
      const Vec3 before = (band[k][i] - band[k - 1][i]).normalized();
      const Vec3 after = (band[k + 1][i] - band[k][i]).normalized();
      sharpest = std::min(sharpest, before.dot(after));
    }
  }
  CHECK(sharpest > 0.9);  // 26 degrees between pieces 3 mm long
  const auto share = [](const Vec3& p) { return shown_share(SkinMap::chart(p)); };
  const std::vector<Vec3>& end = band.back();
  CHECK(share(end[end.size() / 2]) < 0.02);
  CHECK(share(strap.points.back()) > 0.5);  // where it used to end, square
}

}  // namespace rimload
