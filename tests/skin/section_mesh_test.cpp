#include "skin/section_mesh.hpp"

#include <cmath>
#include <numbers>

#include "catch.hpp"

using namespace rimload;

namespace {

double area_of(const SectionMesh& mesh, int layer) {
  double area = 0;
  for (std::size_t e = 0; e < mesh.elements.size(); ++e) {
    if (mesh.layer_of_element[e] != layer) continue;
    for (const QuadPoint& point : quad_points(mesh.nodes_of(static_cast<int>(e)))) {
      CHECK(point.area_mm2 > 0);
      area += point.area_mm2;
    }
  }
  return area;
}

const std::vector<SectionLayer> fat_and_skin{{6, 0.01, 0.45, 4, 3}, {1.5, 0.05, 0.45, 2}};

}  // namespace

TEST_CASE("The layers of a flat slice have their thickness times its length") {
  const SectionMesh mesh =
      make_section_mesh({.layers = fat_and_skin, .columns_mm = spread_columns({5, 10, 20, 1.5})});
  CHECK(area_of(mesh, 0) == Approx(50 * 6).epsilon(1e-12));
  CHECK(area_of(mesh, 1) == Approx(50 * 1.5).epsilon(1e-12));
}

TEST_CASE("Over a ridge the layers are a sector of rings between straight flanks") {
  const double radius = 4.3;
  const double turn = 55 * std::numbers::pi / 180;
  const double outer = (radius + 7.5) * turn;  // along the outer face, where the flank begins
  const SectionMesh mesh = make_section_mesh({.layers = fat_and_skin,
                                              .bone = {radius, turn},
                                              .columns_mm = spread_columns({outer, 24, 20, 1.5})});
  // Curved sides are parabolas: off an arc of 4.6 degrees by 1e-7 of the radius.
  const double fat = turn * ((radius + 6) * (radius + 6) - radius * radius) + 2 * 20 * 6;
  const double skin = turn * (std::pow(radius + 7.5, 2) - std::pow(radius + 6, 2)) + 2 * 20 * 1.5;
  CHECK(area_of(mesh, 0) == Approx(fat).epsilon(1e-6));
  CHECK(area_of(mesh, 1) == Approx(skin).epsilon(1e-6));
  const auto crown = mesh.outer_side(mesh.n_columns() / 2);
  CHECK(mesh.nodes(1, crown[0]) == Approx(7.5));
}

TEST_CASE("A border of columns lies where the ridge turns straight") {
  const double turn = 0.9;
  const double place = turn * (3 + 7.5);
  for (const double half : {3.0, 9.4, 9.5, 12.0}) {
    const SectionMesh mesh = make_section_mesh({.layers = fat_and_skin,
                                                .bone = {3, turn},
                                                .columns_mm = spread_columns({half, 16, 30, 1.5})});
    CAPTURE(half);
    double nearest = 1e9;
    for (std::size_t k = 1; k < mesh.columns_mm.size(); ++k) {
      CHECK(mesh.columns_mm[k] > mesh.columns_mm[k - 1]);
      nearest = std::min(nearest, std::abs(mesh.columns_mm[k] - place));
    }
    CHECK(nearest < 1e-12);
    CHECK(area_of(mesh, 0) > 0);
  }
}

TEST_CASE("Neighbours share the nodes between them, and bone and far sides are held") {
  const SectionMesh mesh =
      make_section_mesh({.layers = fat_and_skin, .columns_mm = spread_columns({5, 10, 20, 1.5})});
  const int n = mesh.n_columns();
  CHECK(mesh.elements.size() == static_cast<std::size_t>(n * mesh.n_rows));
  CHECK(mesh.outer_side(3)[2] == mesh.outer_side(4)[0]);
  CHECK(mesh.bone_side(3)[2] == mesh.bone_side(4)[0]);
  for (Eigen::Index k = 0; k < mesh.nodes.cols(); ++k) {
    const bool at_border = mesh.nodes(1, k) == 0 || std::abs(mesh.nodes(0, k)) > 25 - 1e-9;
    CHECK(mesh.fixed[static_cast<std::size_t>(k)] == at_border);
  }
}

TEST_CASE("Rows of a layer grow towards the bone by the ratio asked for") {
  const SectionMesh mesh =
      make_section_mesh({.layers = {{6, 1, 0.3, 4, 3}}, .columns_mm = {-1, 0, 1}});
  const auto height = [&](int row) {
    const QuadNodes nodes = mesh.nodes_of(mesh.element_at(0, row));
    return nodes(1, 3) - nodes(1, 0);
  };
  CHECK(height(0) / height(3) == Approx(3));
  CHECK(height(0) + height(1) + height(2) + height(3) == Approx(6));
}

TEST_CASE("Columns are even under the load and ever wider beyond it") {
  const std::vector<double> columns = spread_columns({4, 8, 30, 1.5});
  CHECK(columns.front() == Approx(-34));
  CHECK(columns.back() == Approx(34));
  for (std::size_t k = 1; k + 1 < columns.size(); ++k) {
    const double left = columns[k] - columns[k - 1];
    const double right = columns[k + 1] - columns[k];
    if (columns[k] >= 4 - 1e-9) CHECK(right / left < 1.5 + 1e-9);
    if (columns[k] > -4 + 1e-9 && columns[k] < 4 - 1e-9) CHECK(right == Approx(left));
  }
}
