// What a supplier's table may say of a cushion, or leave to be assumed.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rimload {

enum class CushionField {
  height,     ///< of the rim
  width,      ///< of the rim
  rim_depth,  ///< how far the rim reaches back beside the nose and the mouth
  lip_width,
  stiffness,  ///< of the lip, with its bending, tension and crown radius
  travel,     ///< of the lip, before it bottoms out
  gas_share,
  friction,
  placement,  ///< where the apex sits below the bridge
  straps,     ///< anchors, exits and stiffness of the headgear
  mass,
  anti_asphyxia_valve,
  tube_port
};

inline constexpr std::array all_cushion_fields{
    CushionField::height,    CushionField::width,     CushionField::rim_depth,
    CushionField::lip_width, CushionField::stiffness, CushionField::travel,
    CushionField::gas_share, CushionField::friction,  CushionField::placement,
    CushionField::straps,    CushionField::mass,      CushionField::anti_asphyxia_valve,
    CushionField::tube_port};

/// The name in files, such as `rim_depth`.
[[nodiscard]] std::string_view name_of(CushionField field);
/// In words, such as `rim depth`.
[[nodiscard]] std::string words_for(CushionField field);
[[nodiscard]] std::optional<CushionField> cushion_field_named(std::string_view name);

/// `rim depth, stiffness, travel`; empty for none.
[[nodiscard]] std::string words_for(const std::vector<CushionField>& fields);

}  // namespace rimload
