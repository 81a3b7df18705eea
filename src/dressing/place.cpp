#include "dressing/place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>

#include "contact/told_apart.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

// Stations in a row along the closed rim.
struct Run {
  std::size_t first = 0;
  std::size_t count = 0;
};

// What lies on the midline belongs to both sides, else rounding would give it to one of them.
bool is_at(const DressingQuestion& q, const SidedSite& site, const Vec3& foot) {
  constexpr double on_midline_mm = 0.01;
  const SidedSite here = q.site_of(foot);
  return here == site || (here.site == site.site && std::abs(foot.x()) < on_midline_mm);
}

std::vector<bool> pressed_stations(const DressingQuestion& q, const SidedSite& site) {
  std::vector<bool> pressed(q.mask.rim.n_stations(), false);
  for (const ContactSample& sample : q.state.samples) {
    if (sample.part == Part::rim && sample.pressure > 0 && is_at(q, site, sample.foot)) {
      pressed[static_cast<std::size_t>(sample.station)] = true;
    }
  }
  return pressed;
}

bool pad_presses(const DressingQuestion& q, const SidedSite& site) {
  return std::any_of(
      q.state.samples.begin(), q.state.samples.end(), [&](const ContactSample& sample) {
        return sample.part == Part::pad && sample.pressure > 0 && q.site_of(sample.foot) == site;
      });
}

// The shortest run that holds every pressed station: all but the longest bare stretch.
Run covering_run(const std::vector<bool>& pressed) {
  const std::size_t n = pressed.size();
  if (std::find(pressed.begin(), pressed.end(), true) == pressed.end()) return {};
  std::size_t longest = 0;
  std::size_t after = 0;  // the station that follows the longest bare stretch
  std::size_t bare = 0;
  for (std::size_t k = 0; k < 2 * n; ++k) {
    bare = pressed[k % n] ? 0 : bare + 1;
    if (bare > longest) {
      longest = bare;
      after = (k + 1) % n;
    }
  }
  return {after, n - longest};
}

double least_depth(const DressingQuestion& q, const SidedSite& site) {
  double depth = std::numeric_limits<double>::infinity();
  for (const ContactSample& sample : q.state.samples) {
    if (sample.pressure <= 0 || q.site_of(sample.foot) != site) continue;
    depth = std::min(depth, q.tissue.at(SkinMap::chart(sample.foot)).depth_mm);
  }
  return depth;
}

// Where one arrives who goes from a point straight on over the skin, `way` in facial axes. Lengths
// are measured along the skin, as a patch's are.
Vec3 along_skin(const SkinMap& skin, const Vec3& from, const Vec3& way) {
  constexpr double longest_step_mm = 1.5;
  SkinPoint at = skin.closest(from);
  const double length = way.norm();
  const double n_steps = std::max(1.0, std::ceil(length / longest_step_mm));
  for (int k = 0; k < static_cast<int>(n_steps) && length > 0; ++k) {
    const Vec3 level = way - way.dot(at.normal) * at.normal;
    at = skin.closest(at.foot + length / n_steps * level.normalized());
  }
  return at.foot;
}

bool is_injured(const DressingQuestion& q, const SidedSite& site) {
  return std::find(q.injured.begin(), q.injured.end(), site) != q.injured.end();
}

// Half the size of a piece for one station, which stands for half a step of the rim to either side.
struct HalfPiece {
  double along_mm = 0;
  double across_mm = 0;
};
HalfPiece half_piece(const SampledRim& rim) {
  const double spacing = rim.perimeter_mm / static_cast<double>(rim.n_stations());
  return {0.5 * spacing + dressing_margin_mm, 0.5 * rim.section.lip_width_mm + dressing_margin_mm};
}

// The skin beside a station.
Vec3 beside_station(const DressingQuestion& q, const RimStation& station, double along,
                    double across) {
  return along_skin(q.skin, q.state.pose * station.crown,
                    q.state.pose.rotation * (along * station.tangent + across * station.across));
}

