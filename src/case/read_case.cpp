#include "case/read_case.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <numbers>

#include "case/dentures.hpp"
#include "case/dressing_catalogue.hpp"
#include "case/face_file.hpp"
#include "case/json_place.hpp"
#include "case/json_text.hpp"
#include "case/nearest_name.hpp"
#include "case/read_seen.hpp"
#include "case/read_settings.hpp"
#include "case/read_site.hpp"
#include "case/read_worn.hpp"
#include "case/scanned_face.hpp"
#include "case/schema.hpp"
#include "case/size_request.hpp"
#include "case/strap_request.hpp"
#include "case/tube_path.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

constexpr double radians_per_degree = std::numbers::pi / 180;
// Leak called excessive, 95th percentiles [Schwab 2013, as listed by Rotty 2019].
constexpr double nasal_leak_limit_l_min = 24;
constexpr double oronasal_leak_limit_l_min = 36;

template <typename Named, std::size_t n>
std::optional<Named> named(const std::optional<std::string>& name,
                           const std::array<Named, n>& values) {
  for (const Named value : values) {
    if (name && name_of(value) == *name) return value;
  }
  return std::nullopt;
}

// What is at fault by the schema is read as if it were absent, so that the rest can still be
// looked at; the case is only given out when there are no faults.
class CaseReader {
 public:
  CaseReader(const std::string& file, const ReadFile& read_file, const ReadCatalogue& catalogue_of,
             std::vector<Fault>& faults)
      : file_(file), read_file_(read_file), catalogue_of_(catalogue_of), faults_(faults) {}

  Case read(const JsonPlace& root) {
    out_.name = root["name"].text().value_or("");
    out_.file = file_;
    read_face(root["face"]);
    const std::optional<Cushion> cushion = find_cushion(root["cushion"]);
    if (cushion) out_.cushion = *cushion;
    SettingsRead settings = read_settings(root["settings"]);
    out_.settings = settings.settings;
    out_.defaulted.insert(out_.defaulted.end(), settings.defaulted.begin(),
                          settings.defaulted.end());
    std::vector<Fault> found = std::move(settings.faults);
    out_.straps = read_straps(root["straps"], cushion, found);
    note(std::move(found));
    if (out_.straps.tension_n.empty() && !out_.straps.word) {
      out_.straps.word = usual_strap_word(out_.cushion.type);
      note_default(root["straps"]["setting"]);
    }
    read_bedside(root);
    read_safety(root["safety"], root["injured_skin"]);
    read_placement(root["placement"]);
    read_teeth_and_mouth(root);
    read_beard(root["beard"]);
    read_tube(root["tube"]);
    read_skin(root["skin"]);
    if (out_.face.child) out_.wear.wearer = Wearer::child;
    read_rule(root["dressing_rule"]);
    out_.size_request = read_size_request(root["sizes"]);
    find_seen(root["seen"], cushion);
    find_dressings(root["dressings"]);
    const JsonPlace sampling = root["sampling"];
    out_.sampling.n_stations = count(sampling["stations"], out_.sampling.n_stations);
    out_.sampling.n_across = count(sampling["across"], out_.sampling.n_across);
    return std::move(out_);
  }

 private:
  void fault(const JsonPlace& place, std::string message) {
    faults_.push_back({file_, place.pointer(), std::move(message)});
  }
  void note(std::vector<Fault> found) {
    for (Fault& each : found) faults_.push_back({file_, each.path, std::move(each.message)});
  }
  void note_default(const JsonPlace& place) { out_.defaulted.push_back(place.pointer()); }

  double number(const JsonPlace& place, double usual) {
    if (!place.present()) note_default(place);
    return place.number().value_or(usual);
  }

  int count(const JsonPlace& place, int usual) {
    constexpr double most = 10000;  // more is a fault by the schema, and need not fit an int
    return static_cast<int>(std::clamp(number(place, usual), 0.0, most));
  }

  // The text of a file that the case names, or nothing with the fault noted.
  std::optional<std::string> text_of(const JsonPlace& place, const std::string& path) {
    try {
      return read_file_(path);
    } catch (const InputError& error) {
      for (const Fault& each : error.faults()) {
        fault(place, in_quotes(each.file) + ": " + each.message);
      }
      return std::nullopt;
    }
  }

