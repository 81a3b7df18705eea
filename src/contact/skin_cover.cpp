#include "contact/skin_cover.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "material/tissue_law.hpp"

namespace rimload {

namespace {

struct ChartBox {
  Vec2 low = Vec2::Constant(std::numeric_limits<double>::infinity());
  Vec2 high = -low;

  [[nodiscard]] bool holds(const Vec2& uv) const {
    return (uv.array() >= low.array()).all() && (uv.array() <= high.array()).all();
  }

  void hold(const Vec2& uv) {
    low = low.cwiseMin(uv);
    high = high.cwiseMax(uv);
  }
};

// An outline, ready to tell how far inside it a point of the skin lies.
class Outline {
 public:
  explicit Outline(std::span<const Vec3> corners) : corners_(corners.begin(), corners.end()) {
    for (const Vec3& corner : corners_) {
      chart_.push_back(SkinMap::chart(corner));
      box_.hold(chart_.back());
    }
  }
  [[nodiscard]] const std::vector<Vec2>& chart() const { return chart_; }

  // Distance in space from the border, 0 outside. [mm]
  [[nodiscard]] double depth_inside(const Vec2& uv, const Vec3& point) const {
    if (!box_.holds(uv)) return 0;
    bool inside = false;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0, before = corners_.size() - 1; k < corners_.size(); before = k++) {
      const Vec2& a = chart_[before];
      const Vec2& b = chart_[k];
      if ((a[1] > uv[1]) != (b[1] > uv[1]) &&
          uv[0] < a[0] + (b[0] - a[0]) * (uv[1] - a[1]) / (b[1] - a[1])) {
        inside = !inside;
      }
      const Vec3 side = corners_[k] - corners_[before];
      const double length = side.squaredNorm();
      const Vec3 arm = point - corners_[before];
      const double along = length > 0 ? std::clamp(arm.dot(side) / length, 0.0, 1.0) : 0.0;
      least = std::min(least, (arm - along * side).norm());
    }
    return inside ? least : 0;
  }

 private:
  std::vector<Vec3> corners_;
  std::vector<Vec2> chart_;
  ChartBox box_;
};

}  // namespace

SkinCover::SkinCover(const SkinMap& skin, std::span<const CoverPatch> patches,
                     double bare_friction) {
  if (patches.empty()) return;
  ChartBox box;
  std::vector<std::vector<Outline>> outlines;
  for (const CoverPatch& patch : patches) {
    assert(patch.compressive_n_mm2 > 0 && patch.shear_n_mm2 > 0);
    outlines.emplace_back();
    for (const std::vector<Vec3>& outline : patch.outlines) {
      assert(outline.size() >= 3);
      outlines.back().emplace_back(outline);
      for (const Vec2& corner : outlines.back().back().chart()) box.hold(corner);
    }
  }
  // The spline reaches two nodes past what it is made of.
  constexpr double spacing_mm = 1;
  constexpr double border_mm = 3;
  const Vec2 size = box.high - box.low;
  const auto n_nodes = [&](double length) {
    return static_cast<int>(std::ceil((length + 2 * border_mm) / spacing_mm)) + 1;
  };
  const GridFrame frame{.u0_mm = box.low[0] - border_mm,
                        .v0_mm = box.low[1] - border_mm,
                        .spacing_mm = spacing_mm,
                        .n_u = n_nodes(size[0]),
                        .n_v = n_nodes(size[1])};
  std::vector<BicubicGrid<4>::Values> nodes;
  nodes.reserve(static_cast<std::size_t>(frame.n_u) * static_cast<std::size_t>(frame.n_v));
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      const Vec2 uv(frame.u_at(i), frame.v_at(j));
      const Vec3 point = skin.point(uv);
      BicubicGrid<4>::Values node = BicubicGrid<4>::Values::Zero();
      for (std::size_t k = 0; k < patches.size(); ++k) {
        const CoverPatch& patch = patches[k];
        double inside = 0;
        for (const Outline& outline : outlines[k]) {
          inside = std::max(inside, outline.depth_inside(uv, point));
        }
        const double share = smooth_switch(inside / bevel_mm).value;
        const double thickness = share * patch.thickness_mm;
        node[0] += thickness;
        node[1] += thickness / patch.compressive_n_mm2;
        node[2] += thickness / patch.shear_n_mm2;
        node[3] += share * (patch.friction - bare_friction - node[3]);
      }
      greatest_thickness_mm_ = std::max(greatest_thickness_mm_, node[0]);
      nodes.push_back(node);
    }
  }
  fields_.emplace(frame, std::move(nodes), BicubicGrid<4>::Kind::approximating);
}

SkinCover SkinCover::raised_by(double raise_mm) const {
  SkinCover out = *this;
  out.raise_mm_ += raise_mm;
  return out;
}

CoverPoint SkinCover::at(const Vec2& uv) const {
  CoverPoint out;
  out.raise_mm = raise_mm_;
  if (!fields_) return out;
  const FieldSlopes<4> here = fields_->first_order_at(uv[0], uv[1]);
  out.thickness_mm = here.value[0];
  out.compliance_mm3_n = here.value[1];
  out.shear_compliance_mm3_n = here.value[2];
  out.friction_change = here.value[3];
  out.thickness_slope = {here.du[0], here.dv[0]};
  out.compliance_slope = {here.du[1], here.dv[1]};
  out.shear_compliance_slope = {here.du[2], here.dv[2]};
  out.friction_slope = {here.du[3], here.dv[3]};
  return out;
}

SkinPoint on_top(SkinPoint skin, const CoverPoint& cover) {
  skin.distance -= cover.height_mm();
  skin.gradient -= skin.duv_dx.transpose() * cover.thickness_slope;
  return skin;
}

}  // namespace rimload
