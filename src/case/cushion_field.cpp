#include "case/cushion_field.hpp"

#include <algorithm>

namespace rimload {

std::string_view name_of(CushionField field) {
  switch (field) {
    case CushionField::height: return "height";
    case CushionField::width: return "width";
    case CushionField::rim_depth: return "rim_depth";
    case CushionField::lip_width: return "lip_width";
    case CushionField::stiffness: return "stiffness";
    case CushionField::travel: return "travel";
    case CushionField::gas_share: return "gas_share";
    case CushionField::friction: return "friction";
    case CushionField::placement: return "placement";
    case CushionField::straps: return "straps";
    case CushionField::anti_asphyxia_valve: return "anti_asphyxia_valve";
    case CushionField::tube_port: return "tube_port";
    case CushionField::mass: break;
  }
  return "mass";
}

std::string words_for(CushionField field) {
  if (field == CushionField::anti_asphyxia_valve) return "no valve against asphyxia";
  if (field == CushionField::tube_port) return "no port for a tube";
  std::string out(name_of(field));
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

std::optional<CushionField> cushion_field_named(std::string_view name) {
  for (const CushionField field : all_cushion_fields) {
    if (name_of(field) == name) return field;
  }
  return std::nullopt;
}

std::string words_for(const std::vector<CushionField>& fields) {
  std::string out;
  for (const CushionField field : fields) out += (out.empty() ? "" : ", ") + words_for(field);
  return out;
}

}  // namespace rimload
