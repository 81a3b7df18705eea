// What a fit finds: everything that result.json, the finding and the pictures show.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "case/case.hpp"
#include "contact/equilibrium.hpp"
#include "contact/mask_on_face.hpp"
#include "dressing/place.hpp"
#include "fit/clearance.hpp"
#include "geometry/site.hpp"
#include "leak/seal.hpp"
#include "skin/site_pressure.hpp"
#include "skin/tolerance_table.hpp"

namespace rimload {

enum class Phase { expiratory, inspiratory, continuous };
/// `expiratory`, `inspiratory` or `continuous`.
[[nodiscard]] std::string_view name_of(Phase phase);

/// A face made ready for fitting.
struct FaceInUse {
  explicit FaceInUse(const FaceModel& model, double poisson = default_poisson);
  /// Of soft tissue, assumed; the evidence holds no value for facial tissue.
  static constexpr double default_poisson = 0.45;

  SkinMap skin;
  TissueMap tissue;
  LayerModulus modulus;
  SiteFinder site_of;
  std::optional<SkinCover> cover;  ///< dressings and swelling
  [[nodiscard]] FaceField field() const {
    return {skin, tissue, modulus, cover ? &*cover : nullptr};
  }
};

/// How the straps lie to the window of equal straps.
enum class StrapPlace { unknown, no_window, below_window, in_window, above_window };

struct PhaseEstimate {
  Phase phase = Phase::continuous;
  PhaseState state;  ///< balance, samples, loads
  bool seated = false;
  std::string reason;                  ///< why it does not seat, empty when it does; then the
                                       ///< members below hold nothing
  std::vector<ContactSample> on_skin;  ///< the samples with what the skin bears beneath dressings
  std::vector<SitePressure> sites;     ///< every contact site, the strap sites, a tube if one
                                       ///< crosses; of the skin, beneath any dressing
  UnderLip under;                      ///< what lies under the lip
  SealSummary seal;
  LeakSummary leak;
};

/// A caution, in the order in which it is to be read.
struct Caution {
  std::string key;    ///< such as `rebreathing`
  std::string text;   ///< one or two plain sentences
  bool stop = false;  ///< needs an answer before the mask goes on
  bool asked = true;  ///< false: the question was not answered, "not checked"
};

/// One site's reading, the largest over the phases.
struct SwollenSite {
  SidedSite site;
  double before = 0;  ///< sensor reading, unswollen [N/mm2]
  double after = 0;
};

/// Skin raised evenly, tissue deepened as much and as stiff as before, straps as long as before.
struct SwellingStep {
  double raise_mm = 0;
  bool seated = false;             ///< in every phase; else the members below hold nothing
  std::vector<SwollenSite> sites;  ///< contact sites that are pressed before or after, then those
                                   ///< under straps
  /// Strap to let out, each as much, until no site reads more than before the swelling; sites that
  /// before read less than half the largest don't count. Nothing: not even slack straps do.
  std::optional<double> let_out_mm;
  bool seals_let_out = false;  ///< whether it then still seals in every phase
};

/// The numbers that are drawn; a measured face is drawn as well. From `cushion_height` on only
/// where they are assumed of the cushion.
enum class Driver {
  tissue,
  poisson,
  lip,
  friction,
  seal_margin,
  straps,
  cushion_height,
  cushion_width,
  rim_depth,
  lip_width,
  travel,
  gas_share,
  placement,
  anchors,
  mass
};
[[nodiscard]] std::string_view name_of(Driver driver);
/// In words, such as `stiffness of the tissue`.
[[nodiscard]] std::string_view words_for(Driver driver);
/// Those of every cushion.
inline constexpr std::array all_drivers{Driver::tissue,   Driver::poisson,     Driver::lip,
                                        Driver::friction, Driver::seal_margin, Driver::straps};

/// 10, 50 and 90 % of values.
struct ValueBand {
  double low = 0;
  double median = 0;
  double high = 0;
};
/// How a value over draws goes with an input: rank correlation, -1 to 1.
struct DriverShare {
  Driver driver = Driver::tissue;
  double correlation = 0;
};

struct SiteBand {
  SidedSite site;
  ValueBand sensor;  ///< largest over the phases [N/mm2]
};

/// The mask at the same straps over draws of what can't be known.
struct FitBands {
  int n_draws = 0;
  double seated_share = 0;           ///< of the draws, in every phase
  double seals_share = 0;            ///< in every phase
  std::vector<SiteBand> sites;       ///< over the draws that seat
  ValueBand leak;                    ///< of the breath [mm3/s]
  std::vector<DriverShare> drivers;  ///< of the hardest pressed site's reading, the strongest first
};

/// A piece of dressing between cushion and skin.
struct WornPiece {
  DressingPlace place;
  Dressing dressing;
};

struct Estimate {
  Case input;  ///< as used, defaults filled in
  FaceInUse face;
  Mask mask;
  Pose placement;
  std::vector<PhaseEstimate> phases;    ///< expiratory then inspiratory, or continuous alone
  double breath_mean_leak = 0;          ///< time mean over the breath [mm3/s]
  std::vector<double> strap_tension_n;  ///< per strap at placement, as solved for or given
  std::string strap_note;  ///< how a word became tensions, and how they lie to the window; empty
                           ///< until asked for where tensions are given, see `with_strap_note`
  StrapPlace strap_place = StrapPlace::unknown;
  std::vector<DressingPlace> dressing_places;  ///< sites that need a dressing, by the rule
  std::vector<WornPiece> worn;                 ///< what is on
  std::vector<Clearance> clearances;           ///< in the first phase; unseated: as put on
  std::vector<SiteTolerance> skin;     ///< of each site pressed or injured, when all phases seat
  std::vector<SwellingStep> swelling;  ///< empty until asked for, see `with_swelling`
  std::optional<FitBands> bands;       ///< nothing until asked for, see `with_bands`
  std::vector<Caution> cautions;
};

}  // namespace rimload
