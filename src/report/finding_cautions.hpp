// What every finding begins and ends with.
#pragma once

#include <string>
#include <vector>

#include "case/case.hpp"
#include "fit/estimate.hpp"
#include "report/finding_lines.hpp"

namespace rimload {

/// What must be settled before the mask goes on, then the questions not answered. Injured places
/// share one sentence.
void add_cautions(const Case& input, const std::vector<Caution>& cautions, FindingLines& out);

/// Case, cushion, size and face in one line; names a user chose are cut to a length.
[[nodiscard]] std::string case_line(const Case& input);

/// What the face is made of when it is not a scan or a model: a child's hours withheld, questions
/// about measurements, whom the population stands for.
void add_face_remarks(const Case& input, FindingLines& out);

/// That a cushion is in part a typical one; empty when all of it is catalogued.
[[nodiscard]] std::string assumed_line(const std::string& which,
                                       const std::vector<CushionField>& assumed);

/// Places of skin in words, left and right of a site taken together.
[[nodiscard]] std::string list_of(const std::vector<SidedSite>& places);

/// What the program is not.
[[nodiscard]] std::string standing_line();

}  // namespace rimload
