// The slice as a whole: layers, dressings, what is reported.
#include "skin/section.hpp"

#include <cmath>

#include "catch.hpp"
#include "material/layer_modulus.hpp"
#include "skin/layered_waves.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

constexpr SectionTissue bridge{.depth_mm = 4, .youngs_n_mm2 = 0.06};
constexpr SectionTissue cheek{.depth_mm = 15, .youngs_n_mm2 = 0.016};

std::vector<StationSample> seven(double pressure, double shear = 0) {
  std::vector<StationSample> out;
  for (int k = -3; k <= 3; ++k) out.push_back({1.2 * k, 1.2, pressure, shear});
  return out;
}

std::vector<SectionLayer> layers_of_tissue(const TissueLayers& layers, double poisson) {
  return {{layers.fat_mm, layers.fat_youngs_n_mm2, poisson},
          {layers.skin_mm, layers.skin_youngs_n_mm2, poisson}};
}

}  // namespace

TEST_CASE("Skin and fat together are as stiff a column as the engine takes the tissue to be") {
  // Mean sinking of the two layers by Fourier's integral, elements aside, against `layer_modulus`.
  for (const SectionTissue& tissue : {bridge, cheek}) {
    for (const double width : {2.0, 8.0, 16.0}) {
      CAPTURE(tissue.depth_mm, width);
      const TissueLayers layers = part_layers(tissue, width);
      CHECK(layers.fat_mm + layers.skin_mm == Approx(tissue.depth_mm));
      CHECK(layers.skin_youngs_n_mm2 / layers.fat_youngs_n_mm2 ==
            Approx(section_defaults().skin_over_fat_modulus));
      const double sinking = strip_sinking(layers_of_tissue(layers, tissue.poisson), width / 2);
      const double modulus =
          tissue.youngs_n_mm2 * layer_modulus(width / tissue.depth_mm, tissue.poisson);
      CHECK(sinking == Approx(tissue.depth_mm / modulus).epsilon(0.005));
    }
  }
}

TEST_CASE("Under even samples the face sinks by the engine's column law") {
  // At small strain p = M delta/h, the shared ground of both models.
  for (const SectionTissue& tissue : {bridge, cheek}) {
    const auto answer = station_section(tissue, seven(1e-4));
    REQUIRE(answer);
    const double modulus =
        tissue.youngs_n_mm2 * layer_modulus(8.4 / tissue.depth_mm, tissue.poisson);
    CHECK(answer->mean_sinking_mm == Approx(1e-4 * tissue.depth_mm / modulus).epsilon(0.01));
    CHECK(answer->column_strain == Approx(1e-4 / modulus).epsilon(0.01));
    CHECK_FALSE(answer->beyond_small_strain);
    CHECK(answer->stiffening_left_out == Approx(answer->column_strain / 2).epsilon(0.01));
  }
}

TEST_CASE("Strain grows with the load, and past its limit the answer says so") {
  const auto one = station_section(bridge, seven(units::from_mmhg(20)));
  const auto twelve = station_section(bridge, seven(units::from_mmhg(240)));
  REQUIRE(one);
  REQUIRE(twelve);
  CHECK(twelve->fat.compression == Approx(12 * one->fat.compression).epsilon(1e-9));
  CHECK(twelve->bone_pressure_peak == Approx(12 * one->bone_pressure_peak).epsilon(1e-9));
  CHECK_FALSE(one->beyond_small_strain);
  CHECK(twelve->beyond_small_strain);
  CHECK(area_above(twelve->points, 0.1) > area_above(one->points, 0.1));
  CHECK(area_above(one->points, one->fat.compression + one->skin.compression) == 0);
}

TEST_CASE("Shear across the skin strains the tissue beyond what pressure does") {
  const double p = units::from_mmhg(40);
  const auto pressed = station_section(bridge, seven(p));
  const auto dragged = station_section(bridge, seven(p, 0.4 * p));
  REQUIRE(pressed);
  REQUIRE(dragged);
  CHECK(dragged->fat.shear > 1.2 * pressed->fat.shear);
  CHECK(dragged->bone_shear_peak > 1.2 * pressed->bone_shear_peak);
  CHECK(dragged->mean_sinking_mm == Approx(pressed->mean_sinking_mm).epsilon(1e-6));
}

TEST_CASE("Without a pressed sample there is nothing to answer") {
  CHECK_FALSE(station_section(bridge, {}));
  CHECK_FALSE(station_section(bridge, seven(0)));
}

TEST_CASE("A dressing that is hardly there changes nothing") {
  // One hundredth of a millimetre as soft as fat: strain in it, not in the skin.
  const auto bare = station_section(bridge, seven(0.005));
  const auto thin = station_section(bridge, seven(0.005), {0.01, 0.05, 0.45});
  REQUIRE(bare);
  REQUIRE(thin);
  CHECK(thin->fat.compression == Approx(bare->fat.compression).epsilon(0.005));
  CHECK(thin->skin.compression == Approx(bare->skin.compression).epsilon(0.02));
  CHECK(thin->bone_pressure_peak == Approx(bare->bone_pressure_peak).epsilon(0.005));
  const auto none = station_section(bridge, seven(0.005), {0, 0.05, 0.45});
  REQUIRE(none);
  CHECK(none->skin.compression == bare->skin.compression);
  CHECK(none->dressing.compression == 0);
}

