#include "report/strap_curves.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "fit/breath.hpp"
#include "fit/caution.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

// The harder pressed side of each site.
std::vector<std::pair<Site, double>> readings_of(const StrapPoint& point) {
  std::vector<std::pair<Site, double>> out;
  for (const SitePressure& site : point.sites) {
    if (site.site == Site::eyelid) continue;
    const double mmhg = units::to_mmhg(site.sensor);
    const auto same = std::find_if(out.begin(), out.end(),
                                   [&](const auto& each) { return each.first == site.site; });
    if (same == out.end()) {
      out.emplace_back(site.site, mmhg);
    } else {
      same->second = std::max(same->second, mmhg);
    }
  }
  return out;
}

double highest(const StrapCurve& curve) {
  double most = 0;
  for (const auto& stretch : curve.stretches) {
    for (const Vec2& p : stretch) most = std::max(most, p.y());
  }
  return most;
}

// Adds a point; a new stretch begins after a setting at which the mask does not seat.
void extend(StrapCurve& curve, bool breaks, const Vec2& point) {
  if (breaks || curve.stretches.empty()) curve.stretches.emplace_back();
  curve.stretches.back().push_back(point);
}

}  // namespace

std::vector<StrapCurve> pressure_curves(const StrapReport& report) {
  std::vector<std::pair<Site, StrapCurve>> rows;
  bool breaks = true;
  for (const StrapPoint& point : report.sweep.equal) {
    if (point.seated) {
      for (const auto& [which, mmhg] : readings_of(point)) {
        auto row = std::find_if(rows.begin(), rows.end(),
                                [site = which](const auto& each) { return each.first == site; });
        if (row == rows.end()) {
          row = rows.insert(rows.end(), {which, {std::string(words_for(which)), {}}});
        }
        extend(row->second, breaks, {point.mean_n(report.mask), mmhg});
      }
    }
    breaks = !point.seated;
  }
  std::stable_sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) {
    return highest(a.second) > highest(b.second);
  });
  std::vector<StrapCurve> out;
  for (auto& [site, curve] : rows) {
    if (highest(curve) > 0) out.push_back(std::move(curve));
  }
  return out;
}

std::vector<StrapCurve> leak_curves(const StrapReport& report) {
  const auto phases = phases_of(report.input.settings);
  std::vector<StrapCurve> out;
  for (const auto& each : phases) {
    out.push_back({phases.size() == 1 ? "leak" : std::string(name_of(each.phase)), {}});
  }
  if (phases.size() > 1) out.push_back({"mean of the breath", {}});
  bool breaks = true;
  for (const StrapPoint& point : report.sweep.equal) {
    if (point.seated) {
      const double n = point.mean_n(report.mask);
      for (std::size_t k = 0; k < phases.size(); ++k) {
        extend(out[k], breaks, {n, units::to_l_per_min(point.leak[k])});
      }
      if (phases.size() > 1) {
        extend(out.back(), breaks, {n, units::to_l_per_min(point.mean_leak)});
      }
    }
    breaks = !point.seated;
  }
  return out;
}

std::vector<std::pair<double, double>> unseated_ranges(const StrapReport& report) {
  const std::vector<StrapPoint>& points = report.sweep.equal;
  const auto tension = [&](std::size_t k) { return points[k].mean_n(report.mask); };
  std::vector<std::pair<double, double>> out;
  for (std::size_t k = 0; k < points.size(); ++k) {
    if (points[k].seated) continue;
    const double from = k == 0 ? 0 : 0.5 * (tension(k - 1) + tension(k));
    const double to = k + 1 == points.size() ? tension(k) : 0.5 * (tension(k) + tension(k + 1));
    if (k > 0 && !points[k - 1].seated) {
      out.back().second = to;
    } else {
      out.emplace_back(from, to);
    }
  }
  return out;
}

double highest(const std::vector<StrapCurve>& curves) {
  double most = 0;
  for (const StrapCurve& curve : curves) most = std::max(most, highest(curve));
  return most;
}

double leak_axis_end(const std::vector<StrapCurve>& curves, double limit_l_min) {
  double least_of_highest = 0;
  for (const StrapCurve& curve : curves) {
    double least = highest(curve);
    for (const auto& stretch : curve.stretches) {
      for (const Vec2& p : stretch) least = std::min(least, p.y());
    }
    least_of_highest = std::max(least_of_highest, least);
  }
  const double cap = std::max(2.0 * limit_l_min, 1.25 * least_of_highest);
  return std::clamp(1.05 * highest(curves), 1.25 * limit_l_min, cap);
}

bool has_window(const StrapWindow& window) {
  return window.seals &&
         (window.upper_end == WindowEnd::tension_limit || window.upper_n > window.sealing_n);
}

std::string window_sentence(const StrapReport& report) {
  const StrapWindow& window = report.sweep.window;
  if (!window.seals) {
    return fmt::format("No window: no equal tension up to {:g} N a strap seals.",
                       strap_tension_limit_n);
  }
  if (!has_window(window)) {
    return fmt::format(
        "No window: just sealed, at {:.1f} N a strap, the {} is above the limit set.",
        window.sealing_n, place_words(window.upper_site));
  }
  const std::string seals = fmt::format("Shaded: seals from {:.1f} N a strap, ", window.sealing_n);
  switch (window.upper_end) {
    case WindowEnd::user_limit:
      return seals + fmt::format("above the limit set for the {} from {:.1f} N.",
                                 place_words(window.upper_site), window.upper_n);
    case WindowEnd::tension_limit:
      return seals + fmt::format("no upper edge up to {:g} N.", strap_tension_limit_n);
    case WindowEnd::site_rise: break;
  }
  return seals + fmt::format("{} pressed {:.0f} % harder than that from {:.1f} N (a convention).",
                             place_words(window.upper_site), 100 * (window_rise - 1),
                             window.upper_n);
}

}  // namespace rimload
