#include "report/result_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <numbers>

#include "fit/scan_draw.hpp"
#include "report/face_json.hpp"
#include "report/settings_check.hpp"
#include "report/skin_json.hpp"
#include "report_data.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

using Json = nlohmann::ordered_json;

Json vector(const Vec3& v) { return {v.x(), v.y(), v.z()}; }

Json sided(const SidedSite& site) {
  return {{"site", name_of(site.site)}, {"side", name_of(site.side)}};
}

Json answer(const std::optional<bool>& given) { return given ? Json(*given) : Json(); }

Json safety_json(const SafetyAnswers& safety) {
  return {{"vomiting_likely", answer(safety.vomiting_likely)},
          {"airway_unprotected", answer(safety.airway_unprotected)},
          {"altered_mental_state", answer(safety.altered_mental_state)},
          {"facial_injury_or_surgery", answer(safety.facial_injury_or_surgery)},
          {"cannot_remove_mask", answer(safety.cannot_remove_mask)},
          {"implant_near_magnets", answer(safety.implant_near_magnets)},
          {"skin_checked", answer(safety.skin_checked)}};
}

Json wear_json(const Case& input) {
  Json modifiers = Json::array();
  for (const SkinModifier modifier : input.skin.modifiers) modifiers.push_back(name_of(modifier));
  return {{"moisture", name_of(input.skin.moisture)},
          {"modifiers", std::move(modifiers)},
          {"hours_worn", input.wear.hours_worn},
          {"days", input.wear.days},
          {"check_every_h", input.wear.policy_h ? Json(*input.wear.policy_h) : Json()}};
}

Json beard_json(const Case& input) {
  if (!input.beard) return {};
  const Hair& hair = input.beard->hair;
  constexpr double mm2_per_cm2 = 100;
  return {{"region", name_of(input.beard->region)},
          {"hair_mm", hair.length_mm},
          {"hairs_per_cm2", hair.per_mm2 * mm2_per_cm2},
          {"diameter_mm", hair.diameter_mm}};
}

Json tube_json(const Case& input) {
  if (!input.tube) return {};
  Json path = Json::array();
  for (const Vec3& point : input.tube->path_face) path.push_back(vector(point));
  return {{"kind", name_of(input.tube->kind)},
          {"side", name_of(input.tube->side)},
          {"size_Fr", input.tube->size_fr},
          {"path_mm", std::move(path)}};
}

Json assumed_json(const Cushion& cushion) {
  Json out = Json::array();
  for (const CushionField field : cushion.assumed) out.push_back(name_of(field));
  return out;
}