// Whether an oval piece for one station would come near injured skin; it is cut by hand.
bool reaches_injury(const DressingQuestion& q, const RimStation& station) {
  constexpr double keep_off_mm = 2;  // assumed
  const HalfPiece piece = half_piece(q.mask.rim);
  const HalfPiece half{piece.along_mm + keep_off_mm, piece.across_mm + keep_off_mm};
  constexpr int n_rings = 3;
  constexpr int n_around = 16;
  for (int ring = 0; ring <= n_rings; ++ring) {
    const double share = static_cast<double>(ring) / n_rings;
    for (int k = 0; k < (ring == 0 ? 1 : n_around); ++k) {
      const double angle = 2 * std::numbers::pi * k / n_around;
      const Vec3 at = beside_station(q, station, share * half.along_mm * std::cos(angle),
                                     share * half.across_mm * std::sin(angle));
      if (is_injured(q, q.site_of(at))) return true;
    }
  }
  return false;
}

// The longest part of a run that begins and ends pressed and whose piece reaches no injured skin.
Run clear_run(const DressingQuestion& q, const Run& run, const std::vector<bool>& pressed) {
  const std::size_t n = pressed.size();
  Run longest;
  Run here;
  for (std::size_t k = 0; k < run.count; ++k) {
    const std::size_t i = (run.first + k) % n;
    if (reaches_injury(q, q.mask.rim.stations[i])) {
      here = {};
      continue;
    }
    if (!pressed[i]) continue;
    if (here.count == 0) here.first = i;
    here.count = (i + n - here.first) % n + 1;
    if (here.count > longest.count) longest = here;
  }
  return longest;
}

// A band along the rim with round ends, laid on the skin.
void draw_outline(const DressingQuestion& q, const Run& run, DressingPlace& place) {
  const SampledRim& rim = q.mask.rim;
  const std::size_t n = rim.n_stations();
  const auto on_skin = [&](const RimStation& station, double along, double across) {
    return beside_station(q, station, along, across);
  };
  const double spacing = rim.perimeter_mm / static_cast<double>(n);
  const HalfPiece half = half_piece(rim);
  const auto end_cap = [&](const RimStation& station, double sign) {
    constexpr int n_steps = 10;
    for (int k = 0; k <= n_steps; ++k) {
      const double angle = std::numbers::pi * k / n_steps;
      place.outline.push_back(on_skin(station, sign * half.along_mm * std::sin(angle),
                                      sign * half.across_mm * std::cos(angle)));
    }
  };
  for (std::size_t k = 0; k + 1 < run.count; ++k) {
    place.outline.push_back(on_skin(rim.stations[(run.first + k) % n], 0, half.across_mm));
  }
  end_cap(rim.stations[(run.first + run.count - 1) % n], 1);
  for (std::size_t k = run.count - 1; k > 0; --k) {
    place.outline.push_back(on_skin(rim.stations[(run.first + k - 1) % n], 0, -half.across_mm));
  }
  end_cap(rim.stations[run.first], -1);
  place.length_mm = static_cast<double>(run.count - 1) * spacing + 2 * half.along_mm;
  place.width_mm = 2 * half.across_mm;
}

// A piece of one side ends at the midline, where that of the other side begins.
void end_at_midline(const SkinMap& skin, DressingPlace& place) {
  if (is_midline(place.site.site)) return;
  constexpr double on_midline_mm = 1e-3;
  const double own = place.site.side == Side::left ? 1 : -1;
  const std::vector<Vec3> whole = std::exchange(place.outline, {});
  double beyond = 0;
  for (std::size_t k = 0; k < whole.size(); ++k) {
    const Vec3& here = whole[k];
    const Vec3& next = whole[(k + 1) % whole.size()];
    const double inside = own * here.x();
    const double inside_next = own * next.x();
    beyond = std::max(beyond, -inside);
    if (inside > on_midline_mm) place.outline.push_back(here);
    const bool crosses = (inside > on_midline_mm) != (inside_next > on_midline_mm);
    if (!crosses) continue;
    const double share = std::clamp(inside / (inside - inside_next), 0.0, 1.0);
    Vec3 edge = skin.closest(here + share * (next - here)).foot;
    edge.x() = 0;
    place.outline.push_back(edge);
  }
  place.length_mm -= beyond;  // the rim crosses the midline square to it
}

