// The fixed cases of tests/data/published-cases.json, computed once.
#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "fit/estimate.hpp"

namespace rimload {

/// The data file.
const nlohmann::json& published_cases();

/// Calls f(0) ... f(n - 1) on as many threads as the machine has cores.
void for_each_index(std::size_t n, const std::function<void(std::size_t)>& f);

/// Two sensors taped to the skin of a face, at places that stay.
struct TapedSensors {
  Vec3 bridge_face = Vec3::Zero();
  Vec3 cheek_face = Vec3::Zero();
};

/// One face with one over-nose cushion of the nearest size.
struct FaceAndCushion {
  std::string face;
  Cushion cushion;
  const FaceInUse* prepared = nullptr;

  [[nodiscard]] Case at(const Settings& settings) const;
  const FaceModel* model = nullptr;
};
/// Every face by every over-nose cushion, in the order of the files.
const std::vector<FaceAndCushion>& faces_and_cushions();

/// Where the file tapes the sensors: landmarks of the face, that of the cheek moved to the nearest
/// point under the crown of the rim at placement.
TapedSensors taped_sensors(const FaceAndCushion& pair, const Mask& mask, const Pose& placement);

[[nodiscard]] Settings continuous_pressure(double cmh2o);
[[nodiscard]] Settings two_pressures(double inspiratory_cmh2o, double expiratory_cmh2o);

/// One case solved: what the sensors read, and what else the table shows.
struct Cell {
  bool seated = false;
  double bridge_mmhg = 0;  ///< at the taped place
  double cheek_mmhg = 0;
  double bridge_largest_mmhg = 0;  ///< of the site
  double cheek_largest_mmhg = 0;
  SidedSite weakest;
  double margin_cmh2o = 0;
  double leak_l_min = 0;
};
/// Reads a balance off.
[[nodiscard]] Cell cell_of(const FaceAndCushion& pair, const Mask& mask, const PhaseState& state,
                           const TapedSensors& sensors);

}  // namespace rimload
