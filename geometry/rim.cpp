#include "geometry/rim.hpp"

#include <algorithm>
#include <array>
#include <cassert>

#include "geometry/periodic_spline.hpp"

namespace rimload {

namespace {

constexpr int pieces_per_station = 8;

// Control rows: position 3, axis 3, stiffness factor 1.
PeriodicSpline spline_of(const Rim& rim) {
  const auto n = static_cast<Eigen::Index>(rim.controls.size());
  Eigen::MatrixXd values(7, n);
  Eigen::VectorXd knots(n + 1);
  knots[0] = 0;
  for (Eigen::Index k = 0; k < n; ++k) {
    const RimControl& here = rim.controls[static_cast<std::size_t>(k)];
    const RimControl& next = rim.controls[static_cast<std::size_t>((k + 1) % n)];
    values.col(k) << here.position_mask, here.axis_mask.normalized(), here.stiffness_factor;
    knots[k + 1] = knots[k] + (next.position_mask - here.position_mask).norm();
  }
  return {std::move(values), std::move(knots)};
}

// Three-point Gauss quadrature of the speed.
double arc_between(const PeriodicSpline& curve, double from, double to) {
  constexpr std::array node{-0.7745966692414834, 0.0, 0.7745966692414834};
  constexpr std::array weight{5.0 / 9, 8.0 / 9, 5.0 / 9};
  double sum = 0;
  for (std::size_t k = 0; k < node.size(); ++k) {
    const double p = 0.5 * (from + to) + 0.5 * (to - from) * node[k];
    sum += weight[k] * curve.slope(p).head<3>().norm();
  }
  return 0.5 * (to - from) * sum;
}

// Parameters of n points at equal arc length from the first; total length last.
struct EqualArcs {
  std::vector<double> parameters;
  double perimeter;
};
EqualArcs equal_arcs(const PeriodicSpline& curve, int n) {
  const int m = n * pieces_per_station;
  const double step = curve.period() / m;
  std::vector<double> arc(static_cast<std::size_t>(m) + 1, 0.0);
  for (int k = 0; k < m; ++k) {
    const auto index = static_cast<std::size_t>(k);
    arc[index + 1] = arc[index] + arc_between(curve, k * step, (k + 1) * step);
  }
  EqualArcs result{{}, arc.back()};
  for (int i = 0; i < n; ++i) {
    const double target = result.perimeter * i / n;
    const auto above = std::upper_bound(arc.begin(), arc.end(), target);
    const auto piece = std::max<std::ptrdiff_t>(above - arc.begin() - 1, 0);
    double p = static_cast<double>(piece) * step;
    const double start = p;
    for (int newton = 0; newton < 6; ++newton) {
      const double error = arc[static_cast<std::size_t>(piece)] + arc_between(curve, start, p);
      p += (target - error) / curve.slope(p).head<3>().norm();
    }
    result.parameters.push_back(p);
  }
  return result;
}

}  // namespace

Vec3 SampledRim::sample(std::size_t station, std::size_t across) const {
  const RimStation& s = stations[station];
  return s.crown + offset_mm[across] * s.across + drop_mm[across] * s.axis;
}

SampledRim sample_rim(const Rim& rim, RimSampling sampling) {
  assert(rim.controls.size() >= 4 && sampling.n_stations >= 16 && sampling.n_across >= 3);
  const PeriodicSpline curve = spline_of(rim);
  const auto [parameters, perimeter] = equal_arcs(curve, sampling.n_stations);
  SampledRim out;
  out.section = rim.section;
  out.perimeter_mm = perimeter;
  const double border = rim.section.lip_width_mm / 14;
  out.spacing_mm = (rim.section.lip_width_mm - 2 * border) / (sampling.n_across - 1);
  for (int j = 0; j < sampling.n_across; ++j) {
    const double s = (j - 0.5 * (sampling.n_across - 1)) * out.spacing_mm;
    const bool outermost = j == 0 || j + 1 == sampling.n_across;
    out.offset_mm.push_back(s);
    out.cell_mm.push_back(outermost ? border + 0.5 * out.spacing_mm : out.spacing_mm);
    out.drop_mm.push_back(s * s / (2 * rim.section.crown_radius_mm));
  }
  for (int i = 0; i < sampling.n_stations; ++i) {
    const double p = parameters[static_cast<std::size_t>(i)];
    const Eigen::VectorXd value = curve.at(p);
    RimStation station;
    station.crown = value.head<3>();
    station.tangent = curve.slope(p).head<3>().normalized();
    const Vec3 axis = value.segment<3>(3);
    station.axis = (axis - axis.dot(station.tangent) * station.tangent).normalized();
    station.across = station.axis.cross(station.tangent);
    station.arc_mm = perimeter * i / sampling.n_stations;
    station.length_mm = perimeter / sampling.n_stations;
    station.stiffness_factor = std::max(value[6], 0.05);
    out.stations.push_back(station);
  }
  const std::size_t n = out.n_stations();
  out.sample_length_mm.resize(sampling.n_across, sampling.n_stations);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < out.n_across(); ++j) {
      const Vec3 chord = out.sample((i + 1) % n, j) - out.sample((i + n - 1) % n, j);
      out.sample_length_mm(static_cast<Eigen::Index>(j), static_cast<Eigen::Index>(i)) =
          std::max(0.0, 0.5 * out.stations[i].tangent.dot(chord));
    }
  }
  return out;
}

}  // namespace rimload
