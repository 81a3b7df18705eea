#include "report/samples_csv.hpp"

#include <fmt/format.h>

#include <iterator>

#include "units/units.hpp"

namespace rimload {

std::string samples_csv(const Estimate& estimate) {
  std::string out =
      "phase,part,station,x_mm,y_mm,z_mm,nx,ny,nz,area_mm2,gap_mm,pressure_kPa,tx_kPa,ty_kPa,tz_"
      "kPa,"
      "site\n";
  for (const PhaseEstimate& phase : estimate.phases) {
    if (!phase.seated) continue;
    for (const ContactSample& s : phase.state.samples) {
      const Vec3 shear = s.shear / units::kpa;
      fmt::format_to(std::back_inserter(out), "{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n",
                     name_of(phase.phase), name_of(s.part), s.station, s.position.x(),
                     s.position.y(), s.position.z(), s.normal.x(), s.normal.y(), s.normal.z(),
                     s.area_mm2, s.gap_mm, units::to_kpa(s.pressure), shear.x(), shear.y(),
                     shear.z(), name_of(estimate.face.site_of(s.foot).site));
    }
  }
  return out;
}

}  // namespace rimload
