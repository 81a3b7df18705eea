#include "contact/traction.hpp"

#include <cmath>

namespace rimload {

namespace {

struct Normal {
  ColumnPressure column;
  Vec3 by_position = Vec3::Zero();
  double by_width = 0;
};

Normal normal_pressure(const SkinPoint& skin, const TissuePoint& tissue, const SampleLaw& law,
                       Slopes slopes) {
  const CoverPoint& cover = law.cover;
  const double h = tissue.depth_mm + cover.raise_mm;
  const double width =
      std::sqrt(law.contact_width_mm * law.contact_width_mm + least_width_mm * least_width_mm);
  const LayerModulus::Value ratio = law.modulus->at(width / h);
  const TissueColumn column{.indentation_mm = -skin.distance,
                            .depth_mm = h,
                            .modulus_n_mm2 = tissue.youngs_n_mm2 * ratio.ratio,
                            .compliance_mm3_n = tissue.backing_mm3_n + law.pad_compliance_mm3_n,
                            .layer_mm = cover.thickness_mm,
                            .layer_compliance_mm3_n = cover.compliance_mm3_n};
  Normal out;
  out.column = column_pressure(column, law.blend_mm);
  if (slopes == Slopes::without) return out;
  const ColumnPressure& p = out.column;
  const double by_log_width = p.by_modulus * tissue.youngs_n_mm2 * ratio.by_log_width;
  const Vec2 by_chart =
      (p.by_depth - by_log_width / h) * tissue.depth_slope +
      p.by_modulus * ratio.ratio * tissue.youngs_slope + p.by_compliance * tissue.backing_slope +
      p.by_layer * cover.thickness_slope + p.by_layer_compliance * cover.compliance_slope;
  out.by_position = -p.by_indentation * skin.gradient + skin.duv_dx.transpose() * by_chart;
  out.by_width = by_log_width * law.contact_width_mm / (width * width);
  return out;
}

}  // namespace

Traction skin_traction(const SkinPoint& skin, const TissuePoint& tissue, const Vec3& displacement,
                       const SampleLaw& law, Slopes slopes) {
  Traction out;
  if (skin.distance >= 0) return out;
  const Normal normal = normal_pressure(skin, tissue, law, slopes);
  const double p = normal.column.pressure;
  const Vec3& n = skin.normal;
  out.pressure = p;
  out.force = p * n;
  if (slopes == Slopes::with) {
    out.by_position = n * normal.by_position.transpose() + p * skin.normal_slope;
    out.by_width = normal.by_width * n;
  }

  const SlipLaw& slip = law.slip;
  const double mu = slip.mu + law.cover.friction_change;
  const double cap = mu * p;
  if (cap <= 0) return out;
  // Tangential stiffness of skin (G/h), dressing and lip in series.
  const double shear_modulus = tissue.youngs_n_mm2 / (2 * (1 + law.modulus->poisson()));
  const double skin_part = (tissue.depth_mm + law.cover.raise_mm) / shear_modulus;
  const double kt =
      1 / (skin_part + law.cover.shear_compliance_mm3_n + 1 / slip.layer_stiffness_n_mm3);
  const double along_normal = n.dot(displacement);
  const Vec3 s = displacement - along_normal * n;
  const double inverse_root = 1 / std::sqrt(cap * cap + kt * kt * s.squaredNorm());
  const double kt_part = kt * inverse_root;
  const double cap_part = cap * inverse_root;
  const double beta = kt * cap_part;
  out.shear = -beta * s;
  out.force += out.shear;
  if (slopes == Slopes::without) return out;

  const Vec2 part_slope = tissue.depth_slope / shear_modulus -
                          skin_part / tissue.youngs_n_mm2 * tissue.youngs_slope +
                          law.cover.shear_compliance_slope;
  const Vec3 kt_slope = skin.duv_dx.transpose() * (-kt * kt * part_slope);
  const Mat3 s_slope = Mat3::Identity() - along_normal * skin.normal_slope -
                       n * (n + skin.normal_slope.transpose() * displacement).transpose();
  const double beta_by_kt = cap_part * cap_part * cap_part;
  const double beta_by_cap = kt_part * kt_part * kt_part * s.squaredNorm();
  const double beta_by_square = -0.5 * kt_part * kt_part * kt_part * cap;
  Vec3 beta_slope = beta_by_kt * kt_slope + beta_by_square * 2 * (s_slope.transpose() * s);
  beta_slope += beta_by_cap * (mu * normal.by_position +
                               p * (skin.duv_dx.transpose() * law.cover.friction_slope));
  out.by_width -= beta_by_cap * mu * normal.by_width * s;
  out.by_position -= beta * s_slope + s * beta_slope.transpose();
  return out;
}

}  // namespace rimload
