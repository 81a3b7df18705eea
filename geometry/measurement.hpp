// Facial dimensions that surveys publish and a tape or calliper takes: distances of two landmarks.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/landmark.hpp"

namespace rimload {

enum class Measure {
  face_width,               ///< zygion to zygion (bizygomatic)
  face_length,              ///< sellion to menton
  sellion_supramentale,     ///< bridge to below the lower lip
  nose_length,              ///< sellion to subnasale
  nose_breadth,             ///< alare to alare
  nose_protrusion,          ///< subnasale to pronasale, along the straight line between them
  nasal_root_breadth,       ///< nasal_root_side to nasal_root_side
  lip_length,               ///< cheilion to cheilion
  menton_subnasale,         ///< height of the lower face
  bigonial_breadth,         ///< gonion to gonion
  minimum_frontal_breadth,  ///< frontotemporale to frontotemporale
  inner_canthal_breadth,    ///< endocanthion to endocanthion
  outer_canthal_breadth,    ///< exocanthion to exocanthion
  interpupillary_breadth,   ///< lid_front to lid_front: the closed lid is foremost over the pupil
};

inline constexpr std::array all_measures{Measure::face_width,
                                         Measure::face_length,
                                         Measure::sellion_supramentale,
                                         Measure::nose_length,
                                         Measure::nose_breadth,
                                         Measure::nose_protrusion,
                                         Measure::nasal_root_breadth,
                                         Measure::lip_length,
                                         Measure::menton_subnasale,
                                         Measure::bigonial_breadth,
                                         Measure::minimum_frontal_breadth,
                                         Measure::inner_canthal_breadth,
                                         Measure::outer_canthal_breadth,
                                         Measure::interpupillary_breadth};

/// The name in files, such as `face_width`.
[[nodiscard]] std::string_view name_of(Measure measure);
/// The name in words, such as `face width (bizygomatic)`.
[[nodiscard]] std::string_view words_for(Measure measure);
[[nodiscard]] std::optional<Measure> measure_named(std::string_view name);

/// What a measure of a face shall be.
struct MeasureTarget {
  Measure measure = Measure::face_width;
  double target_mm = 0;
  std::string source;  ///< where the number is from
};

/// A measure of a face and how it changes with the landmarks.
struct Measured {
  double value_mm = 0;
  Eigen::VectorXd gradient;  ///< by the stacked landmark positions (x0, y0, z0, x1, ...)
};

/// The measure m = |a - b| of the two landmarks it is taken between. [mm]
/// @throws InputError when the face lacks one of them.
[[nodiscard]] double measure(std::span<const Landmark> landmarks, Measure measure);
/// The measure with its gradient (a - b)/m by a and (b - a)/m by b; 3 n numbers.
[[nodiscard]] Measured measure_with_gradient(std::span<const Landmark> landmarks, Measure measure);

}  // namespace rimload
