#include "skin/load_spread.hpp"

#include <numbers>

#include "catch.hpp"

using namespace rimload;

namespace {

constexpr double cell_mm = 0.05;
constexpr double k = 0.02;  // [N/mm3]

// An even layer over even tissue, pressed by 1 N/mm2 within half_width of the middle.
std::vector<SpreadCell> even_row(double length_mm, double half_width_mm, double shear_n_mm) {
  std::vector<SpreadCell> row;
  const int n = static_cast<int>(length_mm / cell_mm) / 2;
  for (int i = -n; i <= n; ++i) {
    const bool pressed = std::abs(i) * cell_mm < half_width_mm;
    row.push_back({.area_mm2 = cell_mm,
                   .pressure = pressed ? 1.0 : 0.0,
                   .tissue_n_mm3 = k,
                   .shear_n_mm = shear_n_mm});
  }
  return row;
}

double force(std::span<const SpreadCell> row, std::span<const double> pressure) {
  double sum = 0;
  for (std::size_t i = 0; i < row.size(); ++i) sum += row[i].area_mm2 * pressure[i];
  return sum;
}

}  // namespace

TEST_CASE("a line load spreads through a layer in shear as exp(-|x|/l)/(2 l)") {
  constexpr double shear = 0.08;  // l = sqrt(S/k) = 2 mm
  constexpr double l = 2;
  const auto row = even_row(60, 0.5 * cell_mm, shear);
  const std::vector<double> skin = spread_pressure(row, cell_mm);
  const std::size_t middle = row.size() / 2;
  for (const double x : {0.0, 1.0, 2.0, 5.0}) {
    const std::size_t i = middle + static_cast<std::size_t>(std::lround(x / cell_mm));
    // Cells of l/40: second order, 1e-4.
    CHECK(skin[i] == Approx(cell_mm * std::exp(-x / l) / (2 * l)).epsilon(3e-4));
  }
}

TEST_CASE("a strip spreads through a layer in shear as the strip of line loads does") {
  constexpr double shear = 0.08, l = 2, half = 2.025;  // ends on a cell's border
  const auto row = even_row(80, half, shear);
  const std::vector<double> skin = spread_pressure(row, cell_mm);
  const std::size_t middle = row.size() / 2;
  for (const double x : {0.0, 1.0, 4.0}) {
    const std::size_t i = middle + static_cast<std::size_t>(std::lround(x / cell_mm));
    const double expected = x < half ? 1 - std::exp(-half / l) * std::cosh(x / l)
                                     : std::sinh(half / l) * std::exp(-x / l);
    CHECK(skin[i] == Approx(expected).epsilon(1e-3));
  }
}

TEST_CASE("a layer that spreads a load keeps its force, whatever its edges and the tissue") {
  std::vector<SpreadCell> row;
  for (int i = 0; i < 25; ++i) {
    row.push_back({.area_mm2 = 1 + 0.05 * i,
                   .pressure = i > 8 && i < 15 ? 0.01 * i : 0.0,
                   .tissue_n_mm3 = 0.01 + 0.002 * (i % 5),
                   .shear_n_mm = i > 3 && i < 20 ? 0.2 : 0.0});
  }
  const std::vector<double> skin = spread_pressure(row, 1.1);
  double on_top = 0;
  for (const SpreadCell& cell : row) on_top += cell.area_mm2 * cell.pressure;
  CHECK(force(row, skin) == Approx(on_top).epsilon(1e-12));
  CHECK(skin[1] == 0);  // no layer reaches there
  CHECK(skin[5] > 0);
}

TEST_CASE("without a layer each cell of skin bears what is on it") {
  const auto row = even_row(10, 2, 0);
  const std::vector<double> skin = spread_pressure(row, cell_mm);
  for (std::size_t i = 0; i < row.size(); ++i) CHECK(skin[i] == Approx(row[i].pressure));
}