  void read_face(const JsonPlace& place) {
    const auto model = place["model"].text();
    const auto file = place["file"].text();
    const JsonPlace taken = place["measurements"];
    const JsonPlace scan = place["scan"];
    const int n_given = static_cast<int>(place["model"].present()) +
                        static_cast<int>(place["file"].present()) +
                        static_cast<int>(taken.present()) + static_cast<int>(scan.present());
    if (n_given > 1) {
      fault(place, "give one of model, file, measurements and scan, not two");
    } else if (place.present() && place.members().empty()) {
      fault(place,
            "give a face model by name (model), a landmarks file (file), measurements of the "
            "wearer (measurements) or a scan");
    }
    if (taken.present()) read_measurements(taken);
    try {
      if (model) {
        if (const FaceModel* face = face_model_named(*model)) {
          out_.face = *face;
        } else {
          fault(place["model"], fmt::format("there is no face model {}{}", in_quotes(*model),
                                            name_hint(*model, face_model_names())));
        }
      }
      if (file) {
        const std::string path = path_beside(file_, *file);
        if (const auto text = text_of(place["file"], path)) {
          out_.face = read_face_file(*text, path);
        }
      }
      if (scan.present() && sound_so_far(scan)) {
        FaceOfScan drawn = scanned_face(scan, file_, read_file_);
        out_.face = std::move(drawn.face);
        out_.scan_remarks = std::move(drawn.remarks);
        out_.scan_residual_mm = drawn.residual_mm;
      }
    } catch (const InputError& error) {
      faults_.insert(faults_.end(), error.faults().begin(), error.faults().end());
    }
  }

  // Faults by the schema are found elsewhere; a face is made only of measurements without any.
  void read_measurements(const JsonPlace& place) {
    std::vector<Fault> found;
    const FaceMeasurements asked = measurements_at(place, found);
    note(std::move(found));
    if (!sound_so_far(place)) return;
    try {
      out_.measured = measure_face(asked, file_, place.pointer());
      out_.face = out_.measured->face;
    } catch (const InputError& error) {
      faults_.insert(faults_.end(), error.faults().begin(), error.faults().end());
    }
  }

  bool sound_so_far(const JsonPlace& place) const {
    return std::none_of(faults_.begin(), faults_.end(), [&](const Fault& each) {
      return each.file == file_ && each.path.starts_with(place.pointer());
    });
  }

  std::optional<Cushion> find_cushion(const JsonPlace& place) {
    const auto file = place["catalogue"].text();
    if (!file) return std::nullopt;
    const std::string path = path_beside(file_, *file);
    const auto text = text_of(place["catalogue"], path);
    if (!text) return std::nullopt;
    try {
      return choose(catalogue_of_(*text, path), place);
    } catch (const InputError& error) {
      faults_.insert(faults_.end(), error.faults().begin(), error.faults().end());
      return std::nullopt;
    }
  }

  std::optional<Cushion> choose(const Catalogue& catalogue, const JsonPlace& place) {
    const auto name = place["name"].text();
    const auto size = place["size"].text();
    std::vector<std::string> names;
    std::vector<std::string> sizes;
    std::optional<Cushion> found;
    out_.catalogue = catalogue.cushions;
    for (const Cushion& cushion : catalogue.cushions) {
      if (names.empty() || names.back() != cushion.name) names.push_back(cushion.name);
      if (cushion.name != name) continue;
      sizes.push_back(cushion.size);
      if (cushion.size == size) found = cushion;
    }
    if (found) return found;
    if (name && sizes.empty()) {
      fault(place["name"], fmt::format("the catalogue has no cushion {}{}", in_quotes(*name),
                                       name_hint(*name, names)));
    } else if (name && size) {
      fault(place["size"], fmt::format("cushion {} has no size {}{}", in_quotes(*name),
                                       in_quotes(*size), name_hint(*size, sizes)));
    }
    return std::nullopt;
  }

