#include "dressing/place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "units/units.hpp"

namespace rimload {

namespace {

// Stations whose pressed samples belong to the site, as one run around the closed rim.
struct Run {
  std::size_t first = 0;
  std::size_t count = 0;
};

std::vector<bool> pressed_stations(const DressingQuestion& q, const SidedSite& site) {
  std::vector<bool> pressed(q.mask.rim.n_stations(), false);
  for (const ContactSample& sample : q.state.samples) {
    if (sample.part == Part::rim && sample.pressure > 0 && q.site_of(sample.foot) == site) {
      pressed[static_cast<std::size_t>(sample.station)] = true;
    }
  }
  return pressed;
}

Run longest_run(const std::vector<bool>& pressed) {
  const std::size_t n = pressed.size();
  Run best;
  Run run;
  for (std::size_t k = 0; k < 2 * n; ++k) {
    if (!pressed[k % n]) {
      run.count = 0;
      continue;
    }
    if (run.count == 0) run.first = k % n;
    run.count = std::min(run.count + 1, n);
    if (run.count > best.count) best = run;
  }
  return best;
}

double least_depth(const DressingQuestion& q, const SidedSite& site) {
  double depth = std::numeric_limits<double>::infinity();
  for (const ContactSample& sample : q.state.samples) {
    if (sample.pressure <= 0 || q.site_of(sample.foot) != site) continue;
    depth = std::min(depth, q.tissue.at(SkinMap::chart(sample.foot)).depth_mm);
  }
  return depth;
}

// A band along the rim with round ends, laid on the skin.
void draw_outline(const DressingQuestion& q, const Run& run, DressingPlace& place) {
  const SampledRim& rim = q.mask.rim;
  const std::size_t n = rim.n_stations();
  const auto on_skin = [&](const RimStation& station, double along, double across) {
    const Vec3 point =
        station.crown + along * station.tangent + across * station.across;
    return q.skin.closest(q.state.pose * point).foot;
  };
  const double half = 0.5 * rim.section.lip_width_mm + dressing_margin_mm;
  const auto end_cap = [&](const RimStation& station, double sign) {
    constexpr int n_steps = 10;
    for (int k = 0; k <= n_steps; ++k) {
      const double angle = std::numbers::pi * k / n_steps;
      place.outline.push_back(on_skin(station, sign * dressing_margin_mm * std::sin(angle),
                                      sign * half * std::cos(angle)));
    }
  };
  for (std::size_t k = 0; k + 1 < run.count; ++k) {
    place.outline.push_back(on_skin(rim.stations[(run.first + k) % n], 0, half));
  }
  end_cap(rim.stations[(run.first + run.count - 1) % n], 1);
  for (std::size_t k = run.count - 1; k > 0; --k) {
    place.outline.push_back(on_skin(rim.stations[(run.first + k - 1) % n], 0, -half));
  }
  end_cap(rim.stations[run.first], -1);
  place.length_mm = static_cast<double>(run.count) * rim.perimeter_mm / static_cast<double>(n) +
                    2 * dressing_margin_mm;
  place.width_mm = 2 * half;
}

std::string reason_for(const DressingQuestion& q, const DressingRule& rule,
                       const SitePressure& site) {
  const double depth = least_depth(q, {site.site, site.side});
  const double sensor_mmhg = units::to_mmhg(site.sensor);
  const double need_mmhg = rule.times_sealing_need * units::to_mmhg(q.sealing_need);
  std::string reason;
  const auto add = [&](std::string text) {
    if (!reason.empty()) reason += "; ";
    reason += std::move(text);
  };
  if (depth < rule.bone_depth_below_mm && q.hours_planned >= rule.hours_at_least) {
    add(fmt::format("bone or cartilage {:.1f} mm under the skin (rule: under {:g} mm) for {:g} h "
                    "(rule: {:g} h or more)",
                    depth, rule.bone_depth_below_mm, q.hours_planned, rule.hours_at_least));
  }
  if (rule.sensor_above_mmhg > 0 && sensor_mmhg > rule.sensor_above_mmhg) {
    add(fmt::format("{:.0f} mmHg is above the limit set, {:g} mmHg", sensor_mmhg,
                    rule.sensor_above_mmhg));
  }
  if (sensor_mmhg > need_mmhg) {
    add(fmt::format("{:.0f} mmHg is above {:g} times what sealing needs there, {:.0f} mmHg",
                    sensor_mmhg, rule.times_sealing_need, need_mmhg));
  }
  return reason;
}

}  // namespace

std::vector<DressingPlace> dressing_places(const DressingQuestion& question,
                                           const DressingRule& rule) {
  std::vector<const SitePressure*> order;
  for (const SitePressure& site : question.sites) {
    if (site.contact_area > 0 && site.site != Site::eyelid) order.push_back(&site);
  }
  std::stable_sort(order.begin(), order.end(), [](const SitePressure* a, const SitePressure* b) {
    return a->sensor > b->sensor;
  });
  std::vector<DressingPlace> out;
  for (const SitePressure* site : order) {
    DressingPlace place;
    place.site = {site->site, site->side};
    place.reason = reason_for(question, rule, *site);
    if (place.reason.empty()) continue;
    const Run run = longest_run(pressed_stations(question, place.site));
    if (run.count == 0) continue;
    draw_outline(question, run, place);
    out.push_back(std::move(place));
  }
  return out;
}

}  // namespace rimload
