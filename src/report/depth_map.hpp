// How far towards the viewer a picture's surface lies.
#pragma once

#include <vector>

#include "report/fragment.hpp"

namespace rimload {

/// Depth of the nearest sample in each pixel of an area, larger is nearer [mm].
class DepthMap {
 public:
  static constexpr float nothing = -1e9F;  ///< where nothing was drawn

  DepthMap() = default;
  explicit DepthMap(PixelRect area)
      : area_(area),
        z_(static_cast<std::size_t>(area.width()) * static_cast<std::size_t>(area.height()),
           nothing) {}

  [[nodiscard]] PixelRect area() const { return area_; }
  [[nodiscard]] float at(int x, int y) const { return holds(x, y) ? z_[index(x, y)] : nothing; }
  void set(int x, int y, float z) { z_[index(x, y)] = z; }

 private:
  [[nodiscard]] bool holds(int x, int y) const {
    return x >= area_.left && y >= area_.top && x < area_.right && y < area_.bottom;
  }
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y - area_.top) * static_cast<std::size_t>(area_.width()) +
           static_cast<std::size_t>(x - area_.left);
  }
  PixelRect area_;
  std::vector<float> z_;
};

}  // namespace rimload
