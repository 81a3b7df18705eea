// Contact pressure spread over the skin between the samples.
#pragma once

#include <vector>

#include "report/scene.hpp"

namespace rimload {

struct FieldPicture;

/// Pressure as a picture in chart coordinates.
///
/// Between samples it is bilinear over the grid of stations and places across; half a cell beyond
/// the outermost samples it ends. Each sample counts at the foot of its perpendicular on the skin.
class PressureField {
 public:
  struct Value {
    float mmhg = 0;   ///< contact pressure
    float cover = 0;  ///< 1 under rim or pad, 0 beside it
    float open = 0;   ///< 1 where gas can pass
  };

  static constexpr double fine_texel_mm = 0.4;
  explicit PressureField(const Scene& scene, double texel_mm = fine_texel_mm);

  /// @param u, v chart coordinates [mm]
  [[nodiscard]] Value at(float u, float v) const;
  /// Whether anything of the field is within about five texels; may say yes a little farther away.
  [[nodiscard]] bool is_near(float u, float v) const;
  /// Its texels as they are.
  [[nodiscard]] FieldPicture picture() const;

 private:
  struct Node {
    Vec2 uv = Vec2::Zero();
    double mmhg = 0;
    double cover = 0;
    double open = 0;
  };
  using Row = std::vector<Node>;
  struct Texel {
    float weight = 0;
    Value value;
  };
  void spread(const Row& one, const Row& next);
  void add(const Node& node);
  void mark_near();

  double texel_mm_ = fine_texel_mm;
  float u0_ = 0;
  float v0_ = 0;
  int n_u_ = 0;
  int n_v_ = 0;
  std::vector<Texel> texels_;
  std::vector<char> near_;  ///< squares of a few texels, whether anything is in or beside them
};

/// Texels over the chart, rows along u.
struct FieldPicture {
  int n_u = 0;
  int n_v = 0;
  double u0_mm = 0;  ///< chart coordinates of the first texel
  double v0_mm = 0;
  double texel_mm = 0;
  std::vector<PressureField::Value> texels;
};

}  // namespace rimload
