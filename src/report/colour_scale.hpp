// The colours that stand for contact pressure.
#pragma once

#include <array>

#include "report/colour.hpp"

namespace rimload {

/// A sequential scale from pale aqua (no pressure) over blue and violet to dark wine red.
///
/// At fraction t of the range, OKLab lightness is L = 0.92 - 0.62 t, a straight line: every tenth
/// of the range darkens by 0.062. (a, b) runs along one Bezier curve at constant speed, so equal
/// steps of pressure are equal distances in OKLab. Lightness alone carries the order, so it
/// survives colour blindness and a grey printer.
class ColourScale {
 public:
  static constexpr double lightness_at_zero = 0.92;
  static constexpr double lightness_at_end = 0.30;

  /// @param max_mmhg end of the fixed range, positive [mmHg]
  explicit ColourScale(double max_mmhg);

  /// The colour of a pressure [mmHg]; outside the range that of its nearer end.
  [[nodiscard]] Rgb at(double mmhg) const {
    const double t = mmhg * per_mmhg_;
    if (!(t > 0)) return table_.front();
    if (t >= last) return table_.back();
    const double raised = t + 0.5;  // never negative, and lround is slow
    return table_[static_cast<std::size_t>(raised)];
  }
  [[nodiscard]] double max_mmhg() const { return max_mmhg_; }

 private:
  static constexpr int last = 511;
  double max_mmhg_;
  double per_mmhg_;
  std::array<Rgb, last + 1> table_;
};

/// The scale before rounding to 8 bits: OKLab at a fraction of the range, 0 to 1.
[[nodiscard]] Vec3 pressure_oklab(double fraction);

}  // namespace rimload
