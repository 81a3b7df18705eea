#include "choice/loaded_skin.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numeric>
#include <set>
#include <utility>

#include "geometry/polygon.hpp"

namespace rimload {

namespace {

constexpr double cell_mm = 0.5;

using Square = std::pair<int, int>;  // row and column

bool lies_before(const SkinCell& a, const SkinCell& b) {
  return Square{a.row, a.column} < Square{b.row, b.column};
}

Vec2 middle_of(const Square& square) {
  return {(square.second + 0.5) * cell_mm, (square.first + 0.5) * cell_mm};
}

SkinCell cell_at(const Square& square, const SkinUnder& under) {
  const Vec2 middle = middle_of(square);
  constexpr double half = 0.5 * cell_mm;
  const auto at = [&](double u, double v) { return under.skin.point(middle + Vec2(u, v)); };
  const Vec3 along_u = at(half, 0) - at(-half, 0);
  const Vec3 along_v = at(0, half) - at(0, -half);
  return {.column = square.second,
          .row = square.first,
          .area_mm2 = along_u.cross(along_v).norm(),
          .site = under.site_of(under.skin.point(middle))};
}

// A row of samples in the chart, with what each bears.
struct SampleRow {
  std::vector<Vec2> at;
  std::vector<double> pressure;

  // Half-way between samples, and as far beyond the first and the last.
  [[nodiscard]] std::vector<Vec2> edges() const {
    const std::size_t n = at.size();
    std::vector<Vec2> out{1.5 * at[0] - 0.5 * at[1]};
    for (std::size_t k = 1; k < n; ++k) out.emplace_back(0.5 * (at[k - 1] + at[k]));
    out.emplace_back(1.5 * at[n - 1] - 0.5 * at[n - 2]);
    return out;
  }
};

std::vector<SampleRow> rows_of(std::span<const ContactSample> samples, Part part) {
  std::vector<SampleRow> out;
  int station = -1;
  for (const ContactSample& sample : samples) {
    if (sample.part != part) continue;
    if (sample.station != station) out.emplace_back();
    station = sample.station;
    out.back().at.push_back(SkinMap::chart(sample.foot));
    out.back().pressure.push_back(sample.pressure);
  }
  return out;
}

void fill(const std::array<Vec2, 4>& corners, std::set<Square>& out) {
  const Extent extent = extent_of(corners);
  const auto first = [](double mm) { return static_cast<int>(std::floor(mm / cell_mm)); };
  for (int row = first(extent.low.y()); row <= first(extent.high.y()); ++row) {
    for (int column = first(extent.low.x()); column <= first(extent.high.x()); ++column) {
      const Square square{row, column};
      if (winding_number(corners, middle_of(square)) != 0) out.insert(square);
    }
  }
}

// Cells of a sample reach half-way to the rows beside it.
void fill_rows(const std::vector<SampleRow>& rows, bool closed, double above,
               std::set<Square>& out) {
  const std::size_t n = rows.size();
  if (n < 2 || rows[0].at.size() < 2) return;
  std::vector<std::vector<Vec2>> edges;
  for (const SampleRow& row : rows) edges.push_back(row.edges());
  // Between a row and the next; at the ends of what is not closed, as far beyond.
  const auto between = [&](std::size_t row, std::size_t k) -> Vec2 {
    if (row > 0 && row < n) return 0.5 * (edges[row - 1][k] + edges[row][k]);
    if (closed) return 0.5 * (edges[n - 1][k] + edges[0][k]);
    return row == 0 ? 1.5 * edges[0][k] - 0.5 * edges[1][k]
                    : 1.5 * edges[n - 1][k] - 0.5 * edges[n - 2][k];
  };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < rows[i].pressure.size(); ++k) {
      if (rows[i].pressure[k] <= above) continue;
      fill({between(i, k), between(i, k + 1), between(i + 1, k + 1), between(i + 1, k)}, out);
    }
  }
}

}  // namespace

double LoadedSkin::area_mm2() const {
  return std::accumulate(cells.begin(), cells.end(), 0.0,
                         [](double sum, const SkinCell& cell) { return sum + cell.area_mm2; });
}

LoadedSkin loaded_skin(std::span<const ContactSample> samples, const SkinUnder& under,
                       double above) {
  std::set<Square> squares;
  fill_rows(rows_of(samples, Part::rim), true, above, squares);
  fill_rows(rows_of(samples, Part::pad), false, above, squares);
  LoadedSkin out;
  for (const Square& square : squares) out.cells.push_back(cell_at(square, under));
  return out;
}

LoadedSkin united(const LoadedSkin& a, const LoadedSkin& b) {
  LoadedSkin out;
  std::set_union(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                 std::back_inserter(out.cells), lies_before);
  return out;
}

SharedSkin shared_skin(const LoadedSkin& a, const LoadedSkin& b) {
  LoadedSkin both;
  std::set_intersection(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                        std::back_inserter(both.cells), lies_before);
  SharedSkin out;
  out.area_mm2 = both.area_mm2();
  for (const SkinCell& cell : both.cells) out.by_site[cell.site] += cell.area_mm2;
  const double smaller = std::min(a.area_mm2(), b.area_mm2());
  if (smaller > 0) out.share = out.area_mm2 / smaller;
  return out;
}

}  // namespace rimload
