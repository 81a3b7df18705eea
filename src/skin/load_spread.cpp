#include "skin/load_spread.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace rimload {

// Unknowns are the sinking of each cell and the layer's turn between neighbours, in turn along the
// row; the layer's energy makes the matrix symmetric, positive and of half-bandwidth two.
std::vector<double> spread_pressure(std::span<const SpreadCell> row, double cell_mm) {
  const std::size_t n = row.size();
  const std::size_t size = 2 * n - 1;
  std::vector<double> diagonal(size, 0.0);
  std::vector<double> next(size, 0.0);    // by the unknown after
  std::vector<double> second(size, 0.0);  // by the one after that
  std::vector<double> moved(size, 0.0);
  // Half a cell of each in series.
  const auto between = [](double a, double b) { return a > 0 && b > 0 ? 2 * a * b / (a + b) : 0; };
  for (std::size_t i = 0; i < n; ++i) {
    assert(row[i].area_mm2 > 0 && row[i].tissue_n_mm3 > 0);
    diagonal[2 * i] += row[i].area_mm2 * row[i].tissue_n_mm3;
    moved[2 * i] = row[i].area_mm2 * row[i].pressure;
  }
  for (std::size_t i = 0; i + 1 < n; ++i) {
    const double area = 0.5 * (row[i].area_mm2 + row[i + 1].area_mm2);
    const double shear = area * between(row[i].shear_n_mm, row[i + 1].shear_n_mm);
    if (shear <= 0) {
      diagonal[2 * i + 1] = 1;  // no layer: nothing turns
      continue;
    }
    // Energy area S/2 ((w next - w)/cell - turn)^2.
    const double steep = shear / cell_mm;
    diagonal[2 * i] += steep / cell_mm;
    diagonal[2 * i + 1] += shear;
    diagonal[2 * i + 2] += steep / cell_mm;
    next[2 * i] += steep;
    next[2 * i + 1] -= steep;
    second[2 * i] -= steep / cell_mm;
  }
  for (std::size_t i = 1; i + 1 < n; ++i) {  // the layer's turn changes over this cell
    if (row[i - 1].shear_n_mm <= 0 || row[i].shear_n_mm <= 0 || row[i + 1].shear_n_mm <= 0)
      continue;
    const double bending = row[i].area_mm2 * row[i].bending_n_mm / (cell_mm * cell_mm);
    diagonal[2 * i - 1] += bending;
    diagonal[2 * i + 1] += bending;
    second[2 * i - 1] -= bending;
  }
  // L D L' without square roots, within the band.
  for (std::size_t k = 0; k < size; ++k) {
    const double pivot = diagonal[k];
    if (k + 1 < size) {
      const double factor = next[k] / pivot;
      diagonal[k + 1] -= factor * next[k];
      if (k + 2 < size) next[k + 1] -= factor * second[k];
      moved[k + 1] -= factor * moved[k];
    }
    if (k + 2 < size) {
      const double factor = second[k] / pivot;
      diagonal[k + 2] -= factor * second[k];
      moved[k + 2] -= factor * moved[k];
    }
  }
  for (std::size_t k = size; k-- > 0;) {
    if (k + 1 < size) moved[k] -= next[k] * moved[k + 1];
    if (k + 2 < size) moved[k] -= second[k] * moved[k + 2];
    moved[k] /= diagonal[k];
  }
  std::vector<double> out;
  for (std::size_t i = 0; i < n; ++i) out.push_back(row[i].tissue_n_mm3 * moved[2 * i]);
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
    const double cell_mm = mask_.rim.spacing_mm;
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
    const double cell_mm = mask_.rim.spacing_mm;
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
    const std::vector<double> pressure = spread_pressure(row.cells, mask.rim.spacing_mm);
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
