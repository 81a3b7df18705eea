#include "leak/port_flow.hpp"

#include <nlohmann/json.hpp>
#include <numbers>

#include "leak/seal_law.hpp"
#include "leak_data.hpp"

namespace rimload {

PortSeal port_seal() {
  static const auto table = nlohmann::json::parse(data::port_json());
  return {.clearance_mm = table.at("clearance_mm").at("value").get<double>(),
          .length_mm = table.at("length_mm").at("value").get<double>()};
}

double port_flow(const PortSeal& port, double diameter_mm, double pressure, const Gas& gas) {
  const SlotPart slot{.gap_mm = port.clearance_mm, .length_mm = port.length_mm};
  const double round = std::numbers::pi * (diameter_mm + port.clearance_mm);
  return diameter_mm > 0 ? round * slot_flow({&slot, 1}, pressure, gas, seal_law().slot_loss) : 0;
}

}  // namespace rimload
