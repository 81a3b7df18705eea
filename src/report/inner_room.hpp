// Room inside an outline for what is written into it.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "geometry/polygon.hpp"

namespace rimload {

/// Free places inside an outline, to the millimetre.
class InnerRoom {
 public:
  /// @param keep_off points that what is written stays clear of
  InnerRoom(std::span<const Vec2> outline, std::span<const Vec2> keep_off);

  /// The middle of a box of that size [mm] that lies inside, clear of the outline and of the points
  /// by `clear_mm`, as near as can be to the outline's middle.
  [[nodiscard]] std::optional<Vec2> box(const Vec2& size_mm) const;
  /// The free place clear of everything that reaches farthest in a direction.
  [[nodiscard]] std::optional<Vec2> farthest(const Vec2& direction, double room_mm) const;
  /// A box that was written into counts as taken.
  void take(const Vec2& middle, const Vec2& size_mm);

  static constexpr double clear_mm = 0.8;

 private:
  [[nodiscard]] Vec2 at(int i, int j) const { return low_ + Vec2(i, j); }
  [[nodiscard]] double& room(int i, int j) { return room_[static_cast<std::size_t>(j * n_x_ + i)]; }
  [[nodiscard]] double room(int i, int j) const {
    return room_[static_cast<std::size_t>(j * n_x_ + i)];
  }

  Vec2 low_;
  Vec2 middle_;
  int n_x_;
  int n_y_;
  std::vector<double> room_;  ///< to the nearest thing in the way; below 0 outside [mm]
};

}  // namespace rimload