Json inputs_json(const Estimate& estimate) {
  const Case& input = estimate.input;
  const Settings& settings = input.settings;
  Json pressure;
  if (settings.bilevel) {
    pressure = {{"inspiratory_cmH2O", units::to_cmh2o(settings.inspiratory)},
                {"expiratory_cmH2O", units::to_cmh2o(settings.expiratory)},
                {"inspiratory_fraction", settings.inspiratory_fraction}};
  } else {
    pressure = {{"cpap_cmH2O", units::to_cmh2o(settings.expiratory)}};
  }
  pressure["oxygen_fraction"] = settings.oxygen_fraction;
  Json tension = Json::object();
  for (std::size_t k = 0; k < estimate.mask.straps.size(); ++k) {
    tension[estimate.mask.straps[k].name] = estimate.strap_tension_n[k];
  }
  Json straps{{"tension_N", std::move(tension)}};
  if (input.straps.word) straps["setting"] = name_of(*input.straps.word);
  if (!estimate.strap_note.empty()) straps["note"] = estimate.strap_note;
  Json injured = Json::array();
  for (const SidedSite& site : input.safety.injured_sites) injured.push_back(sided(site));
  const DressingRule& rule = input.dressing_rule;
  return {
      {"name", input.name},
      {"face",
       {{"name", input.face.name},
        {"title", input.face.title},
        {"provenance", input.face.provenance},
        {"symmetry_assumed", input.face.symmetric},
        {"child", input.face.child},
        {"measurements", measurements_json(input)}}},
      {"cushion",
       {{"name", input.cushion.name},
        {"size", input.cushion.size},
        {"type", name_of(input.cushion.type)},
        {"vented", input.cushion.vented},
        {"anti_asphyxia_valve", input.cushion.anti_asphyxia_valve},
        {"magnets", input.cushion.magnets},
        {"tube_port", input.cushion.tube_port},
        {"assumed", assumed_json(input.cushion)}}},
      {"settings", std::move(pressure)},
      {"straps", std::move(straps)},
      {"posture", name_of(input.posture)},
      {"hours_planned", input.hours_planned},
      {"circuit", name_of(input.circuit)},
      {"safety", safety_json(input.safety)},
      {"injured_skin", std::move(injured)},
      {"placement",
       {{"shift_mm", vector(input.placement.shift_mm)},
        {"turn_deg", vector(input.placement.turn_rad * 180 / std::numbers::pi)}}},
      {"beard", beard_json(input)},
      {"tube", tube_json(input)},
      {"dentures", name_of(input.dentures)},
      {"mouth", name_of(input.mouth)},
      {"skin", wear_json(input)},
      {"dressing_rule",
       {{"bone_depth_below_mm", rule.bone_depth_below_mm},
        {"hours_at_least", rule.hours_at_least},
        {"sensor_above_mmHg", rule.sensor_above_mmhg > 0 ? Json(rule.sensor_above_mmhg) : Json()},
        {"times_sealing_need", rule.times_sealing_need}}},
      {"leak_limit_L_min", input.leak_limit_l_min},
      {"leak_target_L_min", input.leak_target_l_min},
      {"sealing_need_mmHg", units::to_mmhg(input.settings.inspiratory + input.sealed_above)},
      {"sampling", {{"stations", input.sampling.n_stations}, {"across", input.sampling.n_across}}},
      {"defaulted", input.defaulted}};
}

// A mask that does not seat has a reason and no numbers that could be taken for an estimate.
Json equilibrium_json(const PhaseEstimate& phase) {
  const PhaseState& state = phase.state;
  Json out{{"seated", phase.seated},           {"reason", phase.reason},
           {"force_residual_N", nullptr},      {"moment_residual_N_mm", nullptr},
           {"evaluations", state.evaluations}, {"pose", nullptr}};
  if (!phase.seated) return out;
  out["force_residual_N"] = state.force_residual_n;
  out["moment_residual_N_mm"] = state.moment_residual_n_mm;
  out["pose"] = {{"translation_mm", vector(state.pose.translation_mm)},
                 {"rotation_vector_rad", vector(state.pose.rotation_vector())},
                 {"about_mm", vector(Vec3::Zero())}};
  return out;
}

Json loads_json(const PhaseState& state) {
  Json straps = Json::array();
  for (const StrapLoad& strap : state.straps) {
    straps.push_back({{"name", strap.name},
                      {"tension_N", strap.tension_n},
                      {"stretch_mm", strap.stretch_mm},
                      {"direction", vector(strap.direction)},
                      {"anchor_mm", vector(strap.anchor_face)}});
  }
  return {
      {"straps", std::move(straps)},
      {"gas",
       {{"pressure_cmH2O", units::to_cmh2o(state.gas.pressure)},
        {"force_N", vector(state.gas.force_n)},
        {"moment_N_mm", vector(state.gas.moment_n_mm)},
        {"area_mm2", state.gas.area_mm2}}},
      {"weight",
       {{"force_N", vector(state.weight.force_n)}, {"point_mm", vector(state.weight.point_mm)}}},
      {"hose",
       {{"force_N", vector(state.hose.force_n)}, {"point_mm", vector(state.hose.point_mm)}}}};
}

