#include "leak/tube_channel.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>

#include "leak/seal_law.hpp"

namespace rimload {
namespace {

using Complex = std::complex<double>;
using Row4c = Eigen::Matrix<Complex, 1, 4>;
using Vec4c = Eigen::Matrix<Complex, 4, 1>;

/// One side of the lip: round the tube up to an angle from its top, then free until it lands. The
/// free part is a sum of four exponentials that fade from one end each (so that none overflows)
/// and the sag -q/k.
class Flank {
 public:
  Flank(const TubeUnderLip& tube, double load)
      : foundation_(tube.foundation),
        tension_(tube.tension),
        load_(load),
        radius_mm_(tube.diameter_mm / 2) {
    // Without bending the equation loses two orders, and the lip its fixed slope where it leaves
    // the tube: this much keeps them and moves area and load by parts in 1e5.
    const double least_by_tension = 1e-10 * tension_ * tension_ / foundation_;
    const double least_by_size = 1e-12 * foundation_ * std::pow(tube.diameter_mm, 4);
    bending_ = std::max({tube.bending, least_by_tension, least_by_size});
    // Roots of EI m^4 - N m^2 + k; equal ones are set apart by 1e-6, an error of its square.
    const double middle = tension_ / (2 * bending_);
    double apart = middle * middle - foundation_ / bending_;
    const double least = 1e-12 * foundation_ / bending_;
    if (std::abs(apart) < least) apart = std::copysign(least, apart);
    const Complex larger = std::sqrt(middle + std::sqrt(Complex(apart)));
    // The smaller from the product, for the difference loses it when bending is slight.
    decay_ = {larger, std::sqrt(foundation_ / bending_) / larger};
  }

  /// Lets the lip lie on the tube up to an angle from its top and then be free for a length, and
  /// finds the height of the tube that this asks for.
  /// @return false when the lip would hang below the skin before it lands, whatever the height
  bool lay(double angle, double length_mm) {
    angle_ = angle;
    length_mm_ = length_mm;
    const double slope = std::tan(angle);
    const double sag = load_ / foundation_;
    Eigen::Matrix4cd ends;
    ends << row(0, 0), row(0, 1), row(length_mm, 0), row(length_mm, 1);
    // For a height of 1 where the lip leaves the tube, and for slope and load.
    Eigen::Matrix<Complex, 4, 2> right;
    right << 1, sag, 0, -slope, 0, sag, 0, 0;
    const Eigen::Matrix<Complex, 4, 2> shapes = ends.partialPivLu().solve(right);
    const Eigen::RowVector2d landing = (row(length_mm, 2) * shapes).real();
    if (landing(0) <= 0) return false;
    // No curvature at the landing, for the lip can't be pulled on the skin: this gives the height.
    const double leaving_mm = -landing(1) / landing(0);
    height_mm_ = leaving_mm + radius_mm_ * (1 - std::cos(angle));
    amplitude_ = shapes.col(0) * leaving_mm + shapes.col(1);
    return true;
  }

  /// Whether the free part starts with a sharper bend than the tube's own.
  [[nodiscard]] bool cuts_tube() const {
    const double curvature = (row(0, 2) * amplitude_).value().real();
    return curvature < -1 / (radius_mm_ * std::pow(std::cos(angle_), 3));
  }

  /// A length that asks for next to no tube; below it the exponentials look alike.
  [[nodiscard]] double shortest_mm() const { return 1e-3 / std::abs(decay_[0]); }
  [[nodiscard]] double height_mm() const { return height_mm_; }
  [[nodiscard]] double span_mm() const { return radius_mm_ * std::sin(angle_) + length_mm_; }

  /// On the tube, from this side: the shear where the lip leaves it and what rests on the arc.
  [[nodiscard]] double load() const {
    const double shear = bending_ * (row(0, 3) * amplitude_).value().real();
    return shear + tension_ * std::tan(angle_) + foundation_ * area_over_arc() +
           load_ * radius_mm_ * std::sin(angle_);
  }

  /// Under the lip, less half the tube's section above the skin.
  [[nodiscard]] double channel_area() const {
    const Complex first = (1.0 - std::exp(-decay_[0] * length_mm_)) / decay_[0];
    const Complex second = (1.0 - std::exp(-decay_[1] * length_mm_)) / decay_[1];
    const Complex free =
        first * (amplitude_(0) + amplitude_(2)) + second * (amplitude_(1) + amplitude_(3));
    const double cosine = std::clamp(1 - height_mm_ / radius_mm_, -1.0, 1.0);
    const double segment =
        radius_mm_ * radius_mm_ * (std::acos(cosine) - cosine * std::sqrt(1 - cosine * cosine));
    return free.real() - load_ / foundation_ * length_mm_ + area_over_arc() - segment / 2;
  }

