// A page that shows where each dimension of a face is taken.
#pragma once

#include <string>
#include <vector>

#include "case/measured_face.hpp"
#include "report/image.hpp"

namespace rimload {

/// The face to draw on, and what is known of it already.
struct MeasuringGuide {
  std::string subtitle = {};  ///< empty: how to measure in general
  std::vector<Landmark> landmarks;
  std::vector<FaceMeasurement> taken = {};  ///< shown beside their names
};

/// A page 1400 px wide: the face from the front and from the wearer's left with a numbered line for
/// each dimension, and how to take each, in the order of `measures_as_taken`.
[[nodiscard]] Image draw_measuring_guide(const MeasuringGuide& guide);

/// How a dimension is called and taken.
struct MeasureWords {
  std::string title;
  std::string how;
};
[[nodiscard]] MeasureWords measuring_words(Measure measure);

/// The same list in words, a line a dimension.
[[nodiscard]] std::string measuring_guide_words();

}  // namespace rimload
