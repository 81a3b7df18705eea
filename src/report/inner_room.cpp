#include "report/inner_room.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

InnerRoom::InnerRoom(std::span<const Vec2> outline, std::span<const Vec2> keep_off) {
  const Extent extent = extent_of(outline);
  low_ = extent.low;
  middle_ = 0.5 * (extent.low + extent.high);
  n_x_ = static_cast<int>(std::ceil(extent.size().x())) + 1;
  n_y_ = static_cast<int>(std::ceil(extent.size().y())) + 1;
  for (int j = 0; j < n_y_; ++j) {
    for (int i = 0; i < n_x_; ++i) {
      const Vec2 here = at(i, j);
      double room = border_distance(outline, here);
      if (winding_number(outline, here) == 0) room = -room;
      for (const Vec2& point : keep_off) room = std::min(room, (point - here).norm());
      room_.push_back(room);
    }
  }
}

std::optional<Vec2> InnerRoom::box(const Vec2& size_mm) const {
  const int wide = static_cast<int>(std::ceil(size_mm.x()));
  const int high = static_cast<int>(std::ceil(size_mm.y()));
  const auto is_free = [&](int left, int bottom) {
    for (int j = bottom; j <= bottom + high; ++j) {
      for (int i = left; i <= left + wide; ++i) {
        if (room(i, j) < clear_mm) return false;
      }
    }
    return true;
  };
  std::optional<Vec2> best;
  for (int j = 0; j + high < n_y_; ++j) {
    for (int i = 0; i + wide < n_x_; ++i) {
      const Vec2 middle = at(i, j) + 0.5 * Vec2(wide, high);
      if (best && (middle - middle_).norm() >= (*best - middle_).norm()) continue;
      if (is_free(i, j)) best = middle;
    }
  }
  return best;
}

std::optional<Vec2> InnerRoom::farthest(const Vec2& direction, double room_mm) const {
  std::optional<Vec2> best;
  for (int j = 0; j < n_y_; ++j) {
    for (int i = 0; i < n_x_; ++i) {
      if (room(i, j) < room_mm) continue;
      if (!best || at(i, j).dot(direction) > best->dot(direction)) best = at(i, j);
    }
  }
  return best;
}

void InnerRoom::take(const Vec2& middle, const Vec2& size_mm) {
  for (int j = 0; j < n_y_; ++j) {
    for (int i = 0; i < n_x_; ++i) {
      const Vec2 off = ((at(i, j) - middle).cwiseAbs() - 0.5 * size_mm).cwiseMax(0);
      room(i, j) = std::min(room(i, j), off.norm());
    }
  }
}

}  // namespace rimload
