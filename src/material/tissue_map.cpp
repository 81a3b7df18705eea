#include "material/tissue_map.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "material_data.hpp"
#include "units/error.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr double spacing_mm = 2;
constexpr double nearness_mm = 2;

struct Stiffness {
  double youngs_n_mm2;
  double backing_mm3_n;
};

std::map<std::string, Stiffness, std::less<>> read_table() {
  std::map<std::string, Stiffness, std::less<>> table;
  const auto json = nlohmann::json::parse(data::tissue_stiffness_json());
  for (const auto& region : json.at("regions")) {
    const Stiffness value{units::from_kpa(region.at("youngs_kPa").get<double>()),
                          region.at("backing_mm_per_kPa").get<double>() / units::kpa};
    for (const auto& name : region.at("landmarks")) table.emplace(name.get<std::string>(), value);
  }
  return table;
}

Stiffness stiffness_of(const std::string& landmark) {
  static const auto table = read_table();
  const auto found = table.find(landmark);
  if (found == table.end()) {
    throw InputError("", "/landmarks",
                     "no tissue stiffness is known at landmark '" + landmark + "'");
  }
  return found->second;
}

}  // namespace

TissueMap::TissueMap(const SkinMap& skin, std::span<const Landmark> landmarks) {
  using Fields = BicubicGrid<4>::Values;
  Eigen::Matrix3Xd positions(3, static_cast<Eigen::Index>(landmarks.size()));
  Eigen::Matrix4Xd values(4, positions.cols());
  for (Eigen::Index k = 0; k < positions.cols(); ++k) {
    const Landmark& landmark = landmarks[static_cast<std::size_t>(k)];
    const Stiffness stiffness = stiffness_of(landmark.name);
    positions.col(k) = landmark.position_face;
    values.col(k) << landmark.tissue_depth_mm, stiffness.youngs_n_mm2, stiffness.backing_mm3_n, 0;
  }
  const double half_width_mm = std::min(SkinMap::usual_half_width_mm, -skin.frame().u0_mm);
  const GridFrame frame = SkinMap::usual_frame(spacing_mm, half_width_mm);
  std::vector<Fields> nodes;
  nodes.reserve(static_cast<std::size_t>(frame.n_u) * static_cast<std::size_t>(frame.n_v));
  Eigen::ArrayXd weight(positions.cols());
  for (int j = 0; j < frame.n_v; ++j) {
    for (int i = 0; i < frame.n_u; ++i) {
      const Vec3 here = skin.point({frame.u_at(i), frame.v_at(j)});
      weight = ((positions.colwise() - here).colwise().squaredNorm().transpose().array() +
                nearness_mm * nearness_mm)
                   .square()
                   .inverse();
      nodes.emplace_back((values * (weight / weight.sum()).matrix()).array());
    }
  }
  fields_ = BicubicGrid<4>(frame, std::move(nodes), BicubicGrid<4>::Kind::approximating);
}

TissueMap TissueMap::uniform(const TissuePoint& values) {
  using Fields = BicubicGrid<4>::Values;
  constexpr int n = 4;  // the smallest grid there is
  const GridFrame frame{.u0_mm = 0, .v0_mm = 0, .spacing_mm = 1, .n_u = n, .n_v = n};
  const Fields fields(values.depth_mm, values.youngs_n_mm2, values.backing_mm3_n, 0);
  TissueMap out;
  out.fields_ = BicubicGrid<4>(frame, std::vector<Fields>(std::size_t{n * n}, fields),
                               BicubicGrid<4>::Kind::approximating);
  return out;
}

TissueMap TissueMap::stiffened(double factor) const {
  TissueMap out = *this;
  out.stiffness_factor_ *= factor;
  return out;
}

TissuePoint TissueMap::at(const Vec2& uv, Slopes slopes) const {
  if (slopes == Slopes::without) {
    const BicubicGrid<4>::Values value = fields_.value_at(uv[0], uv[1]);
    return {.depth_mm = value[0],
            .youngs_n_mm2 = stiffness_factor_ * value[1],
            .backing_mm3_n = value[2]};
  }
  const FieldSlopes<4> f = fields_.first_order_at(uv[0], uv[1]);
  TissuePoint out;
  out.depth_mm = f.value[0];
  out.youngs_n_mm2 = stiffness_factor_ * f.value[1];
  out.backing_mm3_n = f.value[2];
  out.depth_slope = {f.du[0], f.dv[0]};
  out.youngs_slope = stiffness_factor_ * Vec2(f.du[1], f.dv[1]);
  out.backing_slope = {f.du[2], f.dv[2]};
  return out;
}

}  // namespace rimload
