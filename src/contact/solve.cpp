#include "contact/solve.hpp"

#include <Eigen/LU>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>

namespace rimload {

namespace {

constexpr double turn_length_mm = 60;  // makes a turn comparable with a shift
constexpr double longest_shift_mm = 3;
constexpr double largest_turn_rad = 0.06;
constexpr double longest_lip_mm = 2;
constexpr double least_fraction = 1.0 / 64;

struct Step {
  Vec6 pose;
  Eigen::VectorXd lip;
};

class Iteration {
 public:
  Iteration(MaskOnFace& mask, const MaskState& start, const EquilibriumOptions& options)
      : mask_(mask), options_(options), state_(start) {
    // The pattern of the lip's matrix, diagonal included, never changes: analyse it once.
    Eigen::SparseMatrix<double> identity(mask.beam().rows(), mask.beam().cols());
    identity.setIdentity();
    lip_matrix_ = mask.beam() + 0.0 * identity;
    factor_.analyzePattern(lip_matrix_);
  }

  // Newton steps in one friction mode until balanced or out of steps.
  bool run(const FrictionMode& friction, int max_steps, bool search) {
    if (spent()) return false;
    evaluate(friction);
    for (int step = 0; step < max_steps; ++step) {
      if (balanced()) return true;
      if (spent()) return false;
      const auto full = newton_step();
      if (!full) return false;
      const MaskState before = state_;
      const double merit_before = merit();
      double fraction = 1;
      while (true) {
        move(before, *full, fraction);
        evaluate(friction);
        const bool better =
            std::isfinite(merit()) && merit() < (1 - 1e-4 * fraction) * merit_before;
        if (!search || better || fraction <= least_fraction) break;
        if (spent()) return false;
        fraction /= 2;
      }
      if (!std::isfinite(merit())) {
        state_ = before;
        return false;
      }
    }
    return balanced();
  }

  void polish(const FrictionMode& friction) {
    if (solution_.evaluations + 2 > options_.max_evaluations) return;  // it takes up to two
    const auto step = newton_step();
    if (!step) return;
    const MaskState before = state_;
    const double merit_before = merit();
    move(before, *step, 1);
    evaluate(friction);
    if (!(merit() <= merit_before)) {
      state_ = before;
      evaluate(friction);
    }
  }

  [[nodiscard]] const std::vector<double>& pressure() const { return balance_.pressure; }
  void restart(const MaskState& state) { state_ = state; }
  [[nodiscard]] bool spent() const { return solution_.evaluations >= options_.max_evaluations; }

  Solution finish(Termination termination) {
    solution_.state = state_;
    solution_.termination = termination;
    solution_.force_residual_n = balance_.mask.head<3>().norm();
    solution_.moment_residual_n_mm = moment_about_origin().norm();
    solution_.lip_residual_n_mm = lip_residual();
    return solution_;
  }

 private:
  void evaluate(const FrictionMode& friction) {
    balance_ = mask_.evaluate(state_, friction);
    ++solution_.evaluations;
  }

  [[nodiscard]] Vec3 moment_about_origin() const {
    return balance_.mask.tail<3>() +
           (state_.pose * mask_.reference_mask()).cross(balance_.mask.head<3>());
  }
  [[nodiscard]] double lip_residual() const {
    const double station = mask_.mask().rim.perimeter_mm / static_cast<double>(balance_.lip.size());
    return balance_.lip.cwiseAbs().maxCoeff() / station;
  }
  [[nodiscard]] bool balanced() const {
    return balance_.mask.head<3>().norm() < options_.force_tolerance_n &&
           moment_about_origin().norm() < options_.moment_tolerance_n_mm &&
           lip_residual() < options_.lip_tolerance_n_mm;
  }
  [[nodiscard]] double merit() const {
    return std::sqrt(balance_.mask.head<3>().squaredNorm() +
                     balance_.mask.tail<3>().squaredNorm() / (turn_length_mm * turn_length_mm) +
                     balance_.lip.squaredNorm());
  }

