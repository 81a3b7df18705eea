#include "skin/layered_waves.hpp"

#include <Eigen/Dense>
#include <array>
#include <cmath>
#include <numbers>

namespace rimload {

namespace {

Eigen::Matrix4d exponential(const Eigen::Matrix4d& a) {
  Eigen::Matrix4d sum = Eigen::Matrix4d::Identity();
  Eigen::Matrix4d term = sum;
  for (int n = 1; n < 24; ++n) {
    term = term * a / n;
    sum += term;
  }
  return sum;
}

}  // namespace

double wave_sinking(std::span<const SectionLayer> layers, double wave_number) {
  const double k = wave_number;
  const double scale = layers.front().youngs_n_mm2;  // stresses counted in it
  Eigen::Matrix2d compliance = Eigen::Matrix2d::Zero();
  for (const SectionLayer& layer : layers) {
    const PlaneStrainLaw law = PlaneStrainLaw::of(layer.youngs_n_mm2 / scale, layer.poisson);
    const double stiff = law.lambda + 2 * law.shear;
    Eigen::Matrix4d a;
    a << 0, k, 0, 1 / law.shear,                   //
        -law.lambda * k / stiff, 0, 1 / stiff, 0,  //
        0, 0, 0, -k,                               //
        k * k * (stiff - law.lambda * law.lambda / stiff), 0, k * law.lambda / stiff, 0;
    const int steps = 1 + static_cast<int>(4 * k * layer.thickness_mm);
    const Eigen::Matrix4d p = exponential(a * (layer.thickness_mm / steps));
    for (int step = 0; step < steps; ++step) {
      const Eigen::Matrix2d moved = p.topLeftCorner<2, 2>() * compliance + p.topRightCorner<2, 2>();
      const Eigen::Matrix2d stress =
          p.bottomLeftCorner<2, 2>() * compliance + p.bottomRightCorner<2, 2>();
      compliance = moved * stress.inverse();
    }
  }
  return compliance(1, 0) / scale;
}

double wave_integral(std::span<const SectionLayer> layers, double last, int panels,
                     const std::function<double(double)>& factor) {
  constexpr std::array node{-0.7745966692414834, 0.0, 0.7745966692414834};
  constexpr std::array weight{5.0 / 9, 8.0 / 9, 5.0 / 9};
  const double half = 0.5 * last / panels;
  double sum = 0;
  for (int panel = 0; panel < panels; ++panel) {
    for (std::size_t g = 0; g < node.size(); ++g) {
      const double k = (2 * panel + 1 + node[g]) * half;
      sum += half * weight[g] * wave_sinking(layers, k) * factor(k);
    }
  }
  return sum;
}

double strip_sinking(std::span<const SectionLayer> layers, double half_width_mm) {
  const double a = half_width_mm;
  double depth = 0;
  for (const SectionLayer& layer : layers) depth += layer.thickness_mm;
  // What is left beyond k a = 60 falls as its inverse square: 1e-4 of the whole.
  const double last = 60 / a;
  const int panels = 200 + static_cast<int>(4 * last * depth);
  return wave_integral(layers, last, panels, [a](double k) {
    const double sine = std::sin(k * a);
    return 2 / std::numbers::pi * sine * sine / (k * k * a);
  });
}

}  // namespace rimload
