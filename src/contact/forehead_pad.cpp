#include "contact/forehead_pad.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

std::vector<PadSample> sample_pad(const ForeheadPad& pad) {
  constexpr double cell_mm = 2.5;
  const auto cells = [](double length) {
    return static_cast<std::size_t>(std::max(1.0, std::round(length / cell_mm)));
  };
  const std::size_t n_rows = cells(pad.height_mm);
  const std::size_t n_columns = cells(pad.width_mm);
  const Vec3 up(0, std::cos(pad.lean_rad), std::sin(pad.lean_rad));
  const double dx = pad.width_mm / static_cast<double>(n_columns);
  const double dy = pad.height_mm / static_cast<double>(n_rows);
  std::vector<PadSample> out;
  for (std::size_t i = 0; i < n_rows; ++i) {
    for (std::size_t j = 0; j < n_columns; ++j) {
      const double x = (static_cast<double>(j) + 0.5) * dx - 0.5 * pad.width_mm;
      const double y = (static_cast<double>(i) + 0.5) * dy - 0.5 * pad.height_mm;
      out.push_back({i, j, pad.centre_mask + x * Vec3::UnitX() + y * up, dx * dy});
    }
  }
  return out;
}

}  // namespace rimload
