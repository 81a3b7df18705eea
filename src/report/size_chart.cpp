#include "report/size_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fit/caution.hpp"
#include "report/chart_ink.hpp"
#include "report/legend.hpp"
#include "report/palette.hpp"
#include "report/size_rule_words.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr int page_width = 1400;
constexpr double margin = 60;
constexpr double plot_left = 430;
constexpr double plot_right = 850;
constexpr double seals_right = 960;
constexpr double straps_right = 1100;
constexpr double leak_right = 1220;
constexpr double row_height = 78;
constexpr double note_height = 26;  // of each further line against a cushion
constexpr Rgb band_shade{150, 178, 214};
constexpr Rgb best_shade{232, 242, 236};
const TextStyle title{44, Weight::semibold, palette::ink};
const TextStyle heading{24, Weight::semibold, palette::ink};
const TextStyle name{26, Weight::semibold, palette::ink};
const TextStyle body{22, Weight::regular, palette::soft_ink};
const TextStyle against{22, Weight::regular, palette::alarm};

// What stands against a cushion, a line each.
std::vector<std::string> notes_on(const SizeCandidate& candidate) {
  std::vector<std::string> out;
  for (const std::string& reason : candidate.excluded) out.push_back("left out: " + reason);
  if (!candidate.excluded.empty()) return out;
  if (!candidate.window.seals) {
    out.push_back(fmt::format("does not seal at any tension up to {:g} N", strap_tension_limit_n));
  } else if (!candidate.estimate) {
    out.emplace_back("does not seat a step past just sealed");
  }
  for (const Clearance& clearance : candidate.too_near) out.push_back(words_for(clearance));
  if (candidate.leaks_too_much) {
    out.emplace_back("leaks more than the limit, through hair, beside a tube or by the mouth too");
  }
  return out;
}

double top_of_scale(const SizeChoice& choice) {
  double most = 0;
  for (const SizeCandidate& candidate : choice.candidates) {
    if (!candidate.rank) continue;
    most =
        std::max(most, candidate.worst_band ? candidate.worst_band->high : candidate.worst.sensor);
  }
  return std::max(40.0, 20 * std::ceil(units::to_mmhg(most) / 20));
}

class Chart {
 public:
  explicit Chart(const SizeChoice& choice) : choice_(choice), scale_mmhg_(top_of_scale(choice)) {}

  [[nodiscard]] Image draw() {
    double y = 250;
    std::vector<double> tops;
    for (const SizeCandidate& candidate : choice_.candidates) {
      tops.push_back(y);
      y += height_of(candidate);
    }
    const double bottom = y;
    Image image(page_width, static_cast<int>(std::ceil(bottom + 246)), palette::paper);
    const auto unranked =
        std::find_if(choice_.candidates.begin(), choice_.candidates.end(),
                     [](const SizeCandidate& candidate) { return !candidate.rank; });
    const auto n_ranked = static_cast<std::size_t>(unranked - choice_.candidates.begin());
    draw_head(image, n_ranked < tops.size() ? tops[n_ranked] : bottom);
    for (std::size_t k = 0; k < tops.size(); ++k) {
      draw_row(image, choice_.candidates[k], tops[k]);
    }
    draw_foot(image, bottom);
    return image;
  }

 private:
  [[nodiscard]] double x_of(double pressure) const {
    const double share = std::min(1.0, units::to_mmhg(pressure) / scale_mmhg_);
    return plot_left + share * (plot_right - plot_left);
  }

  static double height_of(const SizeCandidate& candidate) {
    const std::size_t n = notes_on(candidate).size();
    return row_height + note_height * static_cast<double>(n);
  }

  void draw_head(Image& image, double grid_bottom) const {
    const Case& input = choice_.input;
    put(image, shortened(input.name + ": which mask, which size", title, page_width - 2 * margin),
        title, {margin, 90});
    const std::string pressures =
        input.settings.bilevel
            ? fmt::format("inspiratory {:.4g}, expiratory {:.4g} cmH2O",
                          units::to_cmh2o(input.settings.inspiratory),
                          units::to_cmh2o(input.settings.expiratory))
            : fmt::format("CPAP {:.4g} cmH2O", units::to_cmh2o(input.settings.expiratory));
    put(image,
        fmt::format("Face '{}', {}; straps {:g} mm past just sealed", input.face.name, pressures,
                    choice_.rule.strap_step_mm.value),
        body, {margin, 132});
    const double y = 190;
    put(image, "Worst reading on the skin, mmHg", heading, {plot_left, y});
    put_right(image, "seals", heading, {seals_right, y});
    put_right(image, "straps", heading, {straps_right, y});
    put_right(image, "leak", heading, {leak_right, y});
    put_right(image, "in draws", body, {seals_right, y + 28});
    put_right(image, "N each", body, {straps_right, y + 28});
    put_right(image, "L/min", body, {leak_right, y + 28});
    for (const double tick : round_ticks(scale_mmhg_, 5)) {
      const double x = x_of(units::from_mmhg(tick));
      draw_line(image, {x, y + 40}, {x, grid_bottom}, {.width_px = 1, .colour = palette::hairline});
      put(image, fmt::format("{:g}", tick), body,
          {x - 0.5 * text_width(fmt::format("{:g}", tick), body), y + 30});
    }
  }

