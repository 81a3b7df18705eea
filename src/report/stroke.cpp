#include "report/stroke.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

namespace {

PixelRect bounds_of(std::span<const StrokePath> paths, double margin, const Image& image) {
  Vec2 low(1e9, 1e9);
  Vec2 high(-1e9, -1e9);
  for (const StrokePath& path : paths) {
    for (const Vec3& p : path) {
      low = low.cwiseMin(p.head<2>());
      high = high.cwiseMax(p.head<2>());
    }
  }
  const auto within = [](double v, int most) {
    return static_cast<int>(std::clamp(v, 0.0, static_cast<double>(most)));
  };
  return {within(std::floor(low.x() - margin), image.width),
          within(std::floor(low.y() - margin), image.height),
          within(std::ceil(high.x() + margin), image.width),
          within(std::ceil(high.y() + margin), image.height)};
}

// How much of the line is in front of what was drawn before, over half a millimetre of depth.
float visible_share(const DepthMap& behind, int x, int y, double z_mm) {
  return static_cast<float>(std::clamp(2 * (z_mm - behind.at(x, y)) + 0.5, 0.0, 1.0));
}

// Cover of one pixel row by pixel row, for all segments together.
class CoverMask {
 public:
  explicit CoverMask(PixelRect area)
      : area_(area),
        cover_(static_cast<std::size_t>(std::max(0, area.width())) *
                   static_cast<std::size_t>(std::max(0, area.height())),
               0.0F) {}

  void add(const Vec3& from, const Vec3& to, const Stroke& stroke) {
    const double reach = 0.5 * stroke.width_px + 0.5;
    const Vec2 a = from.head<2>();
    const Vec2 along = to.head<2>() - a;
    const double per_length2 = 1 / std::max(along.squaredNorm(), 1e-12);
    const int top = std::max(area_.top, static_cast<int>(std::min(from.y(), to.y()) - reach));
    const int bottom =
        std::min(area_.bottom, static_cast<int>(std::max(from.y(), to.y()) + reach) + 1);
    const int left = std::max(area_.left, static_cast<int>(std::min(from.x(), to.x()) - reach));
    const int right =
        std::min(area_.right, static_cast<int>(std::max(from.x(), to.x()) + reach) + 1);
    for (int y = top; y < bottom; ++y) {
      for (int x = left; x < right; ++x) {
        const Vec2 here = Vec2(x + 0.5, y + 0.5) - a;
        const double part = std::clamp(here.dot(along) * per_length2, 0.0, 1.0);
        const double distance2 = (here - part * along).squaredNorm();
        if (distance2 >= reach * reach) continue;
        auto cover = static_cast<float>(std::min(reach - std::sqrt(distance2), 1.0));
        if (stroke.width_px < 1) cover *= static_cast<float>(stroke.width_px);
        if (stroke.behind != nullptr) {
          const double z = from.z() + part * (to.z() - from.z()) + stroke.lift_mm;
          cover *= visible_share(*stroke.behind, x, y, z);
        }
        float& most = cover_[index(x, y)];
        most = std::max(most, cover);
      }
    }
  }

  void lay_on(Image& image, const Stroke& stroke) const {
    for (int y = area_.top; y < area_.bottom; ++y) {
      for (int x = area_.left; x < area_.right; ++x) {
        const float cover = cover_[index(x, y)];
        if (cover > 0) image.blend(x, y, stroke.colour, cover * static_cast<float>(stroke.cover));
      }
    }
  }

 private:
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y - area_.top) * static_cast<std::size_t>(area_.width()) +
           static_cast<std::size_t>(x - area_.left);
  }
  PixelRect area_;
  std::vector<float> cover_;
};

}  // namespace

void draw_strokes(Image& image, std::span<const StrokePath> paths, const Stroke& stroke) {
  CoverMask mask(bounds_of(paths, 0.5 * stroke.width_px + 1, image));
  for (const StrokePath& path : paths) {
    for (std::size_t k = 1; k < path.size(); ++k) mask.add(path[k - 1], path[k], stroke);
  }
  mask.lay_on(image, stroke);
}

void draw_stroke(Image& image, const StrokePath& path, const Stroke& stroke) {
  draw_strokes(image, {&path, 1}, stroke);
}

std::vector<StrokePath> dashes(const StrokePath& path, double dash_px, double gap_px) {
  std::vector<StrokePath> out;
  double length = 0;
  for (std::size_t k = 1; k < path.size(); ++k) {
    length += (path[k] - path[k - 1]).head<2>().norm();
  }
  if (length <= 0) return out;
  const double n = std::max(1.0, std::round(length / (dash_px + gap_px)));
  const double period = length / n;
  const double on = period * dash_px / (dash_px + gap_px);
  double done = 0;
  for (std::size_t k = 1; k < path.size(); ++k) {
    const Vec3& a = path[k - 1];
    const Vec3& b = path[k];
    const double step = (b - a).head<2>().norm();
    if (step <= 0) continue;
    const auto at = [&](double s) -> Vec3 { return a + (b - a) * ((s - done) / step); };
    for (double start = std::floor(done / period) * period; start < done + step; start += period) {
      const double from = std::max(start, done);
      const double to = std::min(start + on, done + step);
      if (to <= from) continue;
      if (from > start && !out.empty()) {
        out.back().push_back(at(to));  // goes on from the segment before
      } else {
        out.push_back({at(from), at(to)});
      }
    }
    done += step;
  }
  return out;
}

StrokePath closed(StrokePath path) {
  if (!path.empty()) path.push_back(path.front());
  return path;
}

void draw_dot(Image& image, const Vec2& centre_px, double radius_px, Rgb colour) {
  const Vec3 centre(centre_px.x(), centre_px.y(), 0);
  draw_stroke(image, {centre, centre}, {.width_px = 2 * radius_px, .colour = colour});
}

}  // namespace rimload
