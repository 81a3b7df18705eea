// What a sensor taped to the skin would read.
#pragma once

#include <limits>
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
  /// @param centre_face on the skin, facial frame [mm]
  /// @return [N/mm2]
  [[nodiscard]] double reading(const Vec3& centre_face) const;
  /// Readings in single precision: in error by less than 1e-5 of themselves.
  /// @param centres_face as above; quick where they lie close together
  /// @param out one reading for each [N/mm2]
  void rough_readings(std::span<const Vec3> centres_face, std::span<float> out) const;

 private:
  struct Load {
    Vec3 foot;
    double force_n;
    double per_fade_mm2;  ///< it fades over 4 radius half-cell of the squared distance: 1 over that
  };
  /// Shows those nearer to a place than the reach.
  template <class Visit>
  void visit_near(const Vec3& middle, double reach, const Visit& visit) const;

  std::vector<std::vector<Load>> rows_;  ///< by height, from the lowest
  int lowest_row_ = std::numeric_limits<int>::max();
  double reach_mm_ = 0;  ///< beyond which no sample counts
};

/// One reading.
[[nodiscard]] double sensor_reading(std::span<const ContactSample> samples,
                                    const Vec3& centre_face);

}  // namespace rimload
