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
constexpr double slopes_within_mm = 0.01;  // near enough for Newton's method to gain two digits

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

  // Newton's method, at most `max_steps` capped steps.
  bool run(int max_steps) {
    evaluate();
    for (int step = 0; step < max_steps; ++step) {
      if (balanced()) return true;
      const auto full = newton_step(0);
      if (spent() || !full) return false;
      move(state_, *full);
      evaluate();
      if (!std::isfinite(merit())) return false;
    }
    return balanced();
  }

  // Follows the mask to its rest as if in a viscous fluid. A step may raise the residual (the mask
  // passes a bump) but not far; the drag fades as the residual does. Where a sample's foot changes
  // from one flank of a fold to the other the force jumps, and may balance on neither side: then
  // steps go to and fro without gain.
  Termination relax(const MaskState& start) {
    constexpr double first_step_mm = 2;        // at full residual against the drag alone
    constexpr double shortest_step_mm = 0.05;  // drag never holds it back more than this
    constexpr double worst_growth = 4;
    constexpr double jump_n = 0.02;
    constexpr double gain = 0.9;
    constexpr int most_idle = 40;
    state_ = start;
    evaluate();
    MaskState best = state_;
    double least = merit();
    int idle = 0;
    double drag = merit() / first_step_mm;
    while (!balanced()) {
      const auto step = forward_step(drag);
      if (spent() || !step) return Termination::evaluation_limit;
      const MaskState before = state_;
      const Balance balance_before = balance_;
      const double merit_before = merit();
      move(before, *step);
      evaluate();
      idle = merit() < gain * least ? 0 : idle + 1;
      if (merit() < least) {
        least = merit();
        best = state_;
      }
      if (idle >= most_idle && least < jump_n) {
        state_ = best;
        evaluate();
        return Termination::at_jump;
      }
      const double growth = merit() / merit_before;
      if (growth < 1) {
        drag *= std::clamp(growth * growth, 0.1, 0.7);
      } else if (growth < worst_growth) {
        const double more = drag * std::min(3.0, 1.5 * growth);
        drag = std::min(more, std::max(drag, merit() / shortest_step_mm));
      } else {
        state_ = before;
        balance_ = balance_before;
        drag *= 8;
      }
    }
    return Termination::converged;
  }

  // One more step, unless the last one has left next to nothing: it converges quadratically.
  void polish() {
    if (spent() || merit() < options_.force_tolerance_n) return;
    const auto step = newton_step(0);
    if (!step) return;
    const MaskState before = state_;
    const Balance balance_before = balance_;
    const double merit_before = merit();
    move(before, *step);
    evaluate();
    if (merit() <= merit_before) return;
    state_ = before;
    balance_ = balance_before;
  }

  Solution finish(Termination termination) {
    solution_.state = state_;
    solution_.termination = termination;
    solution_.force_residual_n = balance_.mask.head<3>().norm();
    solution_.moment_residual_n_mm = moment_about_origin().norm();
    solution_.lip_residual_n_mm = lip_residual();
    return solution_;
  }

 private:
  [[nodiscard]] bool spent() const { return solution_.evaluations >= options_.max_evaluations; }
  void evaluate() {
    balance_ = mask_.evaluate(state_, slopes_within_mm);
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

  // A step with enough drag to go where the forces pull.
  [[nodiscard]] std::optional<Step> forward_step(double& drag) {
    constexpr int max_tries = 20;
    for (int k = 0; k < max_tries; ++k) {
      auto step = newton_step(drag);
      if (step && balance_.mask.dot(step->pose) + balance_.lip.dot(step->lip) > 0) return step;
      drag = std::max(4 * drag, 1e-3);
    }
    return std::nullopt;
  }

  // Eliminates the lip (a banded matrix), solves for the pose, then for the lip.
  // @param drag on the frame [N/mm]; each lip station has its share of it
  [[nodiscard]] std::optional<Step> newton_step(double drag) {
    const Eigen::Index n = balance_.lip.size();
    lip_matrix_ = mask_.beam();
    const double lip_drag = drag / static_cast<double>(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      lip_matrix_.coeffRef(i, i) += lip_drag - balance_.lip_by_lip[i];
    }
    factor_.factorize(lip_matrix_);
    if (factor_.info() != Eigen::Success) return std::nullopt;
    Eigen::Matrix<double, Eigen::Dynamic, 7> right(n, 7);
    right << balance_.lip_by_pose, balance_.lip;
    const Eigen::Matrix<double, Eigen::Dynamic, 7> response = factor_.solve(right);
    Mat6 schur = balance_.mask_by_pose + balance_.mask_by_lip * response.leftCols<6>();
    schur.diagonal().head<3>().array() -= drag;
    schur.diagonal().tail<3>().array() -= drag * turn_length_mm * turn_length_mm;
    const Vec6 residual = balance_.mask + balance_.mask_by_lip * response.col(6);
    Step step;
    step.pose = -schur.partialPivLu().solve(residual);
    step.lip = response.col(6) + response.leftCols<6>() * step.pose;
    if (!step.pose.allFinite() || !step.lip.allFinite()) return std::nullopt;
    // Plain Newton may stride out; where it fails, caution is called for.
    const double stride = drag > 0 ? 1 : 1.7;
    double excess = std::max({step.pose.head<3>().norm() / longest_shift_mm,
                              step.pose.tail<3>().norm() / largest_turn_rad,
                              step.lip.cwiseAbs().maxCoeff() / longest_lip_mm});
    excess = std::max(excess / stride, 1.0);
    step.pose /= excess;
    step.lip /= excess;
    return step;
  }

  void move(const MaskState& from, const Step& step) {
    const Vec6& by = step.pose;
    state_ = {from.pose.moved(by.head<3>(), by.tail<3>(), mask_.reference_mask()),
              from.lip_mm + step.lip};
  }

  MaskOnFace& mask_;
  EquilibriumOptions options_;
  MaskState state_;
  Balance balance_;
  Eigen::SparseMatrix<double> lip_matrix_;
  // In the stations' own order: nothing but the last two columns fills up.
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Upper, Eigen::NaturalOrdering<int>>
      factor_;
  Solution solution_;
};

}  // namespace

Solution solve_balance(MaskOnFace& mask, const MaskState& start,
                       const EquilibriumOptions& options) {
  constexpr int newton_steps = 10;
  Iteration iteration(mask, start, options);
  const Termination termination =
      iteration.run(newton_steps) ? Termination::converged : iteration.relax(start);
  if (termination == Termination::converged) iteration.polish();
  return iteration.finish(termination);
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
