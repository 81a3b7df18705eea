#include "tangent_errors.hpp"

#include <random>

#include "scene.hpp"

namespace rimload {

namespace {

constexpr double shift_step_mm = 1e-5;
constexpr double turn_step_rad = 1e-7;

Eigen::VectorXd residual(MaskOnFace& mask, const MaskState& state) {
  const Balance balance = mask.evaluate(state);
  Eigen::VectorXd out(6 + balance.lip.size());
  out << balance.mask, balance.lip;
  return out;
}

}  // namespace

TangentErrors tangent_errors(MaskOnFace& mask, const MaskState& state) {
  constexpr double arm_mm = 60;
  const Balance balance = mask.evaluate(state);
  const auto n = static_cast<Eigen::Index>(mask.n_stations());
  Eigen::VectorXd scale = Eigen::VectorXd::Ones(6 + n);
  scale.segment<3>(3).setConstant(1 / arm_mm);
  double wrong = 0, size = 0;
  const auto count = [&](const Eigen::VectorXd& stated, const Eigen::VectorXd& difference) {
    wrong += scale.cwiseProduct(stated - difference).squaredNorm();
    size += scale.cwiseProduct(difference).squaredNorm();
  };
  for (int k = 0; k < 6; ++k) {
    const double step = k < 3 ? shift_step_mm : turn_step_rad;
    const auto moved = [&](double by) {
      const Vec3 way = by * Vec3::Unit(k % 3);
      const Vec3 none = Vec3::Zero();
      MaskState out = state;
      out.pose = state.pose.moved(k < 3 ? way : none, k < 3 ? none : way, mask.reference_mask());
      return residual(mask, out);
    };
    Eigen::VectorXd stated(6 + n);
    stated << balance.mask_by_pose.col(k), balance.lip_by_pose.col(k);
    const double weight = k < 3 ? 1 : 1 / arm_mm;
    count(weight * stated, weight * (moved(step) - moved(-step)) / (2 * step));
  }
  const double by_pose = std::sqrt(wrong / size);
  wrong = size = 0;
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto lifted = [&](double by) {
      MaskState out = state;
      out.lip_mm[i] += by;
      return residual(mask, out);
    };
    Eigen::VectorXd stated(6 + n);
    stated << balance.mask_by_lip.col(i), -Eigen::VectorXd(mask.beam().col(i));
    stated[6 + i] += balance.lip_by_lip[i];
    count(stated, (lifted(shift_step_mm) - lifted(-shift_step_mm)) / (2 * shift_step_mm));
  }
  return {by_pose, std::sqrt(wrong / size)};
}

namespace {

// A seated pose: pushed 1 to 4 mm on from placement, shifted and turned, lip lifted unevenly.
MaskState seated(const MaskState& placed, const Vec3& about, std::mt19937& random) {
  const auto within = [&](double size) {
    return size * (static_cast<double>(random()) / 2147483648.0 - 1);
  };
  MaskState out = placed;
  out.pose = placed.pose.moved({within(1.5), within(1.5), -2.5 + within(1.5)},
                               {within(0.03), within(0.03), within(0.03)}, about);
  for (double& lip : out.lip_mm) lip = 1.2 + within(0.8);
  return out;
}

}  // namespace

WorstTangent worst_tangent(MaskOnFace& mask, int n_poses) {
  const MaskState placed = set_up(mask, {});
  std::mt19937 random(3);
  WorstTangent worst;
  for (int k = 0; k < n_poses; ++k) {
    const MaskState state = seated(placed, mask.reference_mask(), random);
    const TangentErrors found = tangent_errors(mask, state);
    worst.by_pose = std::max(worst.by_pose, found.by_pose);
    worst.by_lip = std::max(worst.by_lip, found.by_lip);
    for (const ContactSample& s : mask.describe(state).samples) worst.touching += s.pressure > 0;
  }
  return worst;
}

}  // namespace rimload