  void draw_row(Image& image, const SizeCandidate& candidate, double top) const {
    if (candidate.rank == 1U && choice_.any_fits) {
      fill_box(image,
               {margin - 20, top + 4, page_width - margin + 20, top + height_of(candidate) - 4},
               best_shade, 10);
    }
    const Cushion& cushion = candidate.cushion;
    const double base = top + 34;
    if (candidate.rank) put(image, fmt::format("{}", *candidate.rank), name, {margin, base});
    put(image, shortened(cushion.name + " " + cushion.size, name, plot_left - margin - 60), name,
        {margin + 40, base});
    put(image, std::string(words_for(cushion.type)), body, {margin + 40, base + 28});
    double y = base + 28;
    for (const std::string& note : notes_on(candidate)) {
      y += note_height;
      put(image, shortened(note, against, page_width - 2 * margin - 40), against, {margin + 40, y});
    }
    draw_line(image, {margin, top}, {page_width - margin, top},
              {.width_px = 1, .colour = palette::hairline});
    if (!candidate.rank) return;
    const double middle = top + 34;
    double value = candidate.worst.sensor;
    double left = x_of(value) - 8;
    double right = x_of(value) + 8;
    if (candidate.worst_band) {
      const ValueBand& band = *candidate.worst_band;
      value = band.median;
      left = std::min(left, x_of(band.low));
      right = std::max(right, x_of(band.high));
      fill_box(image, {x_of(band.low), middle - 10, x_of(band.high), middle + 10}, band_shade, 5);
    }
    draw_dot(image, {x_of(value), middle}, 8, palette::ink);
    // Beside the bar, on the side that has room.
    const std::string words =
        fmt::format("{:.0f} {}", units::to_mmhg(value), place_words(candidate.worst.site));
    constexpr double apart = 16;
    if (right + apart + text_width(words, body) < plot_right + 40) {
      put(image, words, body, {right + apart, middle + 8});
    } else {
      put_right(image, words, body, {left - apart, middle + 8});
    }
    if (!candidate.draws.empty()) {
      put_right(image, fmt::format("{:.0f} %", 100 * candidate.seals_share), body,
                {seals_right, base});
    }
    const double sealing =
        candidate.sealing_band ? candidate.sealing_band->median : candidate.window.sealing_n;
    put_right(image, fmt::format("{:.1f}", sealing), body, {straps_right, base});
    const double leak =
        candidate.leak_band ? candidate.leak_band->high : candidate.estimate->breath_mean_leak;
    put_right(image, fmt::format("{:.1f}", units::to_l_per_min(leak)), body, {leak_right, base});
  }

  void draw_foot(Image& image, double bottom) const {
    draw_line(image, {margin, bottom}, {page_width - margin, bottom},
              {.width_px = 1, .colour = palette::hairline});
    const std::string words =
        "Dot: median; bar: 10 to 90 % of the draws of what can't be known (tissue, lip, friction, "
        "contact that seals, straps; a face that was measured or scanned). Leak: what 90 % of the "
        "draws stay below. Ranked: " +
        rule_words(choice_.rule, choice_.input.leak_limit_l_min) + " " +
        rule_source_words(choice_.rule);
    double y = bottom + 44;
    for (const std::string& each : wrapped(words, body, page_width - 2 * margin, 5)) {
      put(image, each, body, {margin, y});
      y += 28;
    }
    const TextStyle warning{22, Weight::semibold, palette::alarm};
    put(image, "Caution", warning, {margin, y + 14});
    put(image,
        "An estimate for planning and teaching, not a medical device. Try it on: look at leak and "
        "skin.",
        TextStyle{22, Weight::regular, palette::ink},
        {margin + text_width("Caution", warning) + 16, y + 14});
  }

  const SizeChoice& choice_;
  double scale_mmhg_;
};

}  // namespace

Image draw_size_chart(const SizeChoice& choice) { return Chart(choice).draw(); }

}  // namespace rimload
