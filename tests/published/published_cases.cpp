#include "published_cases.hpp"

#include <algorithm>
#include <atomic>
#include <limits>
#include <memory>
#include <thread>

#include "case/catalogue.hpp"
#include "leak/seal.hpp"
#include "skin/sensor_reading.hpp"
#include "skin/site_pressure.hpp"
#include "stored_face.hpp"
#include "units/units.hpp"

namespace rimload {

const nlohmann::json& published_cases() {
  static const auto json = nlohmann::json::parse(stored_text("tests/data/published-cases.json"));
  return json;
}

void for_each_index(std::size_t n, const std::function<void(std::size_t)>& f) {
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t k = next++; k < n; k = next++) f(k);
  };
  std::vector<std::jthread> threads;
  for (unsigned k = 1; k < std::max(2U, std::thread::hardware_concurrency()); ++k) {
    threads.emplace_back(work);
  }
  work();
}

Case FaceAndCushion::at(const Settings& settings) const {
  Case out;
  out.name = face + ", " + cushion.name;
  out.face = *model;
  out.cushion = cushion;
  out.settings = settings;
  out.posture = Posture::seated;
  return out;
}

const std::vector<FaceAndCushion>& faces_and_cushions() {
  struct Prepared {
    FaceModel model;
    FaceInUse in_use;
    explicit Prepared(FaceModel given) : model(std::move(given)), in_use(model) {}
  };
  static std::vector<std::unique_ptr<Prepared>> faces;
  static const std::vector<FaceAndCushion> all = [] {
    const auto& cases = published_cases();
    const std::string file = cases.at("catalogue");
    const Catalogue catalogue = read_catalogue(stored_text(file), file);
    std::vector<FaceAndCushion> out;
    for (const auto& row : cases.at("faces")) {
      const std::string name = row.at("model");
      faces.push_back(std::make_unique<Prepared>(stored_face(name)));
      for (const Cushion& cushion : catalogue.cushions) {
        const auto& types = cases.at("over_nose_types");
        const bool over_nose =
            std::find(types.begin(), types.end(), name_of(cushion.type)) != types.end();
        if (!over_nose || cushion.size != row.at("size").get<std::string>()) continue;
        out.push_back({.face = name,
                       .cushion = cushion,
                       .prepared = &faces.back()->in_use,
                       .model = &faces.back()->model});
      }
    }
    return out;
  }();
  return all;
}

TapedSensors taped_sensors(const FaceAndCushion& pair, const Mask& mask, const Pose& placement) {
  const auto landmark = [&](const char* name) {
    const auto& place = published_cases().at("sensors").at(name);
    return find_landmark(pair.model->landmarks, place.at("landmark").get<std::string>(),
                         *side_named(place.at("side").get<std::string>()))
        .position_face;
  };
  const SkinMap& skin = pair.prepared->skin;
  TapedSensors out;
  out.bridge_face = skin.closest(landmark("bridge")).foot;
  const Vec3 cheek = landmark("cheek");
  double least = std::numeric_limits<double>::infinity();
  for (const RimStation& station : mask.rim.stations) {
    const Vec3 foot = skin.closest(placement * station.crown).foot;
    const double distance = (foot - cheek).norm();
    if (distance >= least) continue;
    least = distance;
    out.cheek_face = foot;
  }
  return out;
}

Settings continuous_pressure(double cmh2o) {
  Settings settings;
  settings.inspiratory = settings.expiratory = units::from_cmh2o(cmh2o);
  return settings;
}

Settings two_pressures(double inspiratory_cmh2o, double expiratory_cmh2o) {
  Settings settings;
  settings.bilevel = true;
  settings.inspiratory = units::from_cmh2o(inspiratory_cmh2o);
  settings.expiratory = units::from_cmh2o(expiratory_cmh2o);
  return settings;
}

Cell cell_of(const FaceAndCushion& pair, const Mask& mask, const PhaseState& state,
             const TapedSensors& sensors) {
  Cell out;
  out.seated = true;
  out.bridge_mmhg = units::to_mmhg(sensor_reading(state.samples, sensors.bridge_face));
  out.cheek_mmhg = units::to_mmhg(sensor_reading(state.samples, sensors.cheek_face));
  for (const SitePressure& site : site_pressures(state.samples, pair.prepared->site_of)) {
    const double reading = units::to_mmhg(site.sensor);
    if (site.site == Site::nasal_bridge) out.bridge_largest_mmhg = reading;
    if (site.site == Site::cheek) {
      out.cheek_largest_mmhg = std::max(out.cheek_largest_mmhg, reading);
    }
  }
  const SealSummary seal = rim_seal(state, mask, pair.prepared->site_of, humid_gas(0.21));
  out.weakest = seal.weakest_site;
  out.margin_cmh2o = units::to_cmh2o(seal.weakest_margin);
  out.leak_l_min = units::to_l_per_min(rim_leak(seal, state, mask, pair.model->landmarks).total);
  return out;
}

}  // namespace rimload
