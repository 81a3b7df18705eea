// The coordinates in which a symmetric face can change while sellion stays where it is.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "geometry/landmark.hpp"

namespace rimload {

/// One number for each: y and z of a landmark of the midline other than sellion, x, y and z of one
/// of the left side; the right side is its mirror image.
class HalfFace {
 public:
  /// @pre the face is its own mirror image to the last bit and has a sellion
  explicit HalfFace(std::span<const Landmark> landmarks);

  [[nodiscard]] Eigen::Index n() const { return static_cast<Eigen::Index>(places_.size()); }
  /// The landmarks moved. @param change n() [mm]
  [[nodiscard]] std::vector<Landmark> moved(std::span<const Landmark> landmarks,
                                            const Eigen::VectorXd& change) const;
  /// The change that leads from one symmetric face to another, sellion put back. [mm]
  [[nodiscard]] Eigen::VectorXd change(std::span<const Landmark> from,
                                       std::span<const Landmark> to) const;
  /// A gradient by the stacked positions of all landmarks as one by these coordinates.
  [[nodiscard]] Eigen::VectorXd fold(const Eigen::VectorXd& gradient) const;
  /// The covariance of all displacements, given that they are symmetric and counted from sellion's:
  /// with the mirror image P, (I + P)/2 K (I + P)/2, which is K (I + P)/2 as K = P K P.
  /// @param full 3 n x 3 n of the landmarks [mm2]
  [[nodiscard]] Eigen::MatrixXd fold_covariance(const Eigen::MatrixXd& full) const;
  /// The coordinates of a landmark of the midline or left side; none of sellion. At most three.
  [[nodiscard]] std::vector<Eigen::Index> coordinates_of(std::size_t landmark) const;

 private:
  struct Place {
    Eigen::Index own = 0;    ///< among the stacked positions
    Eigen::Index image = 0;  ///< of its mirror image; `own` on the midline
    double sign = 1;         ///< -1 along x
  };
  Eigen::Index sellion_ = 0;
  std::vector<Place> places_;
};

}  // namespace rimload
