// What a sensor taped to the skin would read.
#pragma once

#include <span>
#include <vector>

#include "contact/equilibrium.hpp"

namespace rimload {

/// The pressed samples, laid out for reading a sensor at many places.
///
/// A reading is the force inside a disc 11.3 mm across, centred on a point of the skin, over
/// 100 mm2 [N/mm2]; bare area counts as zero. A sample at the disc's border counts in part, by a
/// ramp as wide as its cell, linear in the squared distance, which keeps the disc's area.
class SensorField {
 public:
  explicit SensorField(std::span<const ContactSample> samples);
  /// @param centres_face on the skin, facial frame [mm]; quick where they lie close together
  /// @return one reading for each [N/mm2]
  [[nodiscard]] std::vector<double> readings(std::span<const Vec3> centres_face) const;

 private:
  struct Load {
    Vec3 foot;
    double force_n;
    double per_fade_mm2;  ///< it fades over 4 radius half-cell of the squared distance: 1 over that
  };
  std::vector<Load> loads_;  ///< row by row, from right to left
  std::vector<std::size_t> row_start_;
  int lowest_row_ = 0;
  double reach_mm_ = 0;  ///< beyond which no sample counts
};

/// One reading.
[[nodiscard]] double sensor_reading(std::span<const ContactSample> samples,
                                    const Vec3& centre_face);

}  // namespace rimload
