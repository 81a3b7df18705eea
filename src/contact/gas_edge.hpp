// Where across the lip the gas stops: the innermost edge of contact.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace rimload {

using Row7 = Eigen::Matrix<double, 1, 7>;

/// Offset of the gas edge from the inner border of the lip, with its derivative by pose and lip.
struct GasEdge {
  double offset_mm = 0;
  Row7 slope = Row7::Zero();
};

/// Collects how surely each sample across a station touches, innermost first.
///
/// The wetness of a sample is the product of (1 - chi) over it and the samples inward of it; the
/// edge lies sum(wetness) cells from the inner border. Where nothing touches, the last wetness is 1
/// and the edge is drawn back by half the width, to the crown.
class EdgeSamples {
 public:
  explicit EdgeSamples(std::size_t n_across)
      : chi_(n_across, 0.0), slope_(n_across, Row7::Zero()) {}
  void touch(std::size_t across, double chi, const Row7& slope) {
    chi_[across] = chi;
    slope_[across] = slope;
  }
  [[nodiscard]] GasEdge locate(double cell_mm) const {
    const double half_width = 0.5 * cell_mm * static_cast<double>(chi_.size());
    GasEdge out;
    double wet = 1;
    Row7 wet_slope = Row7::Zero();
    for (std::size_t j = 0; j < chi_.size() && wet > 0; ++j) {
      wet_slope = wet_slope * (1 - chi_[j]) - wet * slope_[j];
      wet *= 1 - chi_[j];
      out.offset_mm += cell_mm * wet;
      out.slope += cell_mm * wet_slope;
    }
    out.offset_mm -= half_width * wet;
    out.slope -= half_width * wet_slope;
    return out;
  }

 private:
  std::vector<double> chi_;
  std::vector<Row7> slope_;
};

}  // namespace rimload