Json site_json(const SitePressure& site) {
  const bool strap = is_strap_site(site.site);
  Json out{{"name", name_of(site.site)}, {"side", name_of(site.side)}};
  if (site.site == Site::eyelid) {
    // The skin of the lids is not modelled: only a flag that something touches it.
    out["touched"] = site.contact_area > 0;
    return out;
  }
  out["sensor_mmHg"] = units::to_mmhg(site.sensor);
  out["peak_mmHg"] = units::to_mmhg(site.peak);
  out["mean_mmHg"] = units::to_mmhg(site.mean);
  out["shear_peak_kPa"] = strap ? Json() : Json(units::to_kpa(site.shear_peak));
  if (strap) {
    out["strap_width_mm"] = site.strap_width_mm;
  } else {
    out["sensor_at_mm"] = vector(site.sensor_at);
  }
  out["area_over_32_mmHg_mm2"] = strap ? Json() : Json(site.area_over_32_mmhg);
  out["contact_area_mm2"] = strap ? Json() : Json(site.contact_area);
  return out;
}

// On the skin, in the middle of the lip.
Vec3 weakest_place(const PhaseEstimate& phase) {
  Vec3 sum = Vec3::Zero();
  double n = 0;
  for (const ContactSample& sample : phase.on_skin) {
    if (sample.part != Part::rim) continue;
    if (static_cast<std::size_t>(sample.station) != phase.seal.weakest_station) continue;
    sum += sample.foot;
    ++n;
  }
  return sum / std::max(n, 1.0);
}

Json phase_json(const PhaseEstimate& phase) {
  Json sites = Json::array();
  Json loads;
  Json seal;
  Json leak;
  if (phase.seated) {
    loads = loads_json(phase.state);
    for (const SitePressure& site : phase.sites) sites.push_back(site_json(site));
    seal = {{"sealed_fraction", phase.seal.sealed_fraction},
            {"weakest_margin_cmH2O", units::to_cmh2o(phase.seal.weakest_margin)},
            {"weakest_site", name_of(phase.seal.weakest_site.site)},
            {"weakest_side", name_of(phase.seal.weakest_site.side)},
            {"weakest_at_mm", vector(weakest_place(phase))}};
    Json segments = Json::array();
    for (const LeakSegment& segment : phase.leak.segments) {
      Json row = sided(segment.site);
      row["cause"] = name_of(segment.cause);
      row["direction"] = name_of(segment.direction);
      row["length_mm"] = segment.length_mm;
      row["gap_max_mm"] = segment.gap_max_mm;
      row["flow_L_min"] = units::to_l_per_min(segment.flow);
      row["at_mm"] = vector(segment.at_face);
      row["towards"] = vector(segment.towards);
      segments.push_back(std::move(row));
    }
    leak = {{"total_L_min", units::to_l_per_min(phase.leak.total)},
            {"mouth_L_min", units::to_l_per_min(phase.leak.mouth)},
            {"port_L_min", units::to_l_per_min(phase.leak.port)},
            {"segments", std::move(segments)}};
  }
  return {{"name", name_of(phase.phase)}, {"equilibrium", equilibrium_json(phase)},
          {"loads", std::move(loads)},    {"sites", std::move(sites)},
          {"seal", std::move(seal)},      {"leak", std::move(leak)}};
}

Json band(const ValueBand& values, double (*unit)(double)) {
  return {{"p10", unit(values.low)}, {"p50", unit(values.median)}, {"p90", unit(values.high)}};
}

Json bands_json(const Estimate& estimate) {
  if (!estimate.bands) return {};
  const FitBands& bands = *estimate.bands;
  Json out{{"draws", bands.n_draws},
           {"seated_share", bands.seated_share},
           {"seals_share", bands.seals_share},
           {"sites", Json::array()},
           {"mean_leak_L_min", band(bands.leak, units::to_l_per_min)},
           {"drivers", Json::array()}};
  for (const SiteBand& site : bands.sites) {
    Json row = sided(site.site);
    row["sensor_mmHg"] = band(site.sensor, units::to_mmhg);
    out["sites"].push_back(std::move(row));
  }
  for (const DriverShare& each : bands.drivers) {
    out["drivers"].push_back(
        {{"input", name_of(each.driver)}, {"rank_correlation", each.correlation}});
  }
  const std::string about_scan = scan_draw_words(estimate.input);
  if (!about_scan.empty()) out["scan_draws"] = about_scan;
  return out;
}

