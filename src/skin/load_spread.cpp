#include "skin/load_spread.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace rimload {

std::vector<double> spread_pressure(std::span<const SpreadCell> row, double cell_mm) {
  const std::size_t n = row.size();
  // Symmetric and tridiagonal, area k on the diagonal: elimination from the first cell on.
  std::vector<double> diagonal(n);
  std::vector<double> link(n, 0.0);  // to the next cell
  std::vector<double> sinking(n);
  for (std::size_t i = 0; i < n; ++i) {
    assert(row[i].area_mm2 > 0 && row[i].tissue_n_mm3 > 0);
    diagonal[i] = row[i].area_mm2 * row[i].tissue_n_mm3;
    sinking[i] = row[i].area_mm2 * row[i].pressure;
  }
  for (std::size_t i = 0; i + 1 < n; ++i) {
    const double a = row[i].shear_n_mm;
    const double b = row[i + 1].shear_n_mm;
    if (a <= 0 || b <= 0) continue;
    // Half a cell of each in series.
    const double length_mm = 0.5 * (row[i].area_mm2 + row[i + 1].area_mm2) / cell_mm;
    link[i] = 2 * a * b / (a + b) * length_mm / cell_mm;
    diagonal[i] += link[i];
    diagonal[i + 1] += link[i];
  }
  for (std::size_t i = 1; i < n; ++i) {
    const double factor = link[i - 1] / diagonal[i - 1];
    diagonal[i] -= factor * link[i - 1];
    sinking[i] += factor * sinking[i - 1];
  }
  for (std::size_t i = n; i-- > 0;) {
    if (i + 1 < n) sinking[i] += link[i] * sinking[i + 1];
    sinking[i] /= diagonal[i];
  }
  std::vector<double> out(n);
  for (std::size_t i = 0; i < n; ++i) out[i] = row[i].tissue_n_mm3 * sinking[i];
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
    SpreadCell out{.area_mm2 = sample.area_mm2,
                   .pressure = sample.pressure,
                   .tissue_n_mm3 = 1 / soft,
                   .shear_n_mm = 0};
    if (cover.thickness_mm > 0) {
      out.shear_n_mm = cover.thickness_mm * cover.thickness_mm / cover.shear_compliance_mm3_n;
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
        if (pressure[k] > 0) out.push_back(row.samples[k]);
      } else {
        out[next++].pressure = pressure[k];
      }
    }
  }
  return out;
}

}  // namespace rimload
