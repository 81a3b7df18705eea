// The rule by which cushions were ranked, in words.
#pragma once

#include <string>
#include <string_view>

#include "choice/size_rule.hpp"

namespace rimload {

/// What comes first of the cushions that fit, such as "the least worst reading".
[[nodiscard]] std::string_view words_for(SizeMeasure measure);

/// What a cushion must do to fit, what then comes first, and when two tie.
/// @param leak_limit_l_min the case's
[[nodiscard]] std::string rule_words(const SizeRule& rule, double leak_limit_l_min);

/// Which of it the case set, by its keys; the rest is a convention of this project.
[[nodiscard]] std::string rule_source_words(const SizeRule& rule);

}  // namespace rimload