Json settings_check_json(const Settings& settings) {
  const SettingsCheck check = check_settings(settings);
  return {{"low_alarm_cmH2O", check.low_alarm_cmh2o},
          {"high_alarm_cmH2O", check.high_alarm_cmh2o},
          {"usual_start", check.usual_start},
          {"alarms", check.alarms},
          {"low_alarm", check.low_alarm},
          {"high_alarm", check.high_alarm},
          {"starts", check.starts}};
}

Json swelling_json(const Estimate& estimate) {
  Json out = Json::array();
  for (const SwellingStep& step : estimate.swelling) {
    Json row{{"raise_mm", step.raise_mm}, {"seated", step.seated}};
    row["let_out_mm"] = step.let_out_mm ? Json(*step.let_out_mm) : Json();
    row["seals_let_out"] = step.let_out_mm ? Json(step.seals_let_out) : Json();
    row["sites"] = Json::array();
    for (const SwollenSite& site : step.sites) {
      Json each = sided(site.site);
      each["before_mmHg"] = units::to_mmhg(site.before);
      each["after_mmHg"] = units::to_mmhg(site.after);
      row["sites"].push_back(std::move(each));
    }
    out.push_back(std::move(row));
  }
  return out;
}

}  // namespace

std::string_view result_schema_text() { return data::result_schema_json(); }

std::string result_json(const Estimate& estimate) {
  Json out{{"rimload_result", 1},
           {"model_version", model_version},
           {"notice",
            "A planning and teaching aid, not a medical device. Estimates are uncertain, tissue "
            "stiffness by a factor of several. Local policy and licensed practice come first."},
           {"inputs", inputs_json(estimate)},
           {"cautions", Json::array()},
           {"phases", Json::array()}};
  for (const Caution& caution : estimate.cautions) {
    out["cautions"].push_back({{"key", caution.key},
                               {"text", caution.text},
                               {"stop", caution.stop},
                               {"checked", caution.asked}});
  }
  bool all_seated = true;
  for (const PhaseEstimate& phase : estimate.phases) {
    out["phases"].push_back(phase_json(phase));
    all_seated = all_seated && phase.seated;
  }
  out["breath_mean_leak_L_min"] =
      all_seated ? Json(units::to_l_per_min(estimate.breath_mean_leak)) : Json();
  out["clearances"] = Json::array();
  for (const Clearance& clearance : estimate.clearances) {
    out["clearances"].push_back({{"what", name_of(clearance.what)},
                                 {"side", name_of(clearance.side)},
                                 {"distance_mm", clearance.distance_mm},
                                 {"least_mm", clearance.least_mm},
                                 {"too_near", clearance.too_near()}});
  }
  out["settings_check"] = settings_check_json(estimate.input.settings);
  out["skin"] = skin_json(estimate.skin);
  out["swelling"] = swelling_json(estimate);
  out["bands"] = bands_json(estimate);
  out["dressings_worn"] = Json::array();
  for (const WornPiece& piece : estimate.worn) {
    Json row = sided(piece.place.site);
    row["dressing"] = piece.dressing.name;
    row["thickness_mm"] = piece.dressing.thickness_mm;
    row["length_mm"] = piece.place.length_mm;
    row["width_mm"] = piece.place.width_mm;
    out["dressings_worn"].push_back(std::move(row));
  }
  out["dressing_places"] = Json::array();
  for (const DressingPlace& place : estimate.dressing_places) {
    Json row = sided(place.site);
    row["length_mm"] = place.length_mm;
    row["width_mm"] = place.width_mm;
    row["reason"] = place.reason;
    row["outline_mm"] = Json::array();
    for (const Vec3& point : place.outline) row["outline_mm"].push_back(vector(point));
    out["dressing_places"].push_back(std::move(row));
  }
  return out.dump(1) + "\n";
}

}  // namespace rimload
