#include "skin/section.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "material/layer_modulus.hpp"
#include "skin_data.hpp"

namespace rimload {

namespace {

constexpr int fat_layer = 0;
constexpr int skin_layer = 1;
constexpr int dressing_layer = 2;
constexpr int fat_rows = 5;
constexpr double fat_row_ratio = 2;
constexpr int skin_rows = 2;
constexpr int dressing_rows = 2;
constexpr double reach_in_depths = 5;  // beyond the load to the far sides

std::vector<SectionLayer> layers_of(const SectionSetting& setting) {
  const TissueLayers& tissue = setting.layers;
  const int n = setting.fineness;
  std::vector<SectionLayer> out{
      {tissue.fat_mm, tissue.fat_youngs_n_mm2, setting.poisson, n * fat_rows, fat_row_ratio},
      {tissue.skin_mm, tissue.skin_youngs_n_mm2, setting.poisson, n * skin_rows}};
  const SectionDressing& dressing = setting.dressing;
  if (dressing.thickness_mm > 0) {
    out.push_back(
        {dressing.thickness_mm, dressing.youngs_n_mm2, dressing.poisson, n * dressing_rows});
  }
  return out;
}

SectionPlan plan_of(const SectionSetting& setting) {
  SectionPlan plan;
  plan.layers = layers_of(setting);
  double depth = 0;
  for (const SectionLayer& layer : plan.layers) depth += layer.thickness_mm;
  plan.bone = {setting.bone_radius_mm, section_defaults().ridge_half_angle_rad};
  plan.columns_mm = spread_columns({.half_width_mm = setting.half_width_mm,
                                    .fine = setting.fineness * setting.fine_columns,
                                    .reach_mm = reach_in_depths * depth,
                                    .growth = std::pow(1.5, 1.0 / setting.fineness)});
  return plan;
}

// Pressure on the upper side of a layer, by column.
std::vector<double> pressure_on(int layer, const SectionBody& body,
                                std::span<const SectionPoint> points) {
  const SectionMesh& mesh = body.mesh();
  int row = 0;
  for (int k = 0; k <= layer; ++k) row += body.layers()[static_cast<std::size_t>(k)].rows;
  std::vector<double> out;
  for (int column = 0; column < mesh.n_columns(); ++column) {
    const int element = mesh.element_at(column, row - 1);
    // Node 6 is the middle of the upper side.
    Eigen::Vector4d stress = Eigen::Vector4d::Zero();
    for (int k = 0; k < 4; ++k) {
      stress +=
          quad_extrapolation()(6, k) * points[static_cast<std::size_t>(4 * element + k)].at.stress;
    }
    const QuadNodes nodes = mesh.nodes_of(element);
    const Eigen::Vector2d along = (nodes.col(2) - nodes.col(3)).normalized();
    const double nx = -along.y();
    const double ny = along.x();
    out.push_back(-(stress[0] * nx * nx + stress[1] * ny * ny + 2 * stress[2] * nx * ny));
  }
  return out;
}

}  // namespace

const SectionDefaults& section_defaults() {
  static const SectionDefaults defaults = [] {
    const auto json = nlohmann::json::parse(data::section_tissue_json());
    const auto value = [&](const char* key) { return json.at(key).at("value").get<double>(); };
    SectionDefaults out;
    out.skin_thickness_mm = value("skin_thickness_mm");
    out.skin_share_at_most = value("skin_share_at_most");
    out.skin_over_fat_modulus = value("skin_over_fat_modulus");
    out.ridge_half_angle_rad = value("ridge_half_angle_deg") * std::numbers::pi / 180;
    out.small_strain_limit = value("small_strain_limit");
    return out;
  }();
  return defaults;
}

TissueLayers part_layers(const SectionTissue& tissue, double contact_width_mm) {
  const SectionDefaults& defaults = section_defaults();
  const double h = tissue.depth_mm;
  TissueLayers out;
  out.skin_mm = std::min(defaults.skin_thickness_mm, defaults.skin_share_at_most * h);
  out.fat_mm = h - out.skin_mm;
  out.fat_youngs_n_mm2 = 1;
  out.skin_youngs_n_mm2 = defaults.skin_over_fat_modulus;
  // With fat of modulus 1 under pressure 1: what is left is to scale.
  const double half = contact_width_mm / 2;
  const SectionBody body(plan_of(
      {.layers = out, .poisson = tissue.poisson, .half_width_mm = half, .fine_columns = 12}));
  const std::vector<double>& columns = body.mesh().columns_mm;
  const int first = static_cast<int>(
      std::lower_bound(columns.begin(), columns.end(), -half * (1 + 1e-9)) - columns.begin());
  const std::vector<FaceLoad> strip{{-half, half, 1, 0}};
  const double sinking = body.mean_sinking(body.solve(body.force_of(strip)), first, first + 12);
  const double modulus = tissue.youngs_n_mm2 * layer_modulus(contact_width_mm / h, tissue.poisson);
  out.fat_youngs_n_mm2 = sinking * modulus / h;
  out.skin_youngs_n_mm2 *= out.fat_youngs_n_mm2;
  return out;
}

double area_above(std::span<const SectionPoint> points, double compression) {
  double area = 0;
  for (const SectionPoint& point : points) {
    if (point.layer != dressing_layer && point.at.compression() > compression) {
      area += point.area_mm2;
    }
  }
  return area;
}

Section::Section(const SectionSetting& setting)
    : depth_mm_(setting.layers.fat_mm + setting.layers.skin_mm +
                std::max(0.0, setting.dressing.thickness_mm)),
      dressed_(setting.dressing.thickness_mm > 0),
      body_(plan_of(setting)) {}

SectionAnswer Section::under(std::span<const FaceLoad> loads) const {
  const std::vector<double>& columns = body_.mesh().columns_mm;
  std::vector<double> pressure(columns.size() - 1, 0.0);
  for (std::size_t k = 0; k + 1 < columns.size(); ++k) {
    for (const FaceLoad& load : loads) {
      const double shared =
          std::min(columns[k + 1], load.to_mm) - std::max(columns[k], load.from_mm);
      if (shared > 0) pressure[k] += load.pressure * shared / (columns[k + 1] - columns[k]);
    }
  }
  return answer(body_.solve(body_.force_of(loads)), std::move(pressure));
}

std::optional<SectionAnswer> Section::under(const SectionLip& lip, double line_force_n_mm) const {
  LipContact contact = press_lip(body_, lip, line_force_n_mm);
  if (!contact.settled) return std::nullopt;
  return answer(contact.displacement, std::move(contact.pressure));
}

SectionAnswer Section::answer(const Eigen::VectorXd& displacement,
                              std::vector<double> pressure) const {
  SectionAnswer out;
  out.columns_mm = body_.mesh().columns_mm;
  out.points = section_points(body_, displacement);
  out.field = section_field(body_, displacement, out.points);
  out.bone = bone_stresses(body_, out.points);
  for (const SectionPoint& point : out.points) {
    LayerPeaks& peaks = point.layer == fat_layer    ? out.fat
                        : point.layer == skin_layer ? out.skin
                                                    : out.dressing;
    peaks.compression = std::max(peaks.compression, point.at.compression());
    peaks.shear = std::max(peaks.shear, point.at.shear());
    peaks.von_mises = std::max(peaks.von_mises, point.at.von_mises());
  }
  for (const BoneStress& stress : out.bone) {
    out.bone_pressure_peak = std::max(out.bone_pressure_peak, stress.pressure);
    out.bone_shear_peak = std::max(out.bone_shear_peak, std::abs(stress.shear));
  }
  double loaded = 0;
  for (std::size_t k = 0; k < pressure.size(); ++k) {
    out.face_pressure_peak = std::max(out.face_pressure_peak, pressure[k]);
    if (pressure[k] <= 0) continue;
    const int column = static_cast<int>(k);
    const double width = body_.side_length(column);
    out.mean_sinking_mm += width * body_.mean_sinking(displacement, column, column + 1);
    loaded += width;
  }
  if (loaded > 0) out.mean_sinking_mm /= loaded;
  out.skin_pressure = dressed_ ? pressure_on(skin_layer, body_, out.points) : pressure;
  out.skin_pressure_peak = *std::max_element(out.skin_pressure.begin(), out.skin_pressure.end());
  out.face_pressure = std::move(pressure);
  out.column_strain = out.mean_sinking_mm / depth_mm_;
  const double e = std::min(out.column_strain, 0.95);
  if (e > 0) out.stiffening_left_out = -std::log1p(-e) / e - 1;
  out.beyond_small_strain =
      std::max(out.fat.compression, out.skin.compression) > section_defaults().small_strain_limit;
  return out;
}

std::optional<SectionAnswer> station_section(const SectionTissue& tissue,
                                             std::span<const StationSample> samples,
                                             const SectionDressing& dressing) {
  std::vector<FaceLoad> loads;
  double width = 0;
  for (const StationSample& sample : samples) {
    if (sample.pressure <= 0 && sample.shear == 0) continue;
    assert(sample.width_mm > 0);
    loads.push_back({sample.across_mm - sample.width_mm / 2, sample.across_mm + sample.width_mm / 2,
                     sample.pressure, sample.shear});
    width += sample.width_mm;
  }
  if (loads.empty()) return std::nullopt;
  // The finely meshed part is centred on the load.
  double left = loads.front().from_mm;
  double right = loads.front().to_mm;
  for (const FaceLoad& load : loads) {
    left = std::min(left, load.from_mm);
    right = std::max(right, load.to_mm);
  }
  return Section({.layers = part_layers(tissue, width),
                  .poisson = tissue.poisson,
                  .bone_radius_mm = tissue.bone_radius_mm,
                  .dressing = dressing,
                  .half_width_mm = std::max(std::abs(left), std::abs(right))})
      .under(loads);
}

}  // namespace rimload