  void read_bedside(const JsonPlace& root) {
    constexpr std::array postures{Posture::seated, Posture::semi_recumbent, Posture::supine,
                                  Posture::left_side, Posture::right_side};
    constexpr std::array circuits{Circuit::single_limb_passive, Circuit::single_limb_active,
                                  Circuit::dual_limb};
    if (!root["posture"].present()) note_default(root["posture"]);
    out_.posture = named(root["posture"].text(), postures).value_or(out_.posture);
    out_.circuit = named(root["circuit"].text(), circuits).value_or(Circuit::not_named);
    out_.hours_planned = number(root["hours_planned"], out_.hours_planned);
    out_.leak_limit_l_min = number(root["leak_limit_L_min"], out_.cushion.type == CushionType::nasal
                                                                 ? nasal_leak_limit_l_min
                                                                 : oronasal_leak_limit_l_min);
    out_.leak_target_l_min =
        number(root["leak_target_L_min"], std::min(out_.leak_target_l_min, out_.leak_limit_l_min));
    constexpr double least_limit = 1;  // below it the limit is at fault, not the target
    if (out_.leak_limit_l_min >= least_limit && out_.leak_target_l_min > out_.leak_limit_l_min) {
      fault(root["leak_target_L_min"],
            fmt::format("{:g} L/min is above leak_limit_L_min, {:g} L/min", out_.leak_target_l_min,
                        out_.leak_limit_l_min));
    }
  }

  void read_safety(const JsonPlace& place, const JsonPlace& injured) {
    SafetyAnswers& answers = out_.safety;
    answers.vomiting_likely = place["vomiting_likely"].truth();
    answers.airway_unprotected = place["airway_unprotected"].truth();
    answers.altered_mental_state = place["altered_mental_state"].truth();
    answers.facial_injury_or_surgery = place["facial_injury_or_surgery"].truth();
    answers.cannot_remove_mask = place["cannot_remove_mask"].truth();
    answers.implant_near_magnets = place["implant_near_magnets"].truth();
    answers.acute_failure = place["acute_failure"].truth();
    answers.watched = place["watched"].truth();
    answers.skin_checked = place["skin_checked"].truth();
    for (const JsonPlace& entry : injured.entries()) {
      if (const auto site = sided_site(entry)) answers.injured_sites.push_back(*site);
    }
    if (answers.skin_checked == false && !injured.entries().empty()) {
      fault(place["skin_checked"], "false, yet injured_skin lists what was found");
    }
    if (!answers.injured_sites.empty()) answers.skin_checked = true;
  }

  std::optional<SidedSite> sided_site(const JsonPlace& place) {
    std::vector<Fault> found;
    const auto out = read_site(place, found);
    note(std::move(found));
    return out;
  }

  void find_seen(const JsonPlace& place, const std::optional<Cushion>& cushion) {
    std::vector<Fault> found;
    out_.seen = read_seen(place, cushion, found);
    note(std::move(found));
    out_.safety = with_injuries(std::move(out_.safety), out_.seen);
  }

  void find_dressings(const JsonPlace& place) {
    const auto file = place["catalogue"].text();
    if (!file) return;
    const std::string path = path_beside(file_, *file);
    const auto text = text_of(place["catalogue"], path);
    if (!text) return;
    try {
      out_.dressings = read_dressings(*text, path);
    } catch (const InputError& error) {
      faults_.insert(faults_.end(), error.faults().begin(), error.faults().end());
      return;
    }
    std::vector<Fault> found;
    out_.worn = read_worn(place["worn"], *out_.dressings, path, out_.safety.injured_sites, found);
    note(std::move(found));
  }

  void read_placement(const JsonPlace& place) {
    const double left = number(place["shift_left_mm"], 0);
    const double up = number(place["shift_up_mm"], 0);
    const double in = number(place["push_in_mm"], 0);
    const double down_deg = number(place["turn_down_deg"], 0);
    const double left_deg = number(place["turn_left_deg"], 0);
    const double raise_deg = number(place["raise_left_deg"], 0);
    out_.placement.shift_mm = {left, up, -in};
    out_.placement.turn_rad = Vec3(down_deg, left_deg, raise_deg) * radians_per_degree;
  }

  void read_beard(const JsonPlace& place) {
    constexpr std::array regions{BeardRegion::moustache, BeardRegion::cheek, BeardRegion::chin,
                                 BeardRegion::full};
    const auto region = named(place["region"].text(), regions);
    const auto length = place["hair_mm"].number();
    const auto hair = hair_named(place["density"].text().value_or(""), length.value_or(0));
    if (!region || !length || !hair) return;
    if (place["shaved_under_rim"].truth().value_or(false)) return;
    out_.beard = Beard{*region, *hair};
  }

