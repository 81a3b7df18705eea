// What the user finds on a wearer's skin: what makes it bear less, and what is injury.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rimload {

/// Each only widens the band to its cautious side, or chooses that side.
enum class SkinModifier { poor_perfusion, oedema, fragile_skin };
enum class Moisture { dry, moist, wet };
/// No modifier: an injury that is there already.
enum class InjurySign {
  broken_skin,
  non_blanching_redness,
  mucosal_injury,
  injured_skin  ///< found, of a kind not said
};

inline constexpr std::array skin_modifiers{SkinModifier::poor_perfusion, SkinModifier::oedema,
                                           SkinModifier::fragile_skin};
inline constexpr std::array moistures{Moisture::dry, Moisture::moist, Moisture::wet};
inline constexpr std::array injury_signs{InjurySign::broken_skin, InjurySign::non_blanching_redness,
                                         InjurySign::mucosal_injury, InjurySign::injured_skin};

/// The name in files, such as `poor_perfusion`.
[[nodiscard]] std::string_view name_of(SkinModifier modifier);
[[nodiscard]] std::string_view name_of(Moisture moisture);
[[nodiscard]] std::string_view name_of(InjurySign sign);
[[nodiscard]] std::optional<SkinModifier> skin_modifier_named(std::string_view name);
[[nodiscard]] std::optional<Moisture> moisture_named(std::string_view name);
[[nodiscard]] std::optional<InjurySign> injury_sign_named(std::string_view name);

/// In words, such as `poor perfusion`, from `data/skin-modifiers.json`.
[[nodiscard]] const std::string& words_for(SkinModifier modifier);
[[nodiscard]] const std::string& words_for(Moisture moisture);
[[nodiscard]] const std::string& words_for(InjurySign sign);

/// Whether the shear of a site comes from a balance whose friction was that of dry skin, or of the
/// moisture given.
enum class FrictionUsed { dry, as_moist };

/// The skin of one site as the user finds it.
struct SiteSkin {
  Moisture moisture = Moisture::dry;
  FrictionUsed friction = FrictionUsed::dry;
  std::vector<SkinModifier> modifiers;  ///< one twice counts once
  std::vector<InjurySign> injuries;
};

/// How much less skin bears at the cautious end.
struct SkinWeakening {
  double bears = 1;  ///< times the load borne, above 0 to 1: the product of all that is chosen
  double shear = 1;  ///< times the shear, 1 or more
};
/// From `data/skin-modifiers.json`; every `bears` is assumed, and so is that they multiply.
[[nodiscard]] SkinWeakening weakening_of(const SiteSkin& skin);

}  // namespace rimload
