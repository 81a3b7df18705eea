#include "fit/clearance.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace rimload {

namespace {

constexpr double least_to_eye_mm = 4;
constexpr double least_to_nostril_mm = 2;
constexpr double least_to_lips_mm = 0;
constexpr double least_to_chin_end_mm = 3;
constexpr double on_skin_mm = 1;  // a sample with a smaller gap lies on the skin

// From a point of the face to the nearest sample of the lip on the skin.
double distance_to_lip(const PhaseState& state, const Vec3& point) {
  double least = std::numeric_limits<double>::infinity();
  for (const ContactSample& sample : state.samples) {
    if (sample.part != Part::rim || sample.gap_mm > on_skin_mm) continue;
    least = std::min(least, (sample.foot - point).norm());
  }
  return least;
}

// Highest and lowest point of the lip on the skin near the midline, below a height.
struct LowerRim {
  double top = -std::numeric_limits<double>::infinity();
  double bottom = std::numeric_limits<double>::infinity();
  [[nodiscard]] bool found() const { return top >= bottom; }
};
LowerRim lower_band(const PhaseState& state, double below_y) {
  constexpr double near_midline_mm = 8;
  LowerRim out;
  for (const ContactSample& sample : state.samples) {
    if (sample.part != Part::rim || sample.gap_mm > on_skin_mm) continue;
    if (std::abs(sample.foot.x()) > near_midline_mm || sample.foot.y() > below_y) continue;
    out.top = std::max(out.top, sample.foot.y());
    out.bottom = std::min(out.bottom, sample.foot.y());
  }
  return out;
}

}  // namespace

std::string_view name_of(KeepClear what) {
  switch (what) {
    case KeepClear::nostril: return "nostril";
    case KeepClear::upper_lip: return "upper_lip";
    case KeepClear::lower_lip: return "lower_lip";
    case KeepClear::chin_end: return "chin_end";
    case KeepClear::eye_corner: break;
  }
  return "eye_corner";
}

std::string words_for(const Clearance& clearance) {
  const std::string side =
      clearance.side == Side::midline ? "" : std::string(name_of(clearance.side)) + " ";
  const double mm = clearance.distance_mm;
  switch (clearance.what) {
    case KeepClear::nostril:
      return fmt::format("The lip lies {:.0f} mm from the {}nostril: it can close it.", mm, side);
    case KeepClear::upper_lip:
      return fmt::format("The nasal mask reaches {:.0f} mm over the red of the upper lip.", -mm);
    case KeepClear::lower_lip:
      return mm < 0 ? fmt::format(
                          "The rim lies {:.0f} mm up on the lower lip: too short for this "
                          "face.",
                          -mm)
                    : fmt::format("The rim ends {:.0f} mm below the lower lip.", mm);
    case KeepClear::chin_end:
      return mm < 0 ? fmt::format("The rim hangs {:.0f} mm over the end of the chin.", -mm)
                    : fmt::format("The rim ends only {:.0f} mm above the end of the chin.", mm);
    case KeepClear::eye_corner: break;
  }
  return fmt::format("The rim comes within {:.0f} mm of the {}eye.", mm, side);
}

std::vector<Clearance> rim_clearances(const PhaseState& state, CushionType type,
                                      std::span<const Landmark> landmarks) {
  std::vector<Clearance> out;
  const auto at = [&](std::string_view name, Side side) -> const Vec3& {
    return find_landmark(landmarks, name, side).position_face;
  };
  for (const Side side : {Side::left, Side::right}) {
    const double eye = std::min(distance_to_lip(state, at("endocanthion", side)),
                                distance_to_lip(state, at("lid_lower", side)));
    if (std::isfinite(eye)) out.push_back({KeepClear::eye_corner, side, eye, least_to_eye_mm});
  }
  for (const Side side : {Side::left, Side::right}) {
    const double nostril = distance_to_lip(state, at("nostril_sill", side));
    if (std::isfinite(nostril)) {
      out.push_back({KeepClear::nostril, side, nostril, least_to_nostril_mm});
    }
  }
  const double nose_end = at("subnasale", Side::midline).y();
  const LowerRim band = lower_band(state, nose_end);
  if (!band.found()) return out;
  if (type == CushionType::nasal) {
    const double red = at("labrale_superius", Side::midline).y();
    out.push_back({KeepClear::upper_lip, Side::midline, band.bottom - red, least_to_lips_mm});
    return out;
  }
  // The band below the mouth alone: a below-the-nose mask also crosses the upper lip.
  const LowerRim below = lower_band(state, at("stomion", Side::midline).y());
  if (!below.found()) return out;
  const double red = at("labrale_inferius", Side::midline).y();
  out.push_back({KeepClear::lower_lip, Side::midline, red - below.top, least_to_lips_mm});
  const double end = at("menton", Side::midline).y();
  out.push_back({KeepClear::chin_end, Side::midline, below.bottom - end, least_to_chin_end_mm});
  return out;
}

}  // namespace rimload
