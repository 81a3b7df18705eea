#include "case/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <numbers>
#include <set>

#include "case/entry_name.hpp"
#include "case/json_place.hpp"
#include "case/json_text.hpp"
#include "case/nearest_name.hpp"
#include "case/rim_check.hpp"
#include "case/schema.hpp"
#include "units/error.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

CushionType type_named(const std::string& name) {
  for (const CushionType type :
       {CushionType::nasal, CushionType::below_nose_oronasal, CushionType::total_face}) {
    if (name_of(type) == name) return type;
  }
  return CushionType::oronasal;
}

// What the schema leaves open is read with the defaults of the structs; what is at fault by the
// schema is read as if it were absent, so that the rest can still be looked at.
class CatalogueReader {
 public:
  CatalogueReader(const std::string& file, std::vector<Fault>& faults)
      : file_(file), faults_(faults) {}

  void read_cushion(const JsonPlace& place, std::vector<Cushion>& out) {
    check_name(place["name"], cushion_names_);
    Cushion cushion;
    cushion.name = place["name"].text().value_or("");
    cushion.type = type_named(place["type"].text().value_or(""));
    cushion.vented = place["vented"].truth().value_or(cushion.vented);
    cushion.anti_asphyxia_valve = place["anti_asphyxia_valve"].truth().value_or(false);
    cushion.magnets = place["magnets"].truth().value_or(false);
    cushion.tube_port = place["tube_port"].truth().value_or(false);
    cushion.friction = place["friction"].number().value_or(cushion.friction);
    read_lip(place["lip"], cushion);
    std::set<std::string> strap_names;
    for (const JsonPlace& strap : place["straps"].entries()) {
      check_name(strap["name"], strap_names);
      cushion.straps.push_back(read_strap(strap));
    }
    if (place["forehead_pad"].present()) cushion.pad = read_pad(place["forehead_pad"]);
    cushion.masses = read_masses(place["masses"]);
    cushion.hose_point_mask = place["hose"]["point_mm"].triple().value_or(Vec3::Zero());
    cushion.hose_pull_n = place["hose"]["pull_N"].triple().value_or(Vec3::Zero());
    std::set<std::string> size_names;
    for (const JsonPlace& size : place["sizes"].entries()) {
      check_name(size["size"], size_names);
      out.push_back(read_size(size, cushion));
    }
  }

 private:
  void fault(const JsonPlace& place, std::string message) {
    faults_.push_back({file_, place.pointer(), std::move(message)});
  }

  void check_name(const JsonPlace& place, std::set<std::string>& taken) {
    const auto name = place.text();
    if (!name) return;
    if (auto wrong = fault_of_name(*name, taken)) fault(place, std::move(*wrong));
  }

  void read_lip(const JsonPlace& place, Cushion& cushion) {
    LipLaw& lip = cushion.lip;
    RimSection& section = cushion.rim.section;
    const auto read = [&](const char* key, double& value, double unit = 1) {
      if (const auto given = place[key].number()) value = *given * unit;
    };
    read("width_mm", section.lip_width_mm);
    read("crown_radius_mm", section.crown_radius_mm);
    read("stiffness_kPa_per_mm", lip.stiffness_n_mm3, units::kpa);
    read("travel_mm", lip.travel_mm);
    read("bottomed_stiffness_kPa_per_mm", lip.bottomed_stiffness_n_mm3, units::kpa);
    read("tangential_stiffness_kPa_per_mm", lip.tangential_stiffness_n_mm3, units::kpa);
    read("gas_share", lip.gas_share);
    read("bending_N_mm2", lip.bending_n_mm2);
    read("hoop_tension_N", lip.hoop_tension_n);
    if (place.present() && lip.bottomed_stiffness_n_mm3 < lip.stiffness_n_mm3) {
      fault(place["bottomed_stiffness_kPa_per_mm"],
            fmt::format("{:g} kPa/mm is below the stiffness before bottoming out, {:g} kPa/mm",
                        units::to_kpa(lip.bottomed_stiffness_n_mm3),
                        units::to_kpa(lip.stiffness_n_mm3)));
    }
  }

  StrapPair read_strap(const JsonPlace& place) {
    StrapPair strap;
    strap.name = place["name"].text().value_or("");
    strap.anchor_mask = read_anchor(place["anchor_mm"]).value_or(Vec3::Zero());
    strap.exit_from_tragion = place["exit_from_tragion_mm"].triple().value_or(Vec3::Zero());
    strap.stiffness_n_mm = place["stiffness_N_per_mm"].number().value_or(strap.stiffness_n_mm);
    strap.width_mm = place["width_mm"].number().value_or(strap.width_mm);
    for (const JsonPlace& bearing : place["bears_on"].entries()) {
      const auto site = site_named(bearing["site"].text().value_or(""));
      if (!site) continue;
      StrapBearing read{*site};
      read.radius_mm = bearing["radius_mm"].number().value_or(read.radius_mm);
      strap.bearings.push_back(read);
    }
    return strap;
  }

