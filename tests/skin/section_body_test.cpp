// The elastic slice against closed forms and against Fourier's integral.
#include "skin/section_body.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "material/layer_modulus.hpp"
#include "skin/layered_waves.hpp"
#include "skin/section_strain.hpp"

using namespace rimload;

namespace {

constexpr double pi = std::numbers::pi;

int first_column_at(const SectionMesh& mesh, double place) {
  const auto at = std::lower_bound(mesh.columns_mm.begin(), mesh.columns_mm.end(), place - 1e-9);
  return static_cast<int>(at - mesh.columns_mm.begin());
}

// Mean sinking of the strip |x| < a under pressure 1.
double strip_sinking_of(const SectionBody& body, double a) {
  const Eigen::VectorXd moved = body.solve(body.force_of(std::vector{FaceLoad{-a, a, 1, 0}}));
  return body.mean_sinking(moved, first_column_at(body.mesh(), -a),
                           first_column_at(body.mesh(), a));
}

SectionBody layer_under_strip(double width_over_depth, double poisson) {
  const double a = 0.5 * width_over_depth;
  return SectionBody(
      {.layers = {{1, 1, poisson, 8, width_over_depth < 1 ? 16.0 : 2.0}},
       .columns_mm = spread_columns(
           {.half_width_mm = a, .fine = std::max(16, static_cast<int>(16 * a)), .reach_mm = 6})});
}

}  // namespace

TEST_CASE("A mesh over a ridge passes the patch test") {
  // Under an even strain no inner node needs a force. Two sides curved, elements of all sizes.
  const SectionBody body({.layers = {{4, 0.02, 0.49, 3, 2}, {1, 0.02, 0.49, 2}},
                          .bone = {3, 0.8},
                          .columns_mm = spread_columns({5, 10, 12, 1.5})});
  const SectionMesh& mesh = body.mesh();
  Eigen::Matrix2d gradient;
  gradient << 0.03, 0.01, -0.02, -0.05;
  const Eigen::Matrix2Xd moved = gradient * mesh.nodes;
  const Eigen::VectorXd forces =
      body.nodal_forces(Eigen::Map<const Eigen::VectorXd>(moved.data(), 2 * moved.cols()));
  std::vector<bool> outer(mesh.fixed);
  for (int column = 0; column < mesh.n_columns(); ++column) {
    for (const int node : mesh.outer_side(column)) outer[static_cast<std::size_t>(node)] = true;
  }
  for (Eigen::Index k = 0; k < mesh.nodes.cols(); ++k) {
    if (!outer[static_cast<std::size_t>(k)]) CHECK(forces.segment<2>(2 * k).norm() < 1e-14);
  }
  CHECK(forces.lpNorm<Eigen::Infinity>() > 1e-3);
}

TEST_CASE("Forces at the nodes and reactions of the bone are in balance with the load") {
  const SectionBody body({.layers = {{4, 0.02, 0.45, 3}},
                          .bone = {3, 0.8},
                          .columns_mm = spread_columns({5, 10, 12, 1.5})});
  const std::vector<FaceLoad> loads{{-2.3, 0.7, 0.01, 0.002}, {0.7, 4.1, 0.003, -0.001}};
  const Eigen::VectorXd load = body.force_of(loads);
  const Eigen::VectorXd held = body.nodal_forces(body.solve(load));
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (Eigen::Index k = 0; k < body.mesh().nodes.cols(); ++k) {
    const Eigen::Vector2d x = body.mesh().nodes.col(k);
    const Eigen::Vector2d f = held.segment<2>(2 * k);
    sum += Eigen::Vector3d(f.x(), f.y(), x.x() * f.y() - x.y() * f.x());
    if (!body.mesh().fixed[static_cast<std::size_t>(k)]) {
      CHECK((f - load.segment<2>(2 * k)).norm() < 1e-14);
    }
  }
  CHECK(sum.norm() < 1e-13);
}

TEST_CASE("A wide load confines the tissue beneath it") {
  // One-dimensional compression: e_yy = p/M, s_xx = nu/(1 - nu) s_yy [Johnson 1985, 5.8].
  for (const double poisson : {0.0, 0.3, 0.45}) {
    const SectionBody body(
        {.layers = {{2, 0.05, poisson, 4}}, .columns_mm = spread_columns({30, 60, 5, 1.5})});
    const auto points =
        section_points(body, body.solve(body.force_of(std::vector{FaceLoad{-30, 30, 0.001, 0}})));
    const double modulus = 0.05 * (1 - poisson) / ((1 + poisson) * (1 - 2 * poisson));
    for (const SectionPoint& point : points) {
      if (std::abs(point.position.x()) > 2) continue;  // the edges' influence fades over depths
      CHECK(point.at.strain[1] == Approx(-0.001 / modulus).epsilon(1e-4));
      CHECK(point.at.stress[0] == Approx(-0.001 * poisson / (1 - poisson)).margin(2e-7));
      CHECK(point.at.stress[3] == Approx(-0.001 * poisson / (1 - poisson)).margin(2e-7));
    }
  }
}

