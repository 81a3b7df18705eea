// Where across the lip the gas stops: the innermost edge of contact.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <numeric>
#include <span>

namespace rimload {

using Row7 = Eigen::Matrix<double, 1, 7>;

/// Offset of the gas edge from the inner border of the lip, with its derivative by pose and lip.
struct GasEdge {
  double offset_mm = 0;
  Row7 slope = Row7::Zero();
};

/// Finds the edge from how surely each sample across a station touches, innermost first.
///
/// The wetness of a sample is the product of (1 - chi) over it and the samples inward of it; the
/// edge lies sum(wetness) cells from the inner border. Where nothing touches, the last wetness is 1
/// and the edge is drawn back by half the width, to the crown.
class GasEdgeFinder {
 public:
  /// @param cell_mm width of each sample across, the innermost first
  explicit GasEdgeFinder(std::span<const double> cell_mm) : cell_mm_(cell_mm) {}
  /// @pre samples that touch come from the inside outwards; those left out don't touch
  void touch(std::size_t across, double chi, const Row7& chi_slope) {
    wet_to(across);
    wet_slope_ = (1 - chi) * wet_slope_ - wet_ * chi_slope;
    wet_ *= 1 - chi;
    wet_to(across + 1);
  }
  [[nodiscard]] GasEdge edge() {
    wet_to(cell_mm_.size());
    const double half_width = 0.5 * std::accumulate(cell_mm_.begin(), cell_mm_.end(), 0.0);
    return {edge_.offset_mm - half_width * wet_, edge_.slope - half_width * wet_slope_};
  }

 private:
  void wet_to(std::size_t across) {
    if (wet_ == 0) return;  // the same from here on
    double width = 0;
    for (; next_ < across; ++next_) width += cell_mm_[next_];
    edge_.offset_mm += width * wet_;
    edge_.slope += width * wet_slope_;
  }

  std::span<const double> cell_mm_;
  std::size_t next_ = 0;  ///< samples before this one are counted
  double wet_ = 1;        ///< of the sample counted last
  Row7 wet_slope_ = Row7::Zero();
  GasEdge edge_;
};

}  // namespace rimload
