// Flow of breathing gas through hair pressed between lip and skin.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "leak/slot_flow.hpp"

namespace rimload {

/// Hair that lies under a lip.
struct Hair {
  double length_mm = 0;
  double per_mm2 = 0;  ///< hairs per area of skin
  double diameter_mm = 0;
  double modulus_n_mm2 = 0;  ///< of the hair itself, above 0
};

/// The numbers behind a bed of hair.
struct BeardLaw {
  double van_wyk = 0;          ///< constant of the compaction law
  double loose_fraction = 0;   ///< solid volume over volume without load
  double packed_fraction = 0;  ///< where the bed yields no more
  double forchheimer = 0;      ///< constant of the inertial term
};

/// From `data/beard.json`; see the file for sources.
[[nodiscard]] const BeardLaw& beard_law();

/// Hair as dense as a word of `data/beard.json` says: stubble, short or full.
/// @param length_mm as measured, 0 or more
/// @return nothing for any other word
[[nodiscard]] std::optional<Hair> hair_named(std::string_view density, double length_mm);

/// Solid volume over volume of a bed that carries a pressure: p = Kw E (phi^3 - phi0^3)
/// [van Wyk 1946], from the loose fraction phi0 up to the packed one.
/// @param pressure carried by the hair [N/mm2]; below 0 the bed is loose
[[nodiscard]] double solid_fraction(const Hair& hair, double pressure);

/// Thickness of the bed under a pressure [mm]: solid volume per area of skin over solid fraction,
/// the hair lying flat. Below about one diameter, where hairs no longer cross, it is a mean only.
[[nodiscard]] double bed_thickness(const Hair& hair, double pressure);

/// Permeability of fibres lying at random across the flow [mm2]:
/// K = d^2/(64 phi^1.5 (1 + 56 phi^3)) [Davies 1952].
/// @param solid_fraction above 0; fitted by its author up to about 0.3, beyond that a guess
[[nodiscard]] double fibre_permeability(double diameter_mm, double solid_fraction);

/// A stretch of the path that gas takes through the bed.
struct BedPart {
  double contact = 0;  ///< carried by the hair: traction less the gas in the pores [N/mm2]
  double length_mm = 0;
};

/// Flow per unit width of bed [mm2/s] through parts in series under a pressure difference:
/// P = sum(length (mu v/K + C rho v^2/sqrt(K))), v = q/thickness [Forchheimer 1901].
/// @param pressure [N/mm2], 0 or more
/// @return 0 without hair or without parts
[[nodiscard]] double bed_flow(const Hair& hair, std::span<const BedPart> parts, double pressure,
                              const Gas& gas);

}  // namespace rimload
