#include "case/read_settings.hpp"

#include <fmt/format.h>

#include "units/units.hpp"

namespace rimload {

SettingsRead read_settings(const JsonPlace& place) {
  SettingsRead out;
  const auto fault = [&](const JsonPlace& at, std::string message) {
    out.faults.push_back({"", at.pointer(), std::move(message)});
  };
  const auto number = [&](const JsonPlace& at, double usual) {
    if (!at.present()) out.defaulted.push_back(at.pointer());
    return at.number().value_or(usual);
  };
  const JsonPlace continuous = place["cpap_cmH2O"];
  const JsonPlace inspiratory = place["inspiratory_cmH2O"];
  const JsonPlace expiratory = place["expiratory_cmH2O"];
  Settings& settings = out.settings;
  settings.bilevel = inspiratory.present() || expiratory.present();
  if (place.present() && !settings.bilevel && !continuous.present()) {
    fault(place, "give cpap_cmH2O, or inspiratory_cmH2O with expiratory_cmH2O");
  }
  if (settings.bilevel && continuous.present()) {
    fault(place, "give cpap_cmH2O or inspiratory_cmH2O with expiratory_cmH2O, not both kinds");
  } else if (settings.bilevel) {
    for (const JsonPlace& each : {inspiratory, expiratory}) {
      if (!each.present()) fault(each, "missing; needed: a number, 3 to 40 cmH2O");
    }
  }
  const double p_in = inspiratory.number().value_or(0);
  const double p_ex = expiratory.number().value_or(0);
  if (inspiratory.number() && expiratory.number() && p_in <= p_ex) {
    fault(inspiratory, fmt::format("{} cmH2O is not above the expiratory pressure, {} cmH2O; for "
                                   "one pressure all through give cpap_cmH2O",
                                   p_in, p_ex));
  }
  const double p = continuous.number().value_or(0);
  settings.inspiratory = units::from_cmh2o(settings.bilevel ? p_in : p);
  settings.expiratory = units::from_cmh2o(settings.bilevel ? p_ex : p);
  settings.oxygen_fraction = number(place["oxygen_fraction"], settings.oxygen_fraction);
  const JsonPlace fraction = place["inspiratory_fraction"];
  if (settings.bilevel) {
    settings.inspiratory_fraction = number(fraction, settings.inspiratory_fraction);
  } else if (fraction.present() && continuous.present()) {
    fault(fraction, "only bilevel has an inspiratory fraction; leave it out with cpap_cmH2O");
  }
  return out;
}

}  // namespace rimload