TEST_CASE("A very stiff thin dressing carries the pressure through to the skin") {
  // A film of 0.02 mm: no bending stiffness to spread the load (EI = 7e-5 N mm against tissue that
  // yields over millimetres), no compression of its own; its stretch holds the skin together.
  const auto film = station_section(bridge, seven(0.005), {0.02, 100, 0.3});
  const auto bare = station_section(bridge, seven(0.005));
  REQUIRE(film);
  REQUIRE(bare);
  for (std::size_t k = 0; k + 1 < film->columns_mm.size(); ++k) {
    const double middle = 0.5 * (film->columns_mm[k] + film->columns_mm[k + 1]);
    if (std::abs(middle) < 2) CHECK(film->skin_pressure[k] == Approx(0.005).epsilon(0.03));
  }
  CHECK(film->mean_sinking_mm < bare->mean_sinking_mm);
}

TEST_CASE("The field to be drawn holds every element, with layers apart") {
  const auto answer = station_section(cheek, seven(0.003), {2, 0.05, 0.3});
  REQUIRE(answer);
  const SectionField& field = answer->field;
  CHECK(field.elements.size() * 4 == answer->points.size());
  CHECK(field.at.size() == static_cast<std::size_t>(field.nodes.cols()));
  CHECK(field.displacement.cols() == field.nodes.cols());
  double peak = 0;
  for (const SectionStrain& at : field.at) peak = std::max(peak, at.compression());
  const double worst =
      std::max({answer->fat.compression, answer->skin.compression, answer->dressing.compression});
  CHECK(peak > 0.8 * worst);
  CHECK(peak < 1.5 * worst);
  for (std::size_t e = 0; e < field.elements.size(); ++e) {
    for (const int node : field.elements[e]) {
      REQUIRE(node >= 0);
      REQUIRE(node < field.nodes.cols());
    }
  }
  // Stress jumps between skin and fat: nodes of the border are there twice, in one place.
  int twice = 0;
  for (Eigen::Index a = 0; a < field.nodes.cols(); ++a) {
    for (Eigen::Index b = a + 1; b < std::min(field.nodes.cols(), a + 60); ++b) {
      if ((field.nodes.col(a) - field.nodes.col(b)).norm() < 1e-12) ++twice;
    }
  }
  CHECK(twice > 40);
}

TEST_CASE("Principal values and von Mises' stress are those of the tensors") {
  // A compression e along y in plane strain, then simple shear g.
  SectionStrain pressed;
  pressed.strain = {0.02, -0.1, 0};
  pressed.stress = {-1, -3, 0, -2};
  CHECK(pressed.compression() == Approx(0.1));
  CHECK(pressed.shear() == Approx(0.12));
  CHECK(pressed.shear_stress() == Approx(1));
  CHECK(pressed.von_mises() == Approx(std::sqrt(3.0)));
  SectionStrain sheared;
  sheared.strain = {0, 0, 0.3};
  sheared.stress = {0, 0, 2, 0};
  CHECK(sheared.compression() == Approx(0.15));
  CHECK(sheared.shear() == Approx(0.3));
  CHECK(sheared.shear_stress() == Approx(2));
  CHECK(sheared.von_mises() == Approx(2 * std::sqrt(3.0)));
  // Squeezed from all sides in the plane: the largest shear is against the rim's direction.
  SectionStrain squeezed;
  squeezed.strain = {-0.1, -0.1, 0};
  CHECK(squeezed.compression() == Approx(0.1));
  CHECK(squeezed.shear() == Approx(0.1));
}

TEST_CASE("Halving the elements hardly moves what is reported") {
  for (const SectionTissue& tissue : {bridge, cheek}) {
    for (const double thickness : {0.0, 3.0}) {
      CAPTURE(tissue.depth_mm, thickness);
      SectionSetting setting{.layers = part_layers(tissue, 9),
                             .poisson = tissue.poisson,
                             .dressing = {thickness, 0.05, 0.3}};
      const SectionLip lip{.width_mm = 9, .crown_radius_mm = 9, .stiffness_n_mm3 = 1e-3};
      const auto usual = Section(setting).under(lip, 0.04);
      setting.fineness = 2;
      const auto fine = Section(setting).under(lip, 0.04);
      REQUIRE(usual);
      REQUIRE(fine);
      CHECK(usual->mean_sinking_mm == Approx(fine->mean_sinking_mm).epsilon(0.01));
      CHECK(usual->face_pressure_peak == Approx(fine->face_pressure_peak).epsilon(0.01));
      CHECK(usual->bone_pressure_peak == Approx(fine->bone_pressure_peak).epsilon(0.01));
      CHECK(usual->fat.compression == Approx(fine->fat.compression).epsilon(0.02));
      // The skin is worst at its very face, which the integration points only come near to, and
      // shear on the bone is taken there from the rows above, high ones in a deep cheek.
      CHECK(usual->skin.compression == Approx(fine->skin.compression).epsilon(0.06));
      CHECK(usual->bone_shear_peak == Approx(fine->bone_shear_peak).epsilon(0.06));
    }
  }
}
