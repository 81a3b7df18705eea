// By what a dressing is judged once it has been solved.
#pragma once

namespace rimload {

/// From `data/dressing-choice.json`: conventions of this project, see there.
struct ChoiceRule {
  double helps_by = 0;         ///< least fall of the strain at the place, relative
  double harm_by = 0;          ///< a rise of a reading that counts, relative
  double alike_within = 0;     ///< strains closer than this are called alike, relative
  double clear_of_mm = 0;      ///< of eye, nostril and mouth
  double bulky_mm = 0;         ///< so thick or thicker is bulk
  double stiffness_ratio = 0;  ///< to the tissue beneath, either way
  double edge_rise = 0;        ///< so much harder than bare skin there counts, relative
};
[[nodiscard]] const ChoiceRule& usual_choice_rule();

}  // namespace rimload
