#include "contact/rim_beam.hpp"

#include <vector>

namespace rimload {

Eigen::SparseMatrix<double> RimBeam::stiffness(int n_stations) const {
  const double l = station_mm;
  const double bend = bending_n_mm2 / (l * l * l);
  const double pull = tension_n / l;
  std::vector<Eigen::Triplet<double>> entries;
  const auto add = [&](int row, int shift, double value) {
    entries.emplace_back(row, (row + shift + n_stations) % n_stations, value);
  };
  for (int i = 0; i < n_stations; ++i) {
    add(i, 0, 6 * bend + 2 * pull);
    for (const int side : {-1, 1}) {
      add(i, side, -4 * bend - pull);
      add(i, 2 * side, bend);
    }
  }
  Eigen::SparseMatrix<double> matrix(n_stations, n_stations);
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

}  // namespace rimload
