// The skin of a face as a radial map: every query is local, differentiable and of fixed cost.
#pragma once

#include <optional>
#include <span>

#include "geometry/bicubic_grid.hpp"
#include "geometry/landmark.hpp"
#include "geometry/vec.hpp"

namespace rimload {

/// Whether derivatives are wanted: without them a query costs about half.
enum class Slopes { with, without };

/// The point of the skin closest to a query, with what the engine needs of it.
struct SkinPoint {
  Vec2 uv = Vec2::Zero();            ///< chart coordinates (R0 theta, y) [mm]
  Vec3 foot = Vec3::Zero();          ///< on the skin, facial frame [mm]
  Vec3 normal = Vec3::UnitZ();       ///< outward unit normal at the foot
  double distance = 0;               ///< signed, positive outside the skin [mm]
  Vec3 gradient = Vec3::UnitZ();     ///< of the distance; the normal, unless deep in the skin
  Mat3 normal_slope = Mat3::Zero();  ///< how the normal turns with the query [1/mm]
  Mat23 duv_dx = Mat23::Zero();      ///< how the foot moves in the chart with the query
};

/// Skin as rho = r(R0 theta, y) about a vertical axis through (0, ., z0):
/// rho = hypot(x, z - z0), theta = atan2(x, z - z0), z0 = -92 mm, R0 = 92 mm.
///
/// r is a thin-plate spline through the landmarks, sampled on a grid and evaluated as an
/// interpolating cubic B-spline (C2). It can't hold overhangs (beneath the nose tip, the ears)
/// and is meaningless behind the ears.
class SkinMap {
 public:
  static constexpr double axis_z_mm = -92;
  static constexpr double chart_radius_mm = 92;

  /// Deeper queries have their foot drawn towards their own chart coordinates [mm].
  static constexpr double plain_depth_mm = 3;
  static constexpr double usual_half_width_mm = 150;

  struct Options {
    double smoothing_mm2 = 0.2;                  ///< of the thin-plate spline
    double spacing_mm = 1;                       ///< of the grid; 0.5 or more
    double half_width_mm = usual_half_width_mm;  ///< of the grid, arc to each side
  };

  /// Grid over the part of the chart that a mask can touch.
  /// @throws InputError when a landmark lies on the axis or behind it.
  SkinMap(std::span<const Landmark> landmarks, Options options);
  explicit SkinMap(std::span<const Landmark> landmarks) : SkinMap(landmarks, Options{}) {}
  /// A map from a sampled radius (a scan, or a test shape). [mm]
  explicit SkinMap(BicubicGrid<1> radius) : radius_(std::move(radius)) {}

  /// The usual grid for a spacing [mm]: 150 mm of arc to each side, or another half width, 74 mm up
  /// and 146 mm down, which holds the landmarks of a large face.
  [[nodiscard]] static GridFrame usual_frame(double spacing_mm,
                                             double half_width_mm = usual_half_width_mm);

  /// Point of the skin at chart coordinates, facial frame [mm].
  [[nodiscard]] Vec3 point(const Vec2& uv) const;
  /// Outward unit normal at chart coordinates.
  [[nodiscard]] Vec3 normal(const Vec2& uv) const;
  /// Chart coordinates (R0 theta, y) of any point of space off the axis [mm].
  [[nodiscard]] static Vec2 chart(const Vec3& point_face);

  /// Signed distance to first order, (rho - r)/|grad(rho - r)|: exact on the skin, cheap, and up
  /// to 1.7 mm wrong a few millimetres off folds. [mm]
  [[nodiscard]] double first_order_distance(const Vec3& point_face) const;

  /// The closest point of the skin by Newton's method on its two chart coordinates, from those of
  /// the query.
  ///
  /// Outside the skin and down to 3 mm beneath, it is the closest point (on
  /// folds, a local minimum). Deeper, a point can be as close to one flank of a ridge as to the
  /// other, and a foot that leaps from flank to flank would leave a mask without a balance. There
  /// the foot is drawn towards the query's own chart coordinates c: it minimises
  /// |x - X(uv)|^2 + lambda |uv - c|^2, lambda growing with depth, and the distance is that to the
  /// tangent plane at the foot. All of it changes smoothly with the query.
  [[nodiscard]] SkinPoint closest(const Vec3& point_face) const;
  /// The same for a query beneath the skin, nothing for one outside. Cheap when outside.
  /// @param guess where the search for the foot starts; the query's own chart coordinates if none
  [[nodiscard]] std::optional<SkinPoint> pressed(const Vec3& point_face,
                                                 const std::optional<Vec2>& guess = {}) const;
  /// The same for a query within a height of the skin or beneath it; it may give some that lie
  /// higher.
  [[nodiscard]] std::optional<SkinPoint> within(double height_mm, const Vec3& point_face,
                                                const std::optional<Vec2>& guess,
                                                Slopes slopes = Slopes::with) const;
  /// The same where a foot is known to be near: one look at the map when the guess is good.
  /// @pre the query is near the skin, beneath it by no more than `plain_depth_mm`
  [[nodiscard]] SkinPoint near(const Vec3& point_face, const Vec2& guess,
                               Slopes slopes = Slopes::with) const;

  [[nodiscard]] const GridFrame& frame() const { return radius_.frame(); }

 private:
  struct Patch;
  struct Draw;
  [[nodiscard]] Patch patch(const Vec2& uv) const;
  [[nodiscard]] Draw draw_at(const Vec3& query, const Vec2& own, double radius_there) const;
  [[nodiscard]] SkinPoint foot(const Vec3& point_face, const Draw& draw, const Vec2& guess,
                               Slopes slopes = Slopes::with) const;

  BicubicGrid<1> radius_;
};

/// Where the vertical line x, y = const. meets the front of the skin: z [mm], for laying out rims.
[[nodiscard]] double front_z(const SkinMap& skin, double x_mm, double y_mm);

}  // namespace rimload