 private:
  /// The n-th derivatives of the four exponentials at x from where the free part starts.
  [[nodiscard]] Row4c row(double x, int n) const {
    const double back = length_mm_ - x;
    std::array<Complex, 2> power{1, 1};
    for (int i = 0; i < n; ++i) {
      power[0] *= decay_[0];
      power[1] *= decay_[1];
    }
    const double sign = n % 2 == 0 ? 1 : -1;
    return {sign * power[0] * std::exp(-decay_[0] * x), sign * power[1] * std::exp(-decay_[1] * x),
            power[0] * std::exp(-decay_[0] * back), power[1] * std::exp(-decay_[1] * back)};
  }
  /// Between skin and lip where it lies on the tube.
  [[nodiscard]] double area_over_arc() const {
    const double sine = std::sin(angle_);
    return (height_mm_ - radius_mm_) * radius_mm_ * sine +
           radius_mm_ * radius_mm_ * (angle_ + sine * std::cos(angle_)) / 2;
  }

  double foundation_ = 0;
  double tension_ = 0;
  double load_ = 0;
  double radius_mm_ = 0;
  double bending_ = 0;
  std::array<Complex, 2> decay_;  ///< real part above 0 [1/mm]
  double length_mm_ = 0;          ///< of the free part
  double angle_ = 0;              ///< that the lip lies on the tube, from its top
  double height_mm_ = 0;
  Vec4c amplitude_ = Vec4c::Zero();
};

/// Where a condition that holds from some value on starts to hold, just before it.
template <typename Condition>
double last_before(double low, double high, const Condition& holds) {
  for (int i = 0; i < 52; ++i) {
    const double middle = (low + high) / 2;
    (holds(middle) ? high : low) = middle;
  }
  return low;
}

/// The side whose height and sunk depth add up to the tube's diameter.
Flank resting_side(const TubeUnderLip& tube, double load) {
  const double skin = tube.skin_stiffness * tube.contact_width_mm;
  Flank side(tube, load);
  const auto too_high = [&] {
    return side.height_mm() + 2 * side.load() / skin >= tube.diameter_mm;
  };
  // Touching the tube at its top only, a longer free part asks for a higher tube.
  const auto too_long = [&](double length_mm) { return !side.lay(0, length_mm) || too_high(); };
  const double least = side.shortest_mm();
  double most = 2 * least;
  constexpr int n_doublings = 100;  // ends even where an input breaks its bounds
  for (int i = 0; i < n_doublings && !too_long(most); ++i) most *= 2;
  side.lay(0, last_before(least, most, too_long));
  if (!side.cuts_tube()) return side;
  // Round the tube, a larger angle asks for a higher one, and the length is the one that leaves
  // the tube with the tube's own bend.
  const auto lay_round = [&](double angle) {
    const auto cuts = [&](double length_mm) {
      return !side.lay(angle, length_mm) || side.cuts_tube();
    };
    side.lay(angle, last_before(least, most, cuts));
  };
  lay_round(last_before(0, std::numbers::pi / 2, [&](double angle) {
    lay_round(angle);
    return too_high();
  }));
  return side;
}

}  // namespace

double duct_flow(const Duct& duct, double pressure, const Gas& gas, double loss) {
  if (duct.area_mm2 <= 0 || pressure <= 0) return 0;
  constexpr double friction_times_reynolds = 40.0 / 3;
  const double hydraulic_mm = 4 * duct.area_mm2 / duct.perimeter_mm;
  const double viscous =
      2 * friction_times_reynolds * gas.viscosity * duct.length_mm / (hydraulic_mm * hydraulic_mm);
  const double inertial = loss * gas.density / 2;
  // As in a slot: exact when either part is small.
  return duct.area_mm2 * 2 * pressure /
         (viscous + std::sqrt(viscous * viscous + 4 * inertial * pressure));
}

TubeChannel tube_channel(const TubeUnderLip& tube, double pressure, const Gas& gas) {
  if (tube.diameter_mm <= 0) return {};
  // Without any load a lip under tension lands nowhere; this little is as good as none.
  const double load = std::max(tube.line_load + tube.gas_share * pressure * tube.contact_width_mm,
                               1e-8 * tube.foundation * tube.diameter_mm);
  const Flank side = resting_side(tube, load);
  const double area = std::max(side.channel_area(), 0.0);
  // As a right-angled triangle of that area along the tube's height.
  const double height = side.height_mm();
  const double base = 2 * area / height;
  const Duct duct{area, base + height + std::hypot(base, height), tube.contact_width_mm};
  const double force = 2 * side.load();
  return {.stand_off_mm = height,
          .span_mm = side.span_mm(),
          .channel_area_mm2 = 2 * area,
          .tube_load = force,
          .skin_pressure = force / (tube.diameter_mm * tube.contact_width_mm),
          .flow = 2 * duct_flow(duct, pressure, gas, seal_law().slot_loss)};
}

}  // namespace rimload
