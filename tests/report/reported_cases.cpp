#include "reported_cases.hpp"

#include <future>
#include <nlohmann/json.hpp>
#include <random>

#include "fit/fit.hpp"
#include "fit/strap_setting.hpp"
#include "stored_case.hpp"

namespace rimload {

namespace {

using nlohmann::json;

constexpr int n_random = 30;
constexpr unsigned seed = 20;

class Draw {
 public:
  explicit Draw(unsigned index) : engine_(seed * 1000 + index) {}
  int below(int n) { return static_cast<int>(engine_() % static_cast<unsigned>(n)); }
  double between(double low, double high) { return low + (high - low) * below(1001) / 1000.0; }
  bool one_in(int n) { return below(n) == 0; }
  template <typename List>
  std::string of(const List& list) {
    return std::string(list[static_cast<std::size_t>(below(static_cast<int>(list.size())))]);
  }

 private:
  std::mt19937 engine_;
};

std::string random_case(unsigned index) {
  Draw draw(index);
  static constexpr std::array cushions{"demo-oronasal", "demo-oronasal-gel", "demo-nasal",
                                       "demo-below-nose", "demo-total-face"};
  static constexpr std::array sizes{"S", "M", "L"};
  static constexpr std::array postures{"seated", "semi_recumbent", "supine", "left_side",
                                       "right_side"};
  static constexpr std::array questions{"vomiting_likely",      "airway_unprotected",
                                        "altered_mental_state", "facial_injury_or_surgery",
                                        "cannot_remove_mask",   "implant_near_magnets"};
  json out{{"rimload_case", 1}, {"name", "Random case " + std::to_string(index)}};
  const std::string cushion = draw.of(cushions);
  const bool one_size = cushion == "demo-below-nose" || cushion == "demo-total-face";
  out["face"]["model"] = draw.of(face_names);
  out["cushion"] = {{"catalogue", "../catalogue/demo-cushions.json"},
                    {"name", cushion},
                    {"size", one_size ? "M" : draw.of(sizes)}};
  if (draw.one_in(2)) {
    out["settings"]["cpap_cmH2O"] = draw.between(4, 20);
  } else {
    const double expiratory = draw.between(4, 10);
    out["settings"] = {{"expiratory_cmH2O", expiratory},
                       {"inspiratory_cmH2O", expiratory + draw.between(2, 14)}};
  }
  if (!draw.one_in(4)) out["straps"]["tension_N"] = draw.between(0.5, 9);
  out["posture"] = draw.of(postures);
  out["hours_planned"] = draw.below(25);
  for (const char* question : questions) {
    if (!draw.one_in(3)) out["safety"][question] = draw.one_in(2);
  }
  if (draw.one_in(3)) {
    out["injured_skin"] = {{{"site", "nasal_bridge"}}, {{"site", "cheek"}, {"side", "left"}}};
  }
  if (draw.one_in(3)) out["dressing_rule"]["sensor_above_mmHg"] = draw.between(10, 90);
  if (draw.one_in(3)) out["placement"]["shift_left_mm"] = draw.between(-6, 6);
  return out.dump();
}

std::string most_cautious_text() {
  json injured = json::array();
  for (const char* site : {"nasal_bridge", "upper_lip", "chin", "forehead", "occiput"}) {
    injured.push_back({{"site", site}});
  }
  for (const char* site :
       {"nose_side", "cheekbone", "cheek", "mouth_corner", "eyelid", "ear_top", "strap_cheek"}) {
    for (const char* side : {"left", "right"}) injured.push_back({{"site", site}, {"side", side}});
  }
  json out = json::parse(stored_text("demo/cases/no-vent-passive-limb.json"));
  out["name"] = std::string(120, 'N');
  out["straps"] = {{"tension_N", 6}};
  out["settings"] = {{"inspiratory_cmH2O", 20}, {"expiratory_cmH2O", 10}};
  out["injured_skin"] = injured;
  for (const char* question :
       {"vomiting_likely", "airway_unprotected", "altered_mental_state", "facial_injury_or_surgery",
        "cannot_remove_mask", "implant_near_magnets"}) {
    out["safety"][question] = true;
  }
  return out.dump();
}

}  // namespace

const std::vector<ReportedCase>& reported_cases() {
  static const std::vector<ReportedCase> cases = [] {
    std::vector<std::pair<std::string, std::string>> texts;
    for (const char* name : demo_case_names) {
      texts.emplace_back(name, stored_text(std::string("demo/cases/") + name + ".json"));
    }
    for (unsigned k = 0; k < n_random; ++k) texts.emplace_back(random_case(k), random_case(k));
    std::vector<std::future<Estimate>> fits;
    for (const auto& text : texts) {
      fits.push_back(std::async(std::launch::async, [json_text = text.second] {
        return with_strap_note(estimate_fit(case_from(json_text)));
      }));
    }
    std::vector<ReportedCase> out;
    for (std::size_t k = 0; k < texts.size(); ++k) {
      out.push_back({texts[k].first, fits[k].get()});
    }
    return out;
  }();
  return cases;
}

const Estimate& most_cautious() {
  static const Estimate estimate = [] {
    Case input = case_from(most_cautious_text());
    input.cushion.magnets = true;  // no stored cushion has magnets and no vent
    return with_strap_note(estimate_fit(input));
  }();
  return estimate;
}

}  // namespace rimload