TEST_CASE("A strip on a bonded layer sinks as Fourier's integral says, near nu 1/2 too") {
  // `layer_modulus` is that integral. Quadratic elements with 16 columns across the strip.
  for (const double width_over_depth : {0.125, 0.5, 1.0, 2.0, 8.0, 16.0}) {
    for (const double poisson : {0.3, 0.45, 0.49, 0.499}) {
      CAPTURE(width_over_depth, poisson);
      const SectionBody body = layer_under_strip(width_over_depth, poisson);
      const double modulus = 1 / strip_sinking_of(body, 0.5 * width_over_depth);
      CHECK(modulus == Approx(layer_modulus(width_over_depth, poisson)).epsilon(0.005));
    }
  }
}

TEST_CASE("Layers of different stiffness sink as the layered Fourier integral says") {
  // Fat, skin and a dressing ten times as stiff or as soft; see `layered_waves.hpp`.
  for (const double dressing : {0.01, 0.5}) {
    for (const double a : {1.0, 4.0}) {
      const std::vector<SectionLayer> layers{
          {6, 0.02, 0.45, 6, 3}, {1.2, 0.08, 0.45, 3}, {2, dressing, 0.3, 4}};
      const SectionBody body({.layers = layers, .columns_mm = spread_columns({a, 24, 60, 1.3})});
      CAPTURE(dressing, a);
      CHECK(strip_sinking_of(body, a) == Approx(strip_sinking(layers, a)).epsilon(0.003));
    }
  }
}

TEST_CASE("The Fourier integral over layers of one stuff is the one that the engine uses") {
  for (const double v : {0.25, 1.0, 4.0}) {
    const std::vector<SectionLayer> layers{{0.3, 1, 0.45}, {0.5, 1, 0.45}, {0.2, 1, 0.45}};
    CHECK(1 / strip_sinking(layers, v / 2) == Approx(layer_modulus(v, 0.45)).epsilon(1e-3));
  }
}

TEST_CASE("Stresses beneath an even strip are those of a half-plane while the bone is far") {
  // Johnson 1985, equations 2.30 and 2.33: with the strip's edges seen at angles t1 and t2 from the
  // vertical, s_yy and s_xx = -(p/pi)(t1 - t2 +- (sin 2 t1 - sin 2 t2)/2), and half the difference
  // of the principal stresses is (p/pi) sin(t1 - t2). The bone, 200 half-widths away, adds about
  // (a/h)^2. Within five elements of an edge, where the pressure ends in a step, the field is
  // sharper than the mesh.
  const SectionBody body(
      {.layers = {{200, 1, 0.45, 30, 600}}, .columns_mm = spread_columns({1, 24, 600, 1.3})});
  const auto points =
      section_points(body, body.solve(body.force_of(std::vector{FaceLoad{-1, 1, 1, 0}})));
  int seen = 0;
  for (const SectionPoint& point : points) {
    const double x = point.position.x();
    const double y = 200 - point.position.y();
    if (y > 4 || std::abs(x) > 3 || std::hypot(std::abs(x) - 1, y) < 0.4) continue;
    ++seen;
    const double t1 = std::atan2(x + 1, y);
    const double t2 = std::atan2(x - 1, y);
    const double more = 0.5 * (std::sin(2 * t1) - std::sin(2 * t2));
    CHECK(point.at.stress[1] == Approx(-(t1 - t2 + more) / pi).margin(0.02));
    CHECK(point.at.stress[0] == Approx(-(t1 - t2 - more) / pi).margin(0.02));
    const double radius =
        std::hypot(0.5 * (point.at.stress[0] - point.at.stress[1]), point.at.stress[2]);
    CHECK(radius == Approx(std::sin(t1 - t2) / pi).margin(0.01));
  }
  CHECK(seen > 400);
}

