#include "case/cushion.hpp"

#include <algorithm>

namespace rimload {

std::string_view name_of(CushionType type) {
  switch (type) {
    case CushionType::nasal: return "nasal";
    case CushionType::below_nose_oronasal: return "below_nose_oronasal";
    case CushionType::total_face: return "total_face";
    case CushionType::oronasal: break;
  }
  return "oronasal";
}

std::string_view words_for(CushionType type) {
  switch (type) {
    case CushionType::nasal: return "nasal";
    case CushionType::below_nose_oronasal: return "below-the-nose oronasal";
    case CushionType::total_face: return "total-face";
    case CushionType::oronasal: break;
  }
  return "oronasal";
}

bool Cushion::is_assumed(CushionField field) const {
  return std::find(assumed.begin(), assumed.end(), field) != assumed.end();
}

}  // namespace rimload