// The pad's face with the margin all round and round corners, laid on the skin.
void draw_pad_outline(const DressingQuestion& q, const ForeheadPad& pad, DressingPlace& place) {
  const Vec3 up(0, std::cos(pad.lean_rad), std::sin(pad.lean_rad));
  constexpr int n_steps = 6;
  for (int corner = 0; corner < 4; ++corner) {
    const double x = (corner == 1 || corner == 2 ? -0.5 : 0.5) * pad.width_mm;
    const double y = (corner == 2 || corner == 3 ? -0.5 : 0.5) * pad.height_mm;
    for (int k = 0; k <= n_steps; ++k) {
      const double angle = 0.5 * std::numbers::pi * (corner + static_cast<double>(k) / n_steps);
      const Vec3 way = (x + dressing_margin_mm * std::cos(angle)) * Vec3::UnitX() +
                       (y + dressing_margin_mm * std::sin(angle)) * up;
      place.outline.push_back(
          along_skin(q.skin, q.state.pose * pad.centre_mask, q.state.pose.rotation * way));
    }
  }
  place.length_mm = pad.width_mm + 2 * dressing_margin_mm;
  place.width_mm = pad.height_mm + 2 * dressing_margin_mm;
}

std::string reason_for(const DressingQuestion& q, const DressingRule& rule,
                       const SitePressure& site) {
  const double depth = least_depth(q, {site.site, site.side});
  const double sensor_mmhg = units::to_mmhg(site.sensor);
  const double need_mmhg = rule.times_sealing_need * units::to_mmhg(q.sealing_need);
  std::string reason;
  const auto add = [&](const std::string& text) {
    if (!reason.empty()) reason += "; ";
    reason += text;
  };
  if (depth < rule.bone_depth_below_mm && q.hours_planned >= rule.hours_at_least) {
    add(fmt::format(
        "{:.1f} mm to bone or cartilage for {:g} h (rule: under {:g} mm, {:g} h or more)", depth,
        q.hours_planned, rule.bone_depth_below_mm, rule.hours_at_least));
  }
  if (rule.sensor_above_mmhg > 0 && sensor_mmhg > rule.sensor_above_mmhg) {
    add(fmt::format("{:.0f} mmHg, above the limit set, {:g} mmHg", sensor_mmhg,
                    rule.sensor_above_mmhg));
  }
  if (sensor_mmhg > need_mmhg) {
    add(fmt::format("{:.0f} mmHg, above {:g} times what sealing needs, {:.0f} mmHg", sensor_mmhg,
                    rule.times_sealing_need, units::to_mmhg(q.sealing_need)));
  }
  return reason;
}

}  // namespace

std::vector<DressingPlace> dressing_places(const DressingQuestion& question,
                                           const DressingRule& rule) {
  std::vector<const SitePressure*> order;
  for (const SitePressure& site : question.sites) {
    const bool dressable = site.site != Site::eyelid && site.site != Site::tube;
    if (site.contact_area > 0 && dressable) order.push_back(&site);
  }
  // Two sides that rounding alone tells apart stay in their order.
  std::stable_sort(order.begin(), order.end(), [](const SitePressure* a, const SitePressure* b) {
    return std::round(a->sensor / told_apart) > std::round(b->sensor / told_apart);
  });
  std::vector<DressingPlace> out;
  for (const SitePressure* site : order) {
    std::string reason = reason_for(question, rule, *site);
    if (reason.empty()) continue;
    auto place = dressing_at(question, {site->site, site->side});
    if (!place) continue;
    if (place->cut_short) reason += "; cut short of injured skin";
    place->reason = std::move(reason);
    out.push_back(std::move(*place));
  }
  return out;
}

std::optional<DressingPlace> dressing_at(const DressingQuestion& question, const SidedSite& site) {
  if (is_injured(question, site)) return std::nullopt;
  DressingPlace place;
  place.site = site;
  const std::vector<bool> pressed = pressed_stations(question, site);
  const Run whole = covering_run(pressed);
  const Run run = question.injured.empty() ? whole : clear_run(question, whole, pressed);
  if (run.count > 0) {
    draw_outline(question, run, place);
    end_at_midline(question.skin, place);
    place.cut_short = run.count < whole.count;
  } else if (whole.count == 0 && question.mask.pad && pad_presses(question, site)) {
    draw_pad_outline(question, *question.mask.pad, place);
    const auto on_injury = [&](const Vec3& at) {
      return is_injured(question, question.site_of(at));
    };
    if (std::any_of(place.outline.begin(), place.outline.end(), on_injury)) return std::nullopt;
  } else {
    return std::nullopt;
  }
  return place;
}

}  // namespace rimload