TEST_CASE("A line load spreads as Flamant's") {
  // s_r = -2 P cos(theta)/(pi r), nothing else [Johnson 1985, equation 2.15]; a strip of width 2 a
  // is seen as a line from r >> a, the bone adds about (r/h)^2; elements are a seventh of r.
  const double force = 0.3;
  const SectionBody body(
      {.layers = {{400, 1, 0.4, 40, 2000}}, .columns_mm = spread_columns({0.2, 4, 1200, 1.15})});
  const auto points = section_points(
      body, body.solve(body.force_of(std::vector{FaceLoad{-0.2, 0.2, force / 0.4, 0}})));
  int seen = 0;
  for (const SectionPoint& point : points) {
    const double x = point.position.x();
    const double y = 400 - point.position.y();
    const double r = std::hypot(x, y);
    if (r < 2 || r > 20) continue;
    ++seen;
    const double cosine = y / r;
    const double sine = x / r;
    const Eigen::Vector4d& s = point.at.stress;
    const double radial = s[0] * sine * sine + s[1] * cosine * cosine - 2 * s[2] * sine * cosine;
    CHECK(radial * r == Approx(-2 * force * cosine / pi).margin(0.025 * force));
    CHECK((s[0] + s[1] - radial) * r == Approx(0).margin(0.025 * force));
  }
  CHECK(seen > 300);
}

TEST_CASE("A ring bonded to a rigid core is pressed as Lame's") {
  // u = A (r - R^2/r); s_r = A (2 (lambda + G) + 2 G R^2/r^2) [Timoshenko and Goodier 1970,
  // section 28]. Half a ring, whose held ends are a quarter turn away.
  const double core = 12;
  const double depth = 1.5;
  for (const double poisson : {0.3, 0.45, 0.49}) {
    std::vector<double> columns;
    for (int k = -60; k <= 60; ++k) columns.push_back((core + depth) * pi / 2 * k / 60);
    const SectionBody body(
        {.layers = {{depth, 0.05, poisson, 6}}, .bone = {core, pi / 2}, .columns_mm = columns});
    const Eigen::VectorXd moved =
        body.solve(body.force_of(std::vector{FaceLoad{columns.front(), columns.back(), 1e-3, 0}}));
    const auto points = section_points(body, moved);
    const PlaneStrainLaw law = PlaneStrainLaw::of(0.05, poisson);
    const double outer = core + depth;
    const auto ratio = [&](double r) {
      return 2 * (law.lambda + law.shear) + 2 * law.shear * core * core / (r * r);
    };
    const double a = 1e-3 / ratio(outer);
    CAPTURE(poisson);
    const int crown = body.mesh().n_columns() / 2;
    CHECK(body.mean_sinking(moved, crown - 1, crown + 1) ==
          Approx(a * (outer - core * core / outer)).epsilon(1e-3));
    const BoneStress bone = bone_stresses(body, points)[static_cast<std::size_t>(crown)];
    // Taken to the bone linearly over rows of 0.25 mm.
    CHECK(bone.pressure == Approx(a * ratio(core)).epsilon(3e-3));
    CHECK(std::abs(bone.shear) < 1e-3 * bone.pressure);
  }
}

TEST_CASE("Halving the elements divides the error of a smooth load's work by sixteen") {
  // Quadratic elements: the work's error falls with the fourth power. A pressure exp(-x^2/2 s^2) is
  // the sum of waves (2 s/sqrt(2 pi)) exp(-k^2 s^2/2) cos kx, so its work is the integral of
  // 2 s^2 exp(-k^2 s^2) times their sinking. Sides ten depths away: nearer ones are felt.
  const double s = 1;
  const std::vector<SectionLayer> one{{1.5, 1, 0.45}};
  const double exact =
      wave_integral(one, 7, 400, [s](double k) { return 2 * s * s * std::exp(-k * k * s * s); });
  std::vector<double> error;
  for (const int fineness : {1, 2, 4}) {
    std::vector<double> columns;
    for (int k = -12 * fineness; k <= 12 * fineness; ++k) {
      columns.push_back(1.25 * k / fineness);
    }
    const SectionBody body({.layers = {{1.5, 1, 0.45, 2 * fineness}}, .columns_mm = columns});
    Eigen::VectorXd force = Eigen::VectorXd::Zero(2 * body.mesh().nodes.cols());
    for (int column = 0; column < body.mesh().n_columns(); ++column) {
      const auto side = body.mesh().outer_side(column);
      for (const double part : {-1.0, -0.5, 0.0, 0.5}) {
        for (const EdgePoint& point :
             edge_points(body.mesh().positions_of(side), part, part + 0.5)) {
          const double p = std::exp(-0.5 * std::pow(point.position.x() / s, 2));
          for (int k = 0; k < 3; ++k) {
            force[2 * side[static_cast<std::size_t>(k)] + 1] -=
                p * point.share[k] * point.along.x();
          }
        }
      }
    }
    error.push_back(std::abs(force.dot(body.solve(force).col(0)) / exact - 1));
  }
  CAPTURE(error[0], error[1], error[2]);
  CHECK(error[2] < 1e-4);
  CHECK(std::log2(error[0] / error[1]) > 3);
  CHECK(std::log2(error[1] / error[2]) > 3.5);
}
