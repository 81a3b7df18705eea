#include "skin/section_mesh.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace rimload {

namespace {

// Heights above the bone of the grid's rows, a middle between any two borders.
std::vector<double> row_heights(const std::vector<SectionLayer>& layers) {
  std::vector<double> out{0};
  for (const SectionLayer& layer : layers) {
    assert(layer.thickness_mm > 0 && layer.rows > 0 && layer.row_ratio > 0);
    const double base = out.back();
    const double step = layer.rows > 1 ? std::pow(layer.row_ratio, -1.0 / (layer.rows - 1)) : 1.0;
    double sum = 0;
    for (int k = 0; k < layer.rows; ++k) sum += std::pow(step, k);
    double done = 0;
    for (int k = 0; k < layer.rows; ++k) {
      const double row = std::pow(step, k) / sum;
      out.push_back(base + layer.thickness_mm * (done + 0.5 * row));
      done += row;
      out.push_back(base + layer.thickness_mm * (k + 1 == layer.rows ? 1 : done));
    }
  }
  return out;
}

// A place along the outer face and a height above the bone, to a point of the plane.
Eigen::Vector2d point_at(double along, double height, double depth, const SectionBone& bone) {
  if (bone.radius_mm <= 0) return {along, height};
  const double outer = bone.radius_mm + depth;
  const double angle = std::clamp(along / outer, -bone.half_angle_rad, bone.half_angle_rad);
  const double straight = along - angle * outer;
  const Eigen::Vector2d normal(std::sin(angle), std::cos(angle));
  return (bone.radius_mm + height) * normal - Eigen::Vector2d(0, bone.radius_mm) +
         straight * Eigen::Vector2d(normal.y(), -normal.x());
}

// The places asked for, with a border where the ridge turns straight: the nearest inner border
// moves there, or a new one is put where the nearest is far.
std::vector<double> with_borders(std::vector<double> columns, double depth,
                                 const SectionBone& bone) {
  if (bone.radius_mm <= 0) return columns;
  for (const double turn : {-(bone.radius_mm + depth) * bone.half_angle_rad,
                            (bone.radius_mm + depth) * bone.half_angle_rad}) {
    if (turn <= columns.front() || turn >= columns.back()) continue;
    const auto right = std::upper_bound(columns.begin(), columns.end(), turn);
    const double cell = *right - *(right - 1);
    const bool left_is_near = turn - *(right - 1) < 0.2 * cell && right - 1 != columns.begin();
    const bool right_is_near = *right - turn < 0.2 * cell && right + 1 != columns.end();
    if (left_is_near) {
      *(right - 1) = turn;
    } else if (right_is_near) {
      *right = turn;
    } else {
      columns.insert(right, turn);
    }
  }
  return columns;
}

}  // namespace

QuadNodes SectionMesh::nodes_of(int element) const {
  QuadNodes out;
  const auto& numbers = elements[static_cast<std::size_t>(element)];
  for (int k = 0; k < 8; ++k) out.col(k) = nodes.col(numbers[static_cast<std::size_t>(k)]);
  return out;
}

std::array<int, 3> SectionMesh::outer_side(int column) const {
  const auto& numbers = elements[static_cast<std::size_t>(element_at(column, n_rows - 1))];
  return {numbers[3], numbers[6], numbers[2]};
}

std::array<int, 3> SectionMesh::bone_side(int column) const {
  const auto& numbers = elements[static_cast<std::size_t>(element_at(column, 0))];
  return {numbers[0], numbers[4], numbers[1]};
}

EdgeNodes SectionMesh::positions_of(const std::array<int, 3>& side) const {
  EdgeNodes out;
  for (int k = 0; k < 3; ++k) out.col(k) = nodes.col(side[static_cast<std::size_t>(k)]);
  return out;
}

SectionMesh make_section_mesh(const SectionPlan& plan) {
  assert(!plan.layers.empty() && plan.columns_mm.size() >= 3);
  assert(plan.bone.radius_mm <= 0 || (plan.bone.half_angle_rad > 0 &&
                                      plan.bone.half_angle_rad <= 0.5 * std::numbers::pi + 1e-12));
  const std::vector<double> heights = row_heights(plan.layers);
  const double depth = heights.back();
  SectionMesh mesh;
  mesh.columns_mm = with_borders(plan.columns_mm, depth, plan.bone);
  const int n_columns = mesh.n_columns();
  const int last_height = static_cast<int>(heights.size()) - 1;
  mesh.n_rows = last_height / 2;

  // Nodes grid line by grid line: lines through middles have borders of rows only.
  const int n_nodes = (n_columns + 1) * (last_height + 1) + n_columns * (mesh.n_rows + 1);
  mesh.nodes.resize(2, n_nodes);
  mesh.fixed.assign(static_cast<std::size_t>(n_nodes), false);
  const int per_column = last_height + 1 + mesh.n_rows + 1;
  const auto number = [&](int line, int level) {
    return line % 2 == 0 ? line / 2 * per_column + level
                         : line / 2 * per_column + last_height + 1 + level / 2;
  };
  for (int line = 0; line <= 2 * n_columns; ++line) {
    const auto left = static_cast<std::size_t>(line / 2);
    const double along = line % 2 == 0 ? mesh.columns_mm[left]
                                       : 0.5 * (mesh.columns_mm[left] + mesh.columns_mm[left + 1]);
    for (int level = 0; level <= last_height; level += 1 + line % 2) {
      const int node = number(line, level);
      mesh.nodes.col(node) =
          point_at(along, heights[static_cast<std::size_t>(level)], depth, plan.bone);
      mesh.fixed[static_cast<std::size_t>(node)] = level == 0 || line == 0 || line == 2 * n_columns;
    }
  }
  for (int column = 0; column < n_columns; ++column) {
    int row = 0;
    for (std::size_t layer = 0; layer < plan.layers.size(); ++layer) {
      for (int k = 0; k < plan.layers[layer].rows; ++k, ++row) {
        const int l = 2 * column;
        const int y = 2 * row;
        mesh.elements.push_back({number(l, y), number(l + 2, y), number(l + 2, y + 2),
                                 number(l, y + 2), number(l + 1, y), number(l + 2, y + 1),
                                 number(l + 1, y + 2), number(l, y + 1)});
        mesh.layer_of_element.push_back(static_cast<int>(layer));
      }
    }
  }
  return mesh;
}

std::vector<double> spread_columns(const ColumnSpread& spread) {
  assert(spread.half_width_mm > 0 && spread.fine > 0 && spread.growth > 1 && spread.reach_mm > 0);
  const double cell = 2 * spread.half_width_mm / spread.fine;
  int n = 1;
  double sum = spread.growth;
  for (; sum * cell < spread.reach_mm; ++n) sum = spread.growth * (1 + sum);
  // Of the widths growth, growth^2, ... in cells, all are shrunk alike to end at the reach.
  std::vector<double> outer;
  double place = 0;
  for (int k = 0; k < n; ++k) {
    place += std::pow(spread.growth, k + 1);
    outer.push_back(spread.half_width_mm + spread.reach_mm * place / sum);
  }
  std::vector<double> out(outer.rbegin(), outer.rend());
  for (double& at : out) at = -at;
  for (int k = 0; k <= spread.fine; ++k) {
    out.push_back(-spread.half_width_mm + 2 * spread.half_width_mm * k / spread.fine);
  }
  out.insert(out.end(), outer.begin(), outer.end());
  return out;
}

}  // namespace rimload