  // Eliminates the lip (a banded matrix), solves for the pose, then for the lip.
  [[nodiscard]] std::optional<Step> newton_step() {
    const Eigen::Index n = balance_.lip.size();
    lip_matrix_ = mask_.beam();
    for (Eigen::Index i = 0; i < n; ++i) lip_matrix_.coeffRef(i, i) -= balance_.lip_by_lip[i];
    factor_.factorize(lip_matrix_);
    if (factor_.info() != Eigen::Success) return std::nullopt;
    Eigen::Matrix<double, Eigen::Dynamic, 7> right(n, 7);
    right << balance_.lip_by_pose, balance_.lip;
    const Eigen::Matrix<double, Eigen::Dynamic, 7> response = factor_.solve(right);
    const Mat6 schur = balance_.mask_by_pose + balance_.mask_by_lip * response.leftCols<6>();
    const Vec6 residual = balance_.mask + balance_.mask_by_lip * response.col(6);
    Step step;
    step.pose = -schur.partialPivLu().solve(residual);
    step.lip = response.col(6) + response.leftCols<6>() * step.pose;
    if (!step.pose.allFinite() || !step.lip.allFinite()) return std::nullopt;
    const double excess = std::max({step.pose.head<3>().norm() / longest_shift_mm,
                                    step.pose.tail<3>().norm() / largest_turn_rad,
                                    step.lip.cwiseAbs().maxCoeff() / longest_lip_mm, 1.0});
    step.pose /= excess;
    step.lip /= excess;
    return step;
  }

  void move(const MaskState& from, const Step& step, double fraction) {
    state_.pose = from.pose.moved(fraction * step.pose.head<3>(), fraction * step.pose.tail<3>(),
                                  mask_.reference_mask());
    state_.lip_mm = from.lip_mm + fraction * step.lip;
  }

  MaskOnFace& mask_;
  EquilibriumOptions options_;
  MaskState state_;
  Balance balance_;
  Eigen::SparseMatrix<double> lip_matrix_;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor_;
  Solution solution_;
};

double largest_change(const std::vector<double>& before, const std::vector<double>& after) {
  double change = 0;
  for (std::size_t k = 0; k < before.size(); ++k) {
    change = std::max(change, std::abs(after[k] - before[k]));
  }
  return change;
}

}  // namespace

Solution solve_balance(MaskOnFace& mask, const MaskState& start,
                       const EquilibriumOptions& options) {
  constexpr int coupled_steps = 10;
  constexpr int lagged_steps = 40;
  constexpr int max_rounds = 12;
  constexpr double low_friction = 0.1;
  constexpr double settled = 0.03;
  const FrictionMode coupled{.mu = mask.mask().friction, .lagged_pressure = {}};
  Iteration iteration(mask, start, options);
  bool done = iteration.run(coupled, coupled_steps, false);
  if (!done) {
    iteration.restart(start);
    done = iteration.run({.mu = std::min(low_friction, coupled.mu), .lagged_pressure = {}},
                         lagged_steps, true);
    std::vector<double> lagged = iteration.pressure();
    done = false;
    for (int round = 0; round < max_rounds && !done && !iteration.spent(); ++round) {
      (void)iteration.run({.mu = coupled.mu, .lagged_pressure = lagged}, lagged_steps, true);
      const double peak = *std::max_element(lagged.begin(), lagged.end());
      const double change = largest_change(lagged, iteration.pressure());
      lagged = iteration.pressure();
      if (change <= settled * peak) done = iteration.run(coupled, coupled_steps, true);
    }
  }
  if (done) iteration.polish(coupled);
  return iteration.finish(done ? Termination::converged : Termination::evaluation_limit);
}

PhaseState balance_phase(MaskOnFace& mask, MaskState& state, const EquilibriumOptions& options) {
  Solution solution = solve_balance(mask, state, options);
  state = std::move(solution.state);
  PhaseState out = mask.describe(state);
  out.termination = solution.termination;
  out.evaluations = solution.evaluations;
  out.force_residual_n = solution.force_residual_n;
  out.moment_residual_n_mm = solution.moment_residual_n_mm;
  out.lip_residual_n_mm = solution.lip_residual_n_mm;
  return out;
}

}  // namespace rimload
