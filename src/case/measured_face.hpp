// A face made of measurements of a person.
#pragma once

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "case/json_place.hpp"
#include "geometry/face_model.hpp"
#include "geometry/face_prior.hpp"
#include "units/error.hpp"

namespace rimload {

/// What somebody gives.
struct FaceMeasurements {
  std::string name = "measured";
  PopulationQuery who;
  std::vector<FaceMeasurement> taken;  ///< each measure at most once
};

/// How well the landmarks under a kind of rim are known, and what would help most.
struct SealOutlook {
  double before_mm = 0;           ///< root mean square distance, nothing measured
  double rms_mm = 0;              ///< as measured
  std::vector<NextMeasure> next;  ///< the most helpful first
};

/// The most likely face, what is believed of each dimension, and what is to be said of it.
struct MeasuredFace {
  FaceMeasurements asked;
  std::string population;  ///< in words
  std::vector<PopulationDimension> published;
  MeasureBands before;                ///< of the population
  MeasureBands bands;                 ///< of the person
  std::array<MeasureBands, 2> swept;  ///< with assumed correlations of 0 and of 0.5
  std::vector<Vec3> landmark_sd_mm;   ///< of `face.landmarks`, along each axis
  SealOutlook over_nose;
  SealOutlook over_nose_and_mouth;
  std::vector<std::string> questions;  ///< about measurements used as they stand
  std::vector<std::string> remarks;    ///< symmetry, who the population is, children
  FaceModel face;
};

/// Why a child's result holds no hours.
[[nodiscard]] std::string_view child_remark();

/// Makes the face.
/// @param path where the measurements stand, for messages: a JSON pointer
/// @throws InputError with every measurement of which no face is made, each with a plain question;
/// below 2 years with the reason
[[nodiscard]] MeasuredFace measure_face(const FaceMeasurements& asked, const std::string& file,
                                        const std::string& path);

/// Faces drawn from those that the measurements leave, one a seed: the same seed, the same face.
/// @throws InputError as `measure_face` does
[[nodiscard]] std::vector<FaceModel> drawn_faces(const FaceMeasurements& asked,
                                                 std::span<const unsigned> seeds);

/// The measurements at a place of a document, what is at fault by the schema left out.
/// @param faults a dimension given both in mm and in cm is added
[[nodiscard]] FaceMeasurements measurements_at(const JsonPlace& place, std::vector<Fault>& faults);

/// Every fault of an object of measurements against its schema, where it stands in a document; the
/// marker may be missing.
[[nodiscard]] std::vector<Fault> measurement_faults(const nlohmann::json& object,
                                                    const std::string& file,
                                                    const std::string& path);

/// Reads a measurements file, format `src/case/schema/measurements.schema.json`, and makes the
/// face.
/// @throws InputError with every fault found
[[nodiscard]] MeasuredFace read_measured_face(std::string_view text, const std::string& file);

/// Dimensions in the order in which they are best taken: the short list that a ruler reaches, then
/// the others.
[[nodiscard]] const std::array<Measure, all_measures.size()>& measures_as_taken();

}  // namespace rimload
