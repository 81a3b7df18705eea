#include "fit/under_lip.hpp"

#include "leak/port_flow.hpp"
#include "skin/nail_fold.hpp"

namespace rimload {

UnderLip under_lip(const Case& input, const FaceInUse& face, const Mask& mask,
                   const PhaseState& state, const Gas& gas) {
  UnderLip out;
  out.beard = input.beard;
  if (input.tube) out.tube = tube_crossing(*input.tube, state, mask, face.field(), gas);
  return out;
}

double mouth_leak(const Case& input, double gas_pressure, const Gas& gas) {
  if (input.cushion.type != CushionType::nasal) return 0;
  return mouth_flow(mouth_path(input.mouth), gas_pressure, gas);
}

double port_leak(const Case& input, double gas_pressure, const Gas& gas) {
  if (!input.tube || !input.tube->through_port) return 0;
  return port_flow(port_seal(), input.tube->diameter_mm(), gas_pressure, gas);
}

SitePressure site_of_tube(const TubeCrossing& tube, Side side) {
  SitePressure out;
  out.site = Site::tube;
  out.side = side;
  out.sensor = tube.channel.tube_load / sensor_area_mm2;
  out.sensor_at = tube.at_face;
  out.peak = out.mean = tube.channel.skin_pressure;
  if (tube.channel.skin_pressure > 0) {
    out.contact_area = tube.channel.tube_load / tube.channel.skin_pressure;
  }
  if (out.mean > nail_fold_pressure) out.area_over_32_mmhg = out.contact_area;
  return out;
}

}  // namespace rimload
