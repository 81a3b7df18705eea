#include "skin/section_calibration.hpp"

#include <algorithm>
#include <vector>

#include "skin/section_contact.hpp"
#include "skin/section_strain.hpp"

namespace rimload {

namespace {

constexpr double columns_per_half = 60;
constexpr double column_growth = 1.35;
constexpr double reach = 15;

// Places from the middle outwards, finest at the strip's edge.
std::vector<double> half_of_columns(double edge) {
  std::vector<double> inner;  // distances from the edge
  double step = edge / columns_per_half;
  double place = 0;
  for (; place + step < edge; step = std::min(step * column_growth, edge / 6)) {
    place += step;
    inner.push_back(place);
  }
  const double stretch = edge / (place + step);
  std::reverse(inner.begin(), inner.end());
  std::vector<double> out{0};
  for (const double distance : inner) out.push_back(edge - stretch * distance);
  out.push_back(edge);
  step = edge / columns_per_half;
  for (place = 0; place < reach; step = std::min(step * column_growth, 0.5 * (1 + place))) {
    place += step;
    out.push_back(edge + place);
  }
  return out;
}

}  // namespace

ColumnStiffness column_stiffness(const ColumnQuestion& question) {
  const double edge = question.width_over_depth / 2;
  const std::vector<double> half = half_of_columns(edge);
  SectionPlan plan;
  plan.layers = {{1, 1, question.poisson, 16, std::max(2.0, 0.25 * columns_per_half / edge)}};
  plan.bone = {question.radius_over_depth, question.half_angle_rad};
  plan.columns_mm.assign(half.rbegin(), half.rend());
  for (double& place : plan.columns_mm) place = -place;
  plan.columns_mm.insert(plan.columns_mm.end(), half.begin() + 1, half.end());
  const SectionBody body(plan);
  const Eigen::VectorXd moved = body.solve(body.force_of(std::vector{FaceLoad{-edge, edge, 1, 0}}));
  const std::vector<double>& columns = body.mesh().columns_mm;
  const auto border = [&](double place) {
    const auto at = std::lower_bound(columns.begin(), columns.end(), place - 1e-9 * edge);
    return static_cast<int>(at - columns.begin());
  };
  ColumnStiffness out;
  out.strip = 1 / body.mean_sinking(moved, border(-edge), border(edge));
  for (const BoneStress& stress : bone_stresses(body, section_points(body, moved))) {
    out.bone_over_face = std::max(out.bone_over_face, stress.pressure);
  }
  if (question.radius_over_depth <= 0) {
    const LipContact punch = press_lip(body, {.width_mm = 2 * edge}, 2 * edge);
    if (punch.settled) out.punch = 1 / punch.approach_mm;
  }
  return out;
}

}  // namespace rimload
