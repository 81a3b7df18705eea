// Every contact sample as a table, so that anyone can check the balance of forces.
#pragma once

#include <string>

#include "fit/estimate.hpp"

namespace rimload {

/// One row a sample and seated phase, touching or not, shortest decimals that read back the same.
///
/// Sum over the rows of a phase of area (p n + t), with the loads of result.json, is zero, and so
/// is the sum of moments about the facial origin; positions are of the loaded mask's surface.
[[nodiscard]] std::string samples_csv(const Estimate& estimate);

}  // namespace rimload
