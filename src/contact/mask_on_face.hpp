// All forces on a mask at a given pose, and how they change with it.
#pragma once

#include <Eigen/SparseCore>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "contact/equilibrium.hpp"
#include "contact/strap_pull.hpp"
#include "contact/traction.hpp"
#include "contact/wrench.hpp"

namespace rimload {

/// The skin with the tissue beneath it and what lies on it.
struct FaceField {
  const SkinMap& skin;
  const TissueMap& tissue;
  const LayerModulus& modulus;
  const SkinCover* cover = nullptr;  ///< none: bare
};

/// The unknowns: pose of the frame and, at each station, the lip's displacement out of the face.
struct MaskState {
  Pose pose;
  Eigen::VectorXd lip_mm;

  [[nodiscard]] bool operator==(const MaskState& other) const = default;
};

/// Residual forces on mask and lip, and their derivatives.
struct Balance {
  Vec6 mask = Vec6::Zero();  ///< force [N] above moment about the reference point [N mm]
  Eigen::VectorXd lip;       ///< force on each station's lip along its axis [N]
  Mat6 mask_by_pose = Mat6::Zero();
  Eigen::Matrix<double, 6, Eigen::Dynamic> mask_by_lip;
  Eigen::Matrix<double, Eigen::Dynamic, 6> lip_by_pose;
  Eigen::VectorXd lip_by_lip;  ///< local part of the diagonal; the beam's matrix comes on top
};

/// A mask on a face with its straps, gas and weight.
///
/// Pose changes are a shift of and a turn about the reference point, the middle of the rim.
class MaskOnFace {
 public:
  MaskOnFace(const FaceField& face, const Mask& mask, const EquilibriumOptions& options);

  /// The pose from which friction and strap lengths are measured: apex on the midline at
  /// `apex_below_sellion_mm`, straight, pitched so that the rim's apex and lowest station have
  /// equal gaps, forward until 0.5 mm past first touch; then the offset on top. Of the bare skin,
  /// whatever covers it: the same tension then means the same length of strap.
  [[nodiscard]] Pose placement(const PlacementOffset& offset) const;

  /// Makes a pose the reference of friction, and cuts straps to pull as set in it.
  void place(const Pose& pose, std::span<const double> tension_n);
  /// @param gravity direction in the facial frame, unit
  void set_gas_and_gravity(double gas_pressure, const Vec3& gravity);

  /// Forces at a state, and their derivatives there or, which costs half as much, those of contact
  /// in a state evaluated before, if no part of the mask has moved farther than `slopes_within_mm`
  /// since. The contact of the state evaluated last is kept: another gas pressure or strap tension
  /// there costs little.
  [[nodiscard]] Balance evaluate(const MaskState& state, double slopes_within_mm = 0);
  /// Samples and loads at a state, exactly; for reporting.
  [[nodiscard]] PhaseState describe(const MaskState& state);

  [[nodiscard]] const Eigen::SparseMatrix<double>& beam() const { return beam_; }
  [[nodiscard]] const Mask& mask() const { return mask_; }
  [[nodiscard]] Vec3 reference_mask() const { return reference_mask_; }
  [[nodiscard]] std::size_t n_samples() const { return local_.size(); }
  [[nodiscard]] std::size_t n_stations() const { return mask_.rim.n_stations(); }

 private:
  struct LocalSample {
    Part part;
    std::size_t station, across;
    Vec3 position_mask;  ///< lip undeflected
    double area_mm2;
  };
  struct Met {       ///< what a sample meets
    SkinPoint skin;  ///< on top of the cover
    CoverPoint cover;
  };
  struct Touching {  ///< a sample that presses the skin or what covers it
    std::size_t sample;
    Met met;
    Vec3 position;
  };
  struct Footing {  ///< where a sample pressed last, or was seen last
    Vec3 position = Vec3::Constant(std::numeric_limits<double>::infinity());
    Vec2 uv = Vec2::Zero();
    Mat23 duv_dx = Mat23::Zero();
    double depth_mm = 0;    ///< beneath the surface; 0: it didn't press
    double beneath_mm = 0;  ///< beneath the bare skin

    // Whether it tells where to look for the foot of another position. Beneath ridges feet run
    // apart and may be on either flank.
    [[nodiscard]] bool leads_to(const Vec3& other) const {
      constexpr double near_mm = 0.5;
      return (other - position).norm() < near_mm &&
             duv_dx.squaredNorm() < 2 * most_spread * most_spread;
    }
    [[nodiscard]] Vec2 guess_at(const Vec3& other) const {
      return uv + duv_dx * (other - position);
    }
    static constexpr double most_spread = 1.25;
  };
  struct Sum;
  struct Gaps {  ///< what is known of the samples' distances from the skin
    std::vector<double> at_least_mm;
    Pose pose;            ///< there
    double reach_mm = 0;  ///< of the samples from the mask's origin
    std::size_t nearest = 0;
  };

  // What touches at a state, with its forces; free of straps, gas and weight.
  struct Contact {
    MaskState state;
    MaskState slopes_at;  ///< where the derivatives were taken
    Balance balance;
    Eigen::VectorXd pressed_area_mm2;  ///< of each station, weighted by how surely it touches
    Eigen::Matrix<double, Eigen::Dynamic, 7> pressed_slope;  ///< of that area
    std::vector<Vec3> edge;                                  ///< gas edge from the reference point
    std::vector<Mat37> edge_slope;                           ///< of the edge by pose and lip
    Mat6 thrust_by_pose;                                     ///< of a unit of gas pressure
    Eigen::Matrix<double, 6, Eigen::Dynamic> thrust_by_lip;  ///< likewise
  };

  [[nodiscard]] SampleLaw law_of(const LocalSample& sample) const;
  [[nodiscard]] double farthest_moved_mm(const MaskState& from, const MaskState& to) const;
  void touch_skin(const MaskState& state, Slopes slopes);
  void touch_station(std::size_t station, Slopes slopes);
  void touch_pad(Slopes slopes);
  [[nodiscard]] std::optional<SkinPoint> skin_near(std::size_t sample, const Vec3& position,
                                                   Slopes slopes) const;
  [[nodiscard]] SkinPoint skin_beneath(std::size_t sample, const Vec3& position);
  [[nodiscard]] Met on_cover(const SkinPoint& skin) const;
  Traction press(const Touching& touching, SampleLaw law, Slopes slopes);
  void note_thrust_slopes();
  void add_gas(Balance& out) const;
  void add_straps_and_weight(const MaskState& state, Balance& out) const;
  [[nodiscard]] double least_distance(const Pose& pose, Gaps& gaps) const;

  FaceField face_;
  Mask mask_;
  EquilibriumOptions options_;
  Eigen::SparseMatrix<double> beam_;
  Vec3 reference_mask_;
  std::vector<LocalSample> local_;
  std::vector<Vec3> placed_;  ///< position of each sample at placement, facial frame
  std::vector<Band> bands_;
  std::optional<Contact> contact_;      ///< of the state evaluated last
  std::vector<ContactSample> samples_;  ///< at that state; up to date only where pressed
  std::vector<Touching> touching_;      ///< of the station at hand
  std::vector<Footing> footing_;        ///< of each sample
  std::vector<Footing> last_seen_;      ///< of each, where it was described without pressing
  double gas_pressure_ = 0;
  Vec3 gravity_ = Vec3(0, -1, 0);
};

}  // namespace rimload
