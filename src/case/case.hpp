// What a user asks: face, cushion, settings, straps. As read and checked, defaults filled in.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "case/cushion.hpp"
#include "case/dressing_catalogue.hpp"
#include "case/measured_face.hpp"
#include "case/size_request.hpp"
#include "contact/equilibrium.hpp"
#include "dressing/place.hpp"
#include "geometry/face_model.hpp"
#include "geometry/rim.hpp"
#include "geometry/site.hpp"
#include "leak/mouth_flow.hpp"
#include "leak/obstacles.hpp"
#include "leak/seal_law.hpp"
#include "skin/skin_modifier.hpp"
#include "skin/tolerance.hpp"

namespace rimload {

using Face = FaceModel;

enum class Posture { seated, semi_recumbent, supine, left_side, right_side };
[[nodiscard]] std::string_view name_of(Posture posture);

enum class Circuit { not_named, single_limb_passive, single_limb_active, dual_limb };
[[nodiscard]] std::string_view name_of(Circuit circuit);

/// Gas pressures [N/mm2]. Continuous pressure has both equal.
struct Settings {
  bool bilevel = false;
  double inspiratory = 0;
  double expiratory = 0;
  double inspiratory_fraction = 0.33;  ///< of the breath; common practice, no source
  double oxygen_fraction = 0.21;       ///< of the dry gas, 0.21 to 1
};

/// How tight, in words.
enum class StrapWord { loose, appropriate, tight, below_window, in_window, above_window };
[[nodiscard]] std::string_view name_of(StrapWord word);

/// Straps as the case gives them: a tension for each, or a word.
struct StrapRequest {
  std::vector<double> tension_n;  ///< per strap of the cushion's headgear; empty with a word
  std::optional<StrapWord> word;
};

enum class Dentures { not_said, in, out, loose };
[[nodiscard]] std::string_view name_of(Dentures dentures);

[[nodiscard]] std::string_view name_of(MouthOpening mouth);

/// Answers of the safety gate; an unanswered one is shown as not checked.
struct SafetyAnswers {
  std::optional<bool> vomiting_likely;
  std::optional<bool> airway_unprotected;
  std::optional<bool> altered_mental_state;
  std::optional<bool> facial_injury_or_surgery;
  std::optional<bool> cannot_remove_mask;
  std::optional<bool> implant_near_magnets;
  std::optional<bool> acute_failure;     ///< acute respiratory failure
  std::optional<bool> watched;           ///< someone watches all the time
  std::optional<bool> skin_checked;      ///< skin was looked at; sites below list what was found
  std::vector<SidedSite> injured_sites;  ///< broken, or red and not blanching
};

/// A dressing that the case says is on.
struct WornDressing {
  SidedSite site;
  Dressing dressing;
};

/// What of the fingers passes beneath a strap, flat on the skin.
enum class FingerCheck { two_fingers, one_finger, none };
[[nodiscard]] std::string_view name_of(FingerCheck check);

enum class SkinState { unchanged, red_blanches, red_does_not_blanch, broken };
[[nodiscard]] std::string_view name_of(SkinState state);
/// Redness that does not blanch, and a break.
[[nodiscard]] bool is_injury(SkinState state);

struct SkinSeen {
  SidedSite site;
  SkinState state = SkinState::unchanged;
};

/// What was seen at the bedside at one strap setting, gas as in the case.
struct Observation {
  StrapRequest straps;          ///< neither tension nor word: as the case sets them
  double strap_change_mm = 0;   ///< each shorter by so much than that
  std::optional<double> leak;   ///< unintentional, as the ventilator shows it [mm3/s]
  std::optional<double> doubt;  ///< of the leak, one spread, relative; nothing: the usual one
  std::optional<FingerCheck> finger;
  double skin_after_h = 0;  ///< worn when the skin was looked at
  std::vector<SkinSeen> skin;
};

struct Case {
  std::string name;
  std::string file;  ///< for messages
  Face face;
  std::optional<MeasuredFace> measured;    ///< how the face came about, when from measurements
  std::vector<std::string> scan_remarks;   ///< how it did, when from a scan; else none
  std::optional<double> scan_residual_mm;  ///< RMS of that scan to the face's skin where rims go
  Cushion cushion;
  std::vector<Cushion> catalogue;  ///< every cushion of the file it is from, itself included
  Settings settings;
  StrapRequest straps;
  Posture posture = Posture::semi_recumbent;
  double hours_planned = 8;
  Circuit circuit = Circuit::not_named;
  SafetyAnswers safety;
  PlacementOffset placement;
  std::optional<Beard> beard;
  std::optional<FeedingTube> tube;
  Dentures dentures = Dentures::not_said;
  MouthOpening mouth = MouthOpening::closed;
  SiteSkin skin;  ///< moisture and modifiers of all sites; injuries are in `safety`
  WearPlan wear;  ///< its hours a day are `hours_planned`
  SizeRequest size_request;
  DressingRule dressing_rule;
  std::optional<DressingCatalogue> dressings;  ///< to choose from
  std::vector<WornDressing> worn;
  std::vector<Observation> seen;  ///< injuries among them are in `safety` too
  RimSampling sampling;
  EquilibriumOptions numerics;
  double sealed_above = seal_law().sealed_above;  ///< margin of contact over gas that seals [N/mm2]
  double leak_limit_l_min = 36;        ///< excess above; 24 nasal, 36 oronasal by default
  double leak_target_l_min = 10;       ///< what a fit should reach
  std::vector<std::string> defaulted;  ///< JSON pointers of what was left out and filled in
};

}  // namespace rimload
