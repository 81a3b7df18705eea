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
/// ramp as wide as its cell.
class SensorField {
 public:
  explicit SensorField(std::span<const ContactSample> samples);
  /// @param centre_face on the skin, facial frame [mm]
  [[nodiscard]] double reading(const Vec3& centre_face) const;
  /// No reading within a distance [mm] of a point is larger than this. [N/mm2]
  [[nodiscard]] double most_near(const Vec3& point_face, double distance_mm) const;

 private:
  struct Load {
    Vec3 foot;
    double force_n;
    double half_cell_mm;
    int strip;
  };
  [[nodiscard]] int strip_of(double y) const;
  template <typename Add>
  void for_each_near(const Vec3& point, double distance_mm, Add&& add) const;

  std::vector<Load> loads_;  ///< by level strips as high as the reach, in each of them by x
  double reach_mm_ = 0;      ///< beyond which no sample counts
};

/// One reading.
[[nodiscard]] double sensor_reading(std::span<const ContactSample> samples,
                                    const Vec3& centre_face);

}  // namespace rimload
