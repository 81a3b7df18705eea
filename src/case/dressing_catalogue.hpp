// A catalogue of dressings: layers that may lie between cushion and skin.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rimload {

enum class DressingKind { hydrocolloid, foam, hydrogel, film, barrier_film };
/// The name in files, such as `barrier_film`.
[[nodiscard]] std::string_view name_of(DressingKind kind);
/// In words, such as `silicone-faced foam`.
[[nodiscard]] std::string_view words_for(DressingKind kind);

/// How a dressing gives way, in one state of moisture [N/mm2].
struct DressingStiffness {
  double compressive = 0;  ///< Young's modulus in compression
  double shear = 0;
};

struct DressingSize {
  double length_mm = 0;  ///< the longer side
  double width_mm = 0;
  std::optional<double> cost;  ///< of one piece, in the catalogue's currency
};

struct Dressing {
  std::string name;
  DressingKind kind = DressingKind::hydrocolloid;
  double thickness_mm = 0;  ///< without load
  DressingStiffness dry;
  DressingStiffness moist;
  std::optional<double> poisson;  ///< as given; nothing where a shear modulus is given instead
  double friction_on_cushion = 0;
  double friction_on_skin = 0;  ///< where it doesn't stick
  bool sticks_to_skin = false;
  std::vector<DressingSize> sizes;
  bool cut_to_size = false;
  double wear_h = 0;  ///< how long one piece may stay on [h]
};

struct DressingCatalogue {
  std::string about;     ///< where its numbers come from
  std::string currency;  ///< empty where no cost is given
  std::vector<Dressing> dressings;
};

/// Reads a catalogue of dressings, format `src/case/schema/dressings.schema.json`.
///
/// The shear modulus is the one given, or E/(2 (1 + nu)); moist it changes as E does. Beyond the
/// schema: names are unique; exactly one of Poisson's ratio and shear modulus; a shear modulus not
/// above the modulus in compression; each size once, its longer side first; a cost needs the
/// file's currency; a recalled range runs upwards.
/// @param file its name, for messages
/// @throws InputError with every fault found
[[nodiscard]] DressingCatalogue read_dressings(std::string_view text, const std::string& file);

/// The dressing of that name.
/// @param file the catalogue's name, for messages
/// @param path JSON pointer to where the name was asked for
/// @throws InputError that names the nearest valid name
[[nodiscard]] const Dressing& dressing_named(const DressingCatalogue& catalogue,
                                             std::string_view name, const std::string& file,
                                             const std::string& path);

}  // namespace rimload
