#include "report/finding_leak.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "fit/breath.hpp"
#include "report/finding_cautions.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

bool is_eye(JetDirection direction) {
  return direction == JetDirection::left_eye || direction == JetDirection::right_eye;
}

void add_eye_jets(const std::vector<LeakSegment>& segments, FindingLines& out) {
  std::string left;
  std::string right;
  for (const LeakSegment& each : segments) {
    if (!is_eye(each.direction)) continue;
    std::string& eye = each.direction == JetDirection::left_eye ? left : right;
    eye += fmt::format("{}{:.1f} L/min from the {}", eye.empty() ? "" : ", ",
                       units::to_l_per_min(each.flow), words_for(each.site.site));
  }
  if (left.empty() && right.empty()) return;
  std::string eyes = "both, " + left;
  if (left != right) {
    eyes = left.empty() ? "" : "left, " + left;
    if (!right.empty()) eyes += (eyes.empty() ? "right, " : "; right, ") + right;
  }
  out.add(1, "Air dries the eye: " + eyes + ".");
}

const SitePressure& under_tube(const PhaseEstimate& phase) {
  return *std::find_if(phase.sites.begin(), phase.sites.end(),
                       [](const SitePressure& each) { return each.site == Site::tube; });
}

}  // namespace

// The first leak is at the weakest station of the phase of highest gas pressure, sealed or not.
void add_leak(const Estimate& estimate, FindingLines& out) {
  const PhaseEstimate& phase = estimate.phases.back();
  const std::vector<LeakSegment>& segments = phase.leak.segments;
  const double mean = units::to_l_per_min(estimate.breath_mean_leak);
  const SidedSite weakest = phase.seal.weakest_site;
  const std::string weakest_words = list_of(weakest_sites(phase.seal));
  const std::string when =
      estimate.input.settings.bilevel ? fmt::format(" ({})", name_of(phase.phase)) : "";
  const bool rim_leaks = std::any_of(segments.begin(), segments.end(),
                                     [](const auto& each) { return each.cause == LeakCause::fit; });
  const std::string of_the_breath = fmt::format(
      "Mean over the breath {:.1f} L/min, {} the limit set, {:g}, {} the target, {:g}; a vent's "
      "own flow not counted.",
      mean, mean > estimate.input.leak_limit_l_min ? "above" : "within",
      estimate.input.leak_limit_l_min, mean > estimate.input.leak_target_l_min ? "above" : "within",
      estimate.input.leak_target_l_min);
  if (!rim_leaks) {
    out.add(1, fmt::format("First leak of the lip itself, if straps ease or pressure rises: {}.",
                           weakest_words));
    if (mean > 0) out.add(1, of_the_breath);
  }
  if (segments.empty()) return;
  add_eye_jets(segments, out);
  if (!rim_leaks) return;
  const auto first = std::find_if(segments.begin(), segments.end(),
                                  [&](const LeakSegment& each) { return each.site == weakest; });
  std::string text = "First leak" + when + ": " + weakest_words;
  if (first != segments.end() && !is_eye(first->direction)) {  // of eyes it is told above
    text += fmt::format(", {:.1f} L/min{} {}", units::to_l_per_min(first->flow),
                        weakest_sites(phase.seal).size() > 1 ? " each" : "",
                        words_for(first->direction));
  }
  out.add(1, text + ". " + of_the_breath);
}

// What breaks the seal, largest first, as means over the breath.
void add_causes(const Estimate& estimate, FindingLines& out) {
  const Case& input = estimate.input;
  const auto breath = phases_of(input.settings);
  double beard = 0;
  double tube = 0;
  double mouth = 0;
  double port = 0;
  const PhaseEstimate* crossing = nullptr;  // the phase in which it presses hardest
  for (std::size_t k = 0; k < estimate.phases.size(); ++k) {
    const PhaseEstimate& phase = estimate.phases[k];
    for (const LeakSegment& segment : phase.leak.segments) {
      if (segment.cause == LeakCause::beard) beard += breath[k].share * segment.flow;
    }
    if (phase.under.tube) {
      if (crossing == nullptr || under_tube(phase).sensor > under_tube(*crossing).sensor) {
        crossing = &phase;
      }
      tube += breath[k].share * phase.under.tube->channel.flow;
    }
    mouth += breath[k].share * phase.leak.mouth;
    port += breath[k].share * phase.leak.port;
  }
  const double least_flow = units::from_l_per_min(0.05);  // less is printed as none
  const auto litres = [](double flow) {
    return fmt::format("{:.1f} L/min", units::to_l_per_min(flow));
  };
  std::vector<std::pair<double, std::string>> causes;
  if (input.beard && beard >= least_flow) {
    causes.emplace_back(
        beard,
        fmt::format("beard ({}, {:g} mm) {}; a strip shaved beneath the rim ends it",
                    name_of(input.beard->region), input.beard->hair.length_mm, litres(beard)));
  }
  const auto beneath_tube = [&] {
    const SitePressure& site = under_tube(*crossing);
    return fmt::format("it presses the skin beneath it with {:.0f} mmHg ({:.0f} over 1 cm2)",
                       units::to_mmhg(site.peak), units::to_mmhg(site.sensor));
  };
  if (crossing != nullptr && tube >= least_flow) {
    causes.emplace_back(tube, fmt::format("tube ({:g} Fr) {}; {}", input.tube->size_fr,
                                          litres(tube), beneath_tube()));
  }
  if (mouth > 0) {
    causes.emplace_back(
        mouth, "open mouth " + litres(mouth) + "; a mask over nose and mouth holds it inside");
  }
  std::stable_sort(causes.begin(), causes.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  for (const auto& [flow, words] : causes) out.add(1, "Breaks the seal: " + words + ".");
  if (input.beard && beard < least_flow) {
    out.add(2, "The beard lets no air pass that counts (less than 0.05 L/min).");
  }
  if (crossing != nullptr && tube < least_flow) {
    out.add(2, "The tube lets no air pass that counts (less than 0.05 L/min), but " +
                   beneath_tube() + ".");
  }
  if (input.tube && crossing == nullptr) {
    out.add(2, input.tube->through_port
                   ? "The tube goes through the cushion's port, whose seal leaks about " +
                         litres(port) + "."
                   : "The tube crosses no pressed part of the rim as its path is given.");
  }
  if (input.dentures == Dentures::out) {
    out.add(3,
            "Dentures out: the face is taken with lips sunk in and a shorter chin (common "
            "practice, no source); dentures that fit tightly, worn, may help the seal.");
  }
}

}  // namespace rimload
