#include "geometry/half_face.hpp"

#include "units/error.hpp"

namespace rimload {

using Index = Eigen::Index;

HalfFace::HalfFace(std::span<const Landmark> landmarks) {
  const auto images = mirror_images(landmarks);
  if (!images) throw InternalError("a half is asked of a face that is not symmetric");
  sellion_ = &find_landmark(landmarks, "sellion", Side::midline) - landmarks.data();
  for (std::size_t k = 0; k < landmarks.size(); ++k) {
    const Side side = landmarks[k].side;
    if (side == Side::right || static_cast<Index>(k) == sellion_) continue;
    for (Index axis = side == Side::midline ? 1 : 0; axis < 3; ++axis) {
      places_.push_back({3 * static_cast<Index>(k) + axis,
                         3 * static_cast<Index>((*images)[k]) + axis, axis == 0 ? -1.0 : 1.0});
    }
  }
}

std::vector<Landmark> HalfFace::moved(std::span<const Landmark> landmarks,
                                      const Eigen::VectorXd& change) const {
  std::vector<Landmark> out(landmarks.begin(), landmarks.end());
  for (Index k = 0; k < n(); ++k) {
    const Place& place = places_[static_cast<std::size_t>(k)];
    double& own = out[static_cast<std::size_t>(place.own / 3)].position_face[place.own % 3];
    own += change[k];
    if (place.image == place.own) continue;
    out[static_cast<std::size_t>(place.image / 3)].position_face[place.image % 3] =
        place.sign * own;
  }
  return out;
}

Eigen::VectorXd HalfFace::change(std::span<const Landmark> from,
                                 std::span<const Landmark> to) const {
  const auto at_sellion = static_cast<std::size_t>(sellion_);
  const Vec3 shift = to[at_sellion].position_face - from[at_sellion].position_face;
  Eigen::VectorXd out(n());
  for (Index k = 0; k < n(); ++k) {
    const Index own = places_[static_cast<std::size_t>(k)].own;
    const auto landmark = static_cast<std::size_t>(own / 3);
    out[k] = to[landmark].position_face[own % 3] - from[landmark].position_face[own % 3] -
             shift[own % 3];
  }
  return out;
}

Eigen::VectorXd HalfFace::fold(const Eigen::VectorXd& gradient) const {
  Eigen::VectorXd out(n());
  for (Index k = 0; k < n(); ++k) {
    const Place& place = places_[static_cast<std::size_t>(k)];
    out[k] = gradient[place.own];
    if (place.image != place.own) out[k] += place.sign * gradient[place.image];
  }
  return out;
}

Eigen::MatrixXd HalfFace::fold_covariance(const Eigen::MatrixXd& full) const {
  const auto symmetric = [&](Index a, const Place& b) {
    return 0.5 * (full(a, b.own) + b.sign * full(a, b.image));
  };
  const auto sellion_at = [&](Index axis) {
    const Index at = 3 * sellion_ + axis;
    return Place{at, at, axis == 0 ? -1.0 : 1.0};
  };
  Eigen::MatrixXd out(n(), n());
  for (Index i = 0; i < n(); ++i) {
    const Place& a = places_[static_cast<std::size_t>(i)];
    const Place sellion_a = sellion_at(a.own % 3);
    for (Index j = 0; j <= i; ++j) {
      const Place& b = places_[static_cast<std::size_t>(j)];
      const Place sellion_b = sellion_at(b.own % 3);
      out(i, j) = symmetric(a.own, b) - symmetric(sellion_a.own, b) - symmetric(a.own, sellion_b) +
                  symmetric(sellion_a.own, sellion_b);
      out(j, i) = out(i, j);
    }
  }
  return out;
}

std::vector<Index> HalfFace::coordinates_of(std::size_t landmark) const {
  std::vector<Index> out;
  for (Index k = 0; k < n(); ++k) {
    if (places_[static_cast<std::size_t>(k)].own / 3 == static_cast<Index>(landmark)) {
      out.push_back(k);
    }
  }
  return out;
}

}  // namespace rimload
