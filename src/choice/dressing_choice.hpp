// Which dressing where: every kind at every place solved anew, and what that does elsewhere.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "choice/choice_rule.hpp"
#include "choice/dressing_flag.hpp"
#include "fit/breath_reading.hpp"
#include "fit/dressed.hpp"
#include "fit/parts.hpp"
#include "fit/site_section.hpp"

namespace rimload {

/// A strap setting with the breath as it is there.
struct SettingReading {
  double mean_n = 0;  ///< tension a strap, gas off, at placement
  BreathReading breath;
};

/// What the skin of a place bears just sealed; over left and right the larger.
struct PlaceReading {
  double sensor = 0;       ///< [N/mm2]
  double peak = 0;         ///< [N/mm2]
  double shear = 0;        ///< [N/mm2]
  double contact_mm2 = 0;  ///< of both sides together
};

/// What one kind does at one place, or at a pair of places left and right.
struct DressingOption {
  std::vector<WornPiece> pieces;
  SettingReading same_straps;                 ///< as the case has them
  std::optional<SettingReading> just_sealed;  ///< at the lowest tension that seals; nothing: none
  PlaceReading place;
  std::optional<SiteSection> section;  ///< at the place's hardest pressed station, just sealed
  std::optional<SidedSite> next_door;  ///< the other site whose reading rises most, just sealed
  double next_door_before = 0;         ///< [N/mm2]
  double next_door_after = 0;
  std::vector<DressingFlag> flags;
  bool helps = false;
  std::string why;  ///< in words, whether it helps or not
};

/// A place with its bare skin and the options for it.
struct DressedPlace {
  std::vector<DressingPlace> places;  ///< one, or left and right
  PlaceReading bare;
  std::optional<SiteSection> section;   ///< of the bare skin
  std::vector<DressingOption> options;  ///< in the order of the catalogue
  std::optional<std::size_t> best;      ///< of those that help; nothing: bare skin is better
};

/// What padding is for: the largest compression of skin and fat in a slice.
[[nodiscard]] double tissue_strain(const SiteSection& section);

struct DressingChoice {
  Estimate bare;  ///< at the case's straps, without dressings
  /// Bare, just sealed; nothing: no tension seals the bare mask, or it doesn't seat, and nothing
  /// below is filled in.
  std::optional<Estimate> before = {};
  SettingReading same_straps = {};  ///< bare
  SettingReading just_sealed = {};
  std::vector<DressedPlace> places = {};        ///< hardest pressed first
  std::optional<DressedPlace> everywhere = {};  ///< all of them with one kind, when there are more
  std::vector<WornPiece> chosen = {};
  std::vector<std::string> left_off = {};  ///< why what helps alone is not among those chosen
  bool worn_left_aside = false;            ///< the case has dressings on
  std::optional<Estimate> after = {};      ///< with those chosen, just sealed; nothing without any
};

/// Solves every dressing of the case's catalogue at every place that needs one, at the case's
/// straps and just sealed, and chooses the fewest that help. Dressings worn in the case are left
/// aside.
///
/// An option helps when just sealed the largest compression of skin and fat at its place falls by
/// `helps_by` while the place's reading does not rise by `harm_by`, nor that of another site that
/// reads half the largest or more. (A sensor of 1 cm2 alone would not show it: padding widens the
/// contact, and the force within the disc can stay.) It must be cuttable to the place. Of those
/// that help alike the thinnest is best. Places are gone through from the hardest pressed; a
/// place's best piece is kept if beside those kept before it still helps. When no single place is
/// helped, one kind at every place is taken if that does.
/// The same for every number of threads.
/// @param progress told of the kinds at places
/// @pre the case names a catalogue of dressings
[[nodiscard]] DressingChoice choose_dressings(const Case& input, int n_threads = 1,
                                              const Progress& progress = {},
                                              const ChoiceRule& rule = usual_choice_rule());

}  // namespace rimload
