#include "skin/load_spread.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cassert>
#include <cmath>

namespace rimload {

// Unknowns are the sinking of each cell and the layer's turn between neighbours, in turn along the
// row; the layer's energy makes the matrix symmetric and of half-bandwidth two.
std::vector<double> spread_pressure(std::span<const SpreadCell> row, double cell_mm) {
  const auto n = static_cast<Eigen::Index>(row.size());
  const Eigen::Index size = 2 * n - 1;
  Eigen::MatrixXd stiffness = Eigen::MatrixXd::Zero(size, size);
  Eigen::VectorXd load = Eigen::VectorXd::Zero(size);
  const auto at = [&](Eigen::Index i) -> const SpreadCell& {
    return row[static_cast<std::size_t>(i)];
  };
  // Half a cell of each in series.
  const auto between = [](double a, double b) { return a > 0 && b > 0 ? 2 * a * b / (a + b) : 0; };
  for (Eigen::Index i = 0; i < n; ++i) {
    assert(at(i).area_mm2 > 0 && at(i).tissue_n_mm3 > 0);
    stiffness(2 * i, 2 * i) += at(i).area_mm2 * at(i).tissue_n_mm3;
    load[2 * i] = at(i).area_mm2 * at(i).pressure;
  }
  for (Eigen::Index i = 0; i + 1 < n; ++i) {
    const double area = 0.5 * (at(i).area_mm2 + at(i + 1).area_mm2);
    const double shear = area * between(at(i).shear_n_mm, at(i + 1).shear_n_mm);
    if (shear <= 0) {
      stiffness(2 * i + 1, 2 * i + 1) = 1;  // no layer: nothing turns
      continue;
    }
    // Energy area S/2 ((w next - w)/cell - turn)^2.
    const Eigen::Vector3d slope(-1 / cell_mm, -1, 1 / cell_mm);
    stiffness.block<3, 3>(2 * i, 2 * i) += shear * slope * slope.transpose();
  }
  for (Eigen::Index i = 1; i + 1 < n; ++i) {  // the layer's turn changes over this cell
    if (at(i - 1).shear_n_mm <= 0 || at(i).shear_n_mm <= 0 || at(i + 1).shear_n_mm <= 0) continue;
    const double bending = at(i).area_mm2 * at(i).bending_n_mm / (cell_mm * cell_mm);
    stiffness(2 * i - 1, 2 * i - 1) += bending;
    stiffness(2 * i + 1, 2 * i + 1) += bending;
    stiffness(2 * i - 1, 2 * i + 1) -= bending;
    stiffness(2 * i + 1, 2 * i - 1) -= bending;
  }
  const Eigen::VectorXd moved = stiffness.ldlt().solve(load);
  std::vector<double> out;
  for (Eigen::Index i = 0; i < n; ++i) out.push_back(at(i).tissue_n_mm3 * moved[2 * i]);
  return out;
}

namespace {

// A row across the rim: skin beside it, its samples, skin beside it on the other side.
struct Row {
  std::vector<ContactSample> samples;
  std::vector<SpreadCell> cells;
};

class RowMaker {
 public:
  RowMaker(const Mask& mask, const FaceField& face) : mask_(mask), face_(face) {}

  [[nodiscard]] bool is_covered(std::span<const ContactSample> station) const {
    return std::any_of(station.begin(), station.end(), [&](const ContactSample& sample) {
      return face_.cover->at(SkinMap::chart(sample.foot)).thickness_mm > 0;
    });
  }

  [[nodiscard]] Row make(std::span<const ContactSample> station) const {
    const double cell_mm = mask_.rim.cell_mm;
    Row out;
    const std::size_t n = station.size();
    std::vector<ContactSample> inner = walk(station[0], station[0].foot - station[1].foot);
    out.samples.assign(inner.rbegin(), inner.rend());
    out.samples.insert(out.samples.end(), station.begin(), station.end());
    const std::vector<ContactSample> outer =
        walk(station[n - 1], station[n - 1].foot - station[n - 2].foot);
    out.samples.insert(out.samples.end(), outer.begin(), outer.end());
    double width_mm = 0;
    for (const ContactSample& sample : station) width_mm += sample.pressure > 0 ? cell_mm : 0;
    for (const ContactSample& sample : out.samples) out.cells.push_back(cell(sample, width_mm));
    return out;
  }

 private:
  // Cells of bare width beside a sample, straight on over the skin.
  [[nodiscard]] std::vector<ContactSample> walk(const ContactSample& from, Vec3 way) const {
    const double cell_mm = mask_.rim.cell_mm;
    std::vector<ContactSample> out;
    ContactSample last = from;
    last.part = Part::beside;
    last.pressure = 0;
    last.shear.setZero();
    last.gap_mm = 0;
    for (double gone = cell_mm; gone < spread_reach_mm; gone += cell_mm) {
      const Vec3 level = way - way.dot(last.normal) * last.normal;
      const double length = level.norm();
      if (length == 0) break;
      const SkinPoint skin = face_.skin.closest(last.foot + cell_mm / length * level);
      way = skin.foot - last.foot;
      last.foot = skin.foot;
      last.normal = skin.normal;
      last.position = skin.foot;
      out.push_back(last);
    }
    return out;
  }

  [[nodiscard]] SpreadCell cell(const ContactSample& sample, double width_mm) const {
    const Vec2 uv = SkinMap::chart(sample.foot);
    const TissuePoint tissue = face_.tissue.at(uv);
    const CoverPoint cover = face_.cover->at(uv);
    const double ratio =
        face_.modulus.at(std::hypot(width_mm, least_width_mm) / tissue.depth_mm).ratio;
    const double soft = tissue.depth_mm / (tissue.youngs_n_mm2 * ratio) + tissue.backing_mm3_n;
    SpreadCell out{
        .area_mm2 = sample.area_mm2, .pressure = sample.pressure, .tissue_n_mm3 = 1 / soft};
    if (cover.thickness_mm > 0) {
      const double t = cover.thickness_mm;
      out.shear_n_mm = t * t / cover.shear_compliance_mm3_n;
      out.bending_n_mm = t * t * t * t / (12 * cover.compliance_mm3_n);
    }
    return out;
  }

  const Mask& mask_;
  const FaceField& face_;
};

}  // namespace

std::vector<ContactSample> loads_on_skin(std::span<const ContactSample> samples, const Mask& mask,
                                         const FaceField& face) {
  std::vector<ContactSample> out(samples.begin(), samples.end());
  if (face.cover == nullptr) return out;
  const std::size_t n_across = mask.rim.n_across();
  const RowMaker rows(mask, face);
  for (std::size_t i = 0; i < mask.rim.n_stations(); ++i) {
    const auto station = samples.subspan(i * n_across, n_across);
    if (!rows.is_covered(station)) continue;
    Row row = rows.make(station);
    const std::vector<double> pressure = spread_pressure(row.cells, mask.rim.cell_mm);
    std::size_t next = i * n_across;
    for (std::size_t k = 0; k < row.samples.size(); ++k) {
      row.samples[k].pressure = pressure[k];
      if (row.samples[k].part == Part::beside) {
        if (pressure[k] != 0) out.push_back(row.samples[k]);
      } else {
        out[next++].pressure = pressure[k];
      }
    }
  }
  return out;
}

}  // namespace rimload
