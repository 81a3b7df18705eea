#include "fit/scan_draw.hpp"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>

#include "fit_data.hpp"
#include "geometry/before_axis.hpp"
#include "geometry/normal_values.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

namespace {

using Index = Eigen::Index;

struct ScanDoubt {
  double length_mm = 0;
  double depth_low = 1;
  double depth_high = 1;
};

const ScanDoubt& scan_doubt() {
  static const ScanDoubt out = [] {
    const auto table = nlohmann::json::parse(data::uncertainty_json()).at("scan");
    return ScanDoubt{.length_mm = table.at("length_mm").at("value").get<double>(),
                     .depth_low = table.at("depth_factor").at("low").get<double>(),
                     .depth_high = table.at("depth_factor").at("high").get<double>()};
  }();
  return out;
}

// Where a standard normal value lies among all of them, 0 to 1.
double share_below(double normal) { return 0.5 * std::erfc(-normal / std::sqrt(2.0)); }

}  // namespace

ScanSampler::ScanSampler(FaceModel face, double residual_mm) : face_(std::move(face)) {
  const SkinMap skin(face_.landmarks);
  const auto n = static_cast<Index>(face_.landmarks.size());
  Eigen::MatrixXd covariance(n, n);
  for (Index i = 0; i < n; ++i) {
    const Vec3& a = face_.landmarks[static_cast<std::size_t>(i)].position_face;
    normals_.push_back(skin.normal(SkinMap::chart(a)));
    for (Index j = 0; j < n; ++j) {
      const Vec3& b = face_.landmarks[static_cast<std::size_t>(j)].position_face;
      const double apart = (a - b).norm() / scan_doubt().length_mm;
      covariance(i, j) = residual_mm * residual_mm * std::exp(-0.5 * apart * apart);
    }
  }
  // Pivoted: neighbours move so alike that the matrix is singular to rounding.
  const auto ldlt = covariance.ldlt();
  const Eigen::VectorXd root = ldlt.vectorD().cwiseMax(0).cwiseSqrt();
  const Eigen::MatrixXd lower = ldlt.matrixL();
  factor_ = ldlt.transpositionsP().transpose() * (lower * root.asDiagonal()).eval();
}

FaceModel ScanSampler::draw(unsigned seed) const {
  const auto n = static_cast<Index>(face_.landmarks.size());
  const Eigen::VectorXd normal = normal_values(n + 1, seed);
  const Eigen::VectorXd moved = factor_ * normal.head(n);
  const ScanDoubt& doubt = scan_doubt();
  const double depth_factor =
      doubt.depth_low * std::pow(doubt.depth_high / doubt.depth_low, share_below(normal[n]));
  FaceModel out = face_;
  for (std::size_t k = 0; k < out.landmarks.size(); ++k) {
    Landmark& landmark = out.landmarks[k];
    landmark.position_face += moved[static_cast<Index>(k)] * normals_[k];
    landmark.tissue_depth_mm *= depth_factor;
  }
  out.landmarks = before_the_axis(std::move(out.landmarks));
  return out;
}

std::string scan_draw_words(const Case& input) {
  if (!input.scan_residual_mm) return {};
  const ScanDoubt& doubt = scan_doubt();
  return fmt::format(
      "Draws move the scanned skin by its residual ({:.2f} mm RMS; smooth over {:g} mm, assumed) "
      "and "
      "its tissue depth, which no scan shows, by {:g} to {:g} (about one SD among adults).",
      *input.scan_residual_mm, doubt.length_mm, doubt.depth_low, doubt.depth_high);
}

}  // namespace rimload
