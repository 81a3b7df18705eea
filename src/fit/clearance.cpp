#include "fit/clearance.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace rimload {

namespace {

constexpr double least_to_eye_mm = 4;
constexpr double least_to_nostril_mm = 2;
constexpr double least_to_lips_mm = -1;  // less than that is within what landmarks are good for
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
  double edge = std::numeric_limits<double>::infinity();  ///< lowest, on the skin or not
  [[nodiscard]] bool found() const { return top >= bottom; }
};
LowerRim lower_band(const PhaseState& state, double below_y) {
  constexpr double near_midline_mm = 8;
  LowerRim out;
  for (const ContactSample& sample : state.samples) {
    if (sample.part != Part::rim || std::abs(sample.position.x()) > near_midline_mm) continue;
    // Beyond the end of the chin there is no skin for it to lie on.
    if (sample.position.y() <= below_y) out.edge = std::min(out.edge, sample.position.y());
    if (sample.gap_mm > on_skin_mm || sample.foot.y() > below_y) continue;
    out.top = std::max(out.top, sample.foot.y());
    out.bottom = std::min(out.bottom, sample.foot.y());
  }
  return out;
}

std::string mm_words(double mm) { return mm < 1 ? "less than 1 mm" : fmt::format("{:.0f} mm", mm); }

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
      return fmt::format("The lip lies {} from the {}nostril: it can close it.", mm_words(mm),
                         side);
    case KeepClear::upper_lip:
      return fmt::format("The nasal mask reaches {} over the red of the upper lip.", mm_words(-mm));
    case KeepClear::lower_lip:
      return mm < 0 ? "The rim lies " + mm_words(-mm) +
                          " up on the lower lip: too short for this face."
                    : "The rim ends " + mm_words(mm) + " below the lower lip.";
    case KeepClear::chin_end:
      return mm < 0 ? "The rim hangs " + mm_words(-mm) + " over the end of the chin."
                    : "The rim ends only " + mm_words(mm) + " above the end of the chin.";
    case KeepClear::eye_corner: break;
  }
  return fmt::format("The rim comes within {} of the {}eye.", mm < 1 ? "1 mm" : mm_words(mm), side);
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
  if (type == CushionType::nasal) {
    const LowerRim band = lower_band(state, at("subnasale", Side::midline).y());
    const double red = at("labrale_superius", Side::midline).y();
    const double bottom = band.found() ? band.bottom : band.edge;  // it can span the open mouth
    if (std::isfinite(bottom)) {
      out.push_back({KeepClear::upper_lip, Side::midline, bottom - red, least_to_lips_mm});
    }
    return out;
  }
  // The band below the mouth alone: a below-the-nose mask also crosses the upper lip.
  const LowerRim below = lower_band(state, at("stomion", Side::midline).y());
  if (below.found()) {
    const double red = at("labrale_inferius", Side::midline).y();
    out.push_back({KeepClear::lower_lip, Side::midline, red - below.top, least_to_lips_mm});
  }
  if (std::isfinite(below.edge)) {
    const double end = at("menton", Side::midline).y();
    out.push_back({KeepClear::chin_end, Side::midline, below.edge - end, least_to_chin_end_mm});
  }
  return out;
}

}  // namespace rimload