  std::optional<Vec3> read_anchor(const JsonPlace& place) {
    const auto anchor = place.triple();
    if (anchor && anchor->x() < 0) {
      fault(place, fmt::format("the left strap's anchor lies on the wearer's left, x not below 0, "
                               "but is at {} mm",
                               anchor->x()));
    }
    return anchor;
  }

  static ForeheadPad read_pad(const JsonPlace& place) {
    ForeheadPad pad;
    pad.centre_mask = place["centre_mm"].triple().value_or(Vec3::Zero());
    pad.width_mm = place["width_mm"].number().value_or(pad.width_mm);
    pad.height_mm = place["height_mm"].number().value_or(pad.height_mm);
    pad.lean_rad = place["lean_deg"].number().value_or(0) * std::numbers::pi / 180;
    if (const auto stiffness = place["stiffness_kPa_per_mm"].number()) {
      pad.stiffness_n_mm3 = units::from_kpa(*stiffness);
    }
    return pad;
  }

  static std::vector<FrameLoad> read_masses(const JsonPlace& place) {
    std::vector<FrameLoad> masses;
    for (const JsonPlace& mass : place.entries()) {
      masses.push_back(
          {mass["point_mm"].triple().value_or(Vec3::Zero()), mass["mass_kg"].number().value_or(0)});
    }
    return masses;
  }

  Cushion read_size(const JsonPlace& place, const Cushion& common) {
    Cushion cushion = common;
    cushion.size = place["size"].text().value_or("");
    cushion.design_face = place["design_face"].text().value_or("");
    cushion.design_face_scale = place["design_face_scale"].number().value_or(1);
    read_assumed(place["assumed"], cushion);
    cushion.apex_below_sellion_mm =
        place["apex_below_sellion_mm"].number().value_or(cushion.apex_below_sellion_mm);
    read_lip(place["lip"], cushion);
    for (const auto& [name, anchor] : place["strap_anchors_mm"].members()) {
      override_anchor(name, anchor, cushion);
    }
    if (const auto centre = place["pad_centre_mm"].triple()) {
      if (cushion.pad) {
        cushion.pad->centre_mask = *centre;
      } else {
        fault(place["pad_centre_mm"], "the cushion has no forehead_pad to move");
      }
    }
    if (place["masses"].present()) cushion.masses = read_masses(place["masses"]);
    read_rim(place["rim"], cushion.rim);
    return cushion;
  }

  static void read_assumed(const JsonPlace& place, Cushion& cushion) {
    std::set<CushionField> fields;
    for (const JsonPlace& entry : place.entries()) {
      if (const auto field = cushion_field_named(entry.text().value_or(""))) fields.insert(*field);
    }
    cushion.assumed.assign(fields.begin(), fields.end());
  }

  void override_anchor(const std::string& name, const JsonPlace& place, Cushion& cushion) {
    std::vector<std::string> names;
    for (StrapPair& strap : cushion.straps) {
      if (strap.name == name) {
        strap.anchor_mask = read_anchor(place).value_or(strap.anchor_mask);
        return;
      }
      names.push_back(strap.name);
    }
    fault(place, "no strap has this name" + name_hint(name, names));
  }

  // Sizes out of range are faults already; sampling them would only overflow.
  static bool can_be_sampled(const Rim& rim) {
    const auto near = [](const RimControl& c) { return c.position_mask.norm() < 500; };
    const RimSection& section = rim.section;
    return std::all_of(rim.controls.begin(), rim.controls.end(), near) &&
           section.lip_width_mm > 0.1 && section.lip_width_mm < 100 &&
           section.crown_radius_mm > 0.1;
  }

  void read_rim(const JsonPlace& place, Rim& rim) {
    std::vector<RimControl> half;
    const std::vector<JsonPlace> points = place.entries();
    for (const JsonPlace& point : points) {
      const auto at = point["at_mm"].triple();
      const auto axis = point["axis"].triple();
      if (!at || !axis) return;
      half.push_back({*at, *axis, point["stiffness_factor"].number().value_or(1)});
    }
    if (half.size() < 3) return;
    const std::vector<RimFault> wrong = half_rim_faults(half);
    for (const RimFault& each : wrong) fault(points[each.point], each.message);
    if (!wrong.empty()) return;
    for (RimControl& control : half) control.axis_mask.normalize();
    rim = whole_rim(half, rim.section);
    if (!can_be_sampled(rim)) return;
    if (const auto fold = folded_lip(rim, half.size())) fault(points[fold->point], fold->message);
  }

  const std::string& file_;
  std::vector<Fault>& faults_;
  std::set<std::string> cushion_names_;
};

}  // namespace

Catalogue read_catalogue(std::string_view text, const std::string& file) {
  const nlohmann::json document = parse_json(text, file);
  std::vector<Fault> faults = schema_faults(document, FileKind::catalogue, file);
  const JsonPlace root(document);
  Catalogue catalogue;
  catalogue.about = root["about"].text().value_or("");
  CatalogueReader reader(file, faults);
  for (const JsonPlace& cushion : root["cushions"].entries()) {
    reader.read_cushion(cushion, catalogue.cushions);
  }
  if (!faults.empty()) throw InputError(std::move(faults));
  return catalogue;
}

}  // namespace rimload