  void read_tube(const JsonPlace& place) {
    if (!place.present()) return;
    FeedingTube tube;
    if (place["kind"].text() == "orogastric") tube.kind = TubeKind::orogastric;
    tube.side = side_named(place["side"].text().value_or("")).value_or(Side::left);
    tube.size_fr = place["size_Fr"].number().value_or(tube.size_fr);
    tube.through_port = out_.cushion.tube_port;
    for (const JsonPlace& point : place["path_mm"].entries()) {
      if (const auto at = point.triple()) tube.path_face.push_back(*at);
    }
    if (sound_so_far(place)) {
      note(tube_path_faults(tube, place["path_mm"], out_.face.landmarks));
    }
    if (tube.path_face.empty() && !out_.face.landmarks.empty()) {
      tube.path_face = usual_tube_path(tube.kind, tube.side, out_.face.landmarks);
    }
    out_.tube = std::move(tube);
  }

  void read_teeth_and_mouth(const JsonPlace& root) {
    constexpr std::array dentures{Dentures::in, Dentures::out, Dentures::loose};
    constexpr std::array mouths{MouthOpening::closed, MouthOpening::open_at_rest,
                                MouthOpening::mouth_breather};
    out_.dentures = named(root["dentures"].text(), dentures).value_or(Dentures::not_said);
    if (out_.dentures == Dentures::out) out_.face = without_dentures(std::move(out_.face));
    if (!root["mouth"].present()) note_default(root["mouth"]);
    out_.mouth = named(root["mouth"].text(), mouths).value_or(MouthOpening::closed);
  }

  void read_skin(const JsonPlace& place) {
    const auto moisture = place["moisture"].text();
    if (!moisture) note_default(place["moisture"]);
    out_.skin.moisture = moisture_named(moisture.value_or("")).value_or(Moisture::dry);
    for (const JsonPlace& entry : place["modifiers"].entries()) {
      const auto modifier = skin_modifier_named(entry.text().value_or(""));
      if (modifier) out_.skin.modifiers.push_back(*modifier);
    }
    out_.wear.hours_worn = number(place["hours_worn"], out_.wear.hours_worn);
    out_.wear.days = std::max(1, count(place["days"], out_.wear.days));
    out_.wear.policy_h = place["check_every_h"].number();
  }

  void read_rule(const JsonPlace& place) {
    DressingRule& rule = out_.dressing_rule;
    rule.bone_depth_below_mm = number(place["bone_depth_below_mm"], rule.bone_depth_below_mm);
    rule.hours_at_least = number(place["hours_at_least"], rule.hours_at_least);
    rule.sensor_above_mmhg = number(place["sensor_above_mmHg"], rule.sensor_above_mmhg);
    rule.times_sealing_need = number(place["times_sealing_need"], rule.times_sealing_need);
  }

  const std::string& file_;
  const ReadFile& read_file_;
  const ReadCatalogue& catalogue_of_;
  std::vector<Fault>& faults_;
  Case out_;
};

}  // namespace

std::string path_beside(const std::string& file, const std::string& path) {
  const std::size_t slash = file.rfind('/');
  if (path.starts_with('/') || slash == std::string::npos) return path;
  return file.substr(0, slash + 1) + path;
}

Case read_case(std::string_view text, const std::string& file, const ReadFile& read_file,
               const ReadCatalogue& catalogue_of) {
  const nlohmann::json document = parse_json(text, file);
  std::vector<Fault> faults = schema_faults(document, FileKind::case_file, file);
  constexpr const char* measurements = "/face/measurements";
  if (const nlohmann::json::json_pointer at(measurements); document.contains(at)) {
    const auto more = measurement_faults(document.at(at), file, measurements);
    faults.insert(faults.end(), more.begin(), more.end());
  }
  Case out = CaseReader(file, read_file, catalogue_of, faults).read(JsonPlace(document));
  if (!faults.empty()) throw InputError(std::move(faults));
  return out;
}

}  // namespace rimload
