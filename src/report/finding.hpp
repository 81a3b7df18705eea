// The finding: what a nurse reads first.
#pragma once

#include <string>

#include "fit/estimate.hpp"

namespace rimload {

/// At most 25 lines of at most 100 columns, plain words: cautions first, then whether the mask
/// seats and seals, the most pressed site beside what it is compared with, the first leak, where a
/// dressing goes.
[[nodiscard]] std::string finding(const Estimate& estimate);

}  // namespace rimload
