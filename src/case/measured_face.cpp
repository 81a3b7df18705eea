#include "case/measured_face.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "case/face_file.hpp"
#include "case/json_text.hpp"
#include "case/schema.hpp"
#include "geometry/before_axis.hpp"
#include "geometry/measurement_doubt.hpp"

namespace rimload {

namespace {

constexpr double mm_per_cm = 10;

const std::vector<Landmark>& reference_landmarks() {
  return face_model_named("reference")->landmarks;
}

std::string key_of(const FaceMeasurement& each) {
  return fmt::format("{}_{}", name_of(each.measure), name_of(each.unit));
}

// Every question about a measurement of which no face is made is a fault at its key.
void throw_if_refused(const std::vector<MeasurementDoubt>& doubts, const FaceMeasurements& asked,
                      const std::string& file, const std::string& path) {
  std::vector<Fault> faults;
  for (const MeasurementDoubt& doubt : doubts) {
    if (!doubt.refused()) continue;
    const auto at = std::find_if(
        asked.taken.begin(), asked.taken.end(),
        [&](const FaceMeasurement& each) { return each.measure == doubt.about.front(); });
    faults.push_back({file, path + "/" + key_of(*at), doubt.question});
  }
  if (!faults.empty()) throw InputError(std::move(faults));
}

SealOutlook outlook(const FacePrior& prior, const FacePosterior& posterior, SealRegion region) {
  const auto landmarks = seal_landmarks(region);
  return {landmark_rms_mm(prior, condition_face(prior, {}), landmarks),
          landmark_rms_mm(prior, posterior, landmarks), next_measures(prior, posterior, landmarks)};
}

std::vector<std::string> remarks_on(const FacePopulation& population) {
  std::vector<std::string> out{
      "Symmetry assumed: measurements do not tell left from right.",
      "What is not measured follows from tables of " + population.words +
          ": published, some quoted from memory; correlations mostly assumed."};
  if (population.children) {
    out.emplace_back(child_remark());
  } else {
    out.emplace_back(population.older_than_surveyed
                         ? "Older than the people surveyed, who were up to about 66 years: older "
                           "faces are more often without teeth or swollen."
                         : "People on noninvasive ventilation are older than the people surveyed "
                           "(few above 60 years), and more often without teeth or swollen.");
  }
  return out;
}

// Of odd measurements the process can leave a landmark across the midline.
bool is_a_face(const std::vector<Landmark>& landmarks) {
  return std::all_of(landmarks.begin(), landmarks.end(), [](const Landmark& each) {
    return each.side != Side::left || each.position_face.x() > 0;
  });
}

FaceModel model_of(const FaceMeasurements& asked, const FacePopulation& population,
                   std::vector<Landmark> landmarks) {
  const std::size_t n = asked.taken.size();
  FaceModel face;
  face.name = asked.name;
  face.title =
      fmt::format("Face from {} measurement{}, {}", n, n == 1 ? "" : "s", population.words);
  face.provenance = fmt::format(
      "The most likely face given {} measurement{} (reading error {:g} mm, assumed) among {}: "
      "published means, SDs and correlations, some from memory or assumed "
      "(face-models/targets.json{}). Symmetry assumed; tissue depths are those of the reference "
      "face, an adult.",
      n, n == 1 ? "" : "s", measuring_sd_mm(), population.words,
      population.children ? ", geometry/data/child-dimensions.json" : "");
  face.symmetric = true;
  face.child = population.children;
  face.landmarks = std::move(landmarks);
  for (const FaceMeasurement& each : asked.taken) {
    face.targets.push_back({each.measure, each.value_mm, "measured"});
  }
  return face;
}

}  // namespace

std::string_view child_remark() {
  return "A child: tissue data are of adults, so pressures serve to compare sizes only. Geometry, "
         "clearances and seal are given; hours are withheld, since no tolerance curve and no "
         "tissue data of children exist.";
}

MeasuredFace measure_face(const FaceMeasurements& asked, const std::string& file,
                          const std::string& path) {
  FacePopulation population;
  try {
    population = face_population(asked.who);
  } catch (const InputError& error) {
    throw InputError(file, path + "/age_years", error.faults().front().message);
  }
  const FacePrior prior = make_face_prior(reference_landmarks(), std::move(population));
  const auto doubts = doubts_about(prior, asked.taken);
  throw_if_refused(doubts, asked, file, path);
  const FacePosterior posterior = condition_face(prior, asked.taken);
  if (!posterior.settled || !is_a_face(posterior.landmarks)) {
    throw InputError(file, path, "no face has all these dimensions at once: measure again");
  }
  MeasuredFace out{
      .asked = asked,
      .population = prior.population.words,
      .published = prior.population.dimensions,
      .before = bands_of(prior),
      .bands = posterior.bands,
      .swept = {},
      .landmark_sd_mm = landmark_sds_mm(prior, posterior),
      .over_nose = outlook(prior, posterior, SealRegion::over_nose),
      .over_nose_and_mouth = outlook(prior, posterior, SealRegion::over_nose_and_mouth),
      .questions = {},
      .remarks = remarks_on(prior.population),
      .face = model_of(asked, prior.population, before_the_axis(posterior.landmarks))};
  for (const MeasurementDoubt& doubt : doubts) out.questions.push_back(doubt.question);
  constexpr std::array correlations{0.0, 0.5};
  for (std::size_t k = 0; k < correlations.size(); ++k) {
    PopulationQuery who = asked.who;
    who.correlation = correlations[k];
    const FacePrior other = make_face_prior(prior.mean, face_population(who));
    out.swept[k] = condition_face(other, asked.taken).bands;
  }
  return out;
}

std::vector<FaceModel> drawn_faces(const FaceMeasurements& asked, std::span<const unsigned> seeds) {
  const FacePrior prior = make_face_prior(reference_landmarks(), face_population(asked.who));
  const FacePosterior posterior = condition_face(prior, asked.taken);
  const FaceSampler sampler(prior, posterior);
  std::vector<FaceModel> out;
  for (const unsigned seed : seeds) {
    out.push_back(model_of(asked, prior.population, before_the_axis(sampler.draw(seed))));
  }
  return out;
}

FaceMeasurements measurements_at(const JsonPlace& place, std::vector<Fault>& faults) {
  FaceMeasurements out;
  out.name = place["name"].text().value_or(out.name);
  out.who.sex = sex_named(place["sex"].text().value_or(""));
  out.who.age_years = place["age_years"].number();
  for (const Measure measure : measures_as_taken()) {
    const JsonPlace in_mm = place[std::string(name_of(measure)) + "_mm"];
    const JsonPlace in_cm = place[std::string(name_of(measure)) + "_cm"];
    if (in_mm.present() && in_cm.present()) {
      faults.push_back({"", in_cm.pointer(), "given in mm too; give it once"});
    }
    if (const auto value = in_mm.number()) {
      out.taken.push_back({measure, *value, LengthUnit::mm});
    } else if (const auto in_tens = in_cm.number()) {
      out.taken.push_back({measure, mm_per_cm * *in_tens, LengthUnit::cm});
    }
  }
  return out;
}

std::vector<Fault> measurement_faults(const nlohmann::json& object, const std::string& file,
                                      const std::string& path) {
  nlohmann::json marked = object;
  const std::string marker(marker_of(FileKind::measurements));
  if (marked.is_object() && !marked.contains(marker)) marked[marker] = 1;
  std::vector<Fault> faults = schema_faults(marked, FileKind::measurements, file);
  for (Fault& fault : faults) fault.path = path + fault.path;
  return faults;
}

MeasuredFace read_measured_face(std::string_view text, const std::string& file) {
  const nlohmann::json document = parse_json(text, file);
  std::vector<Fault> faults = schema_faults(document, FileKind::measurements, file);
  std::vector<Fault> found;
  const FaceMeasurements asked = measurements_at(JsonPlace(document), found);
  for (Fault& fault : found) faults.push_back({file, fault.path, std::move(fault.message)});
  if (!faults.empty()) throw InputError(std::move(faults));
  return measure_face(asked, file, "");
}

const std::array<Measure, all_measures.size()>& measures_as_taken() {
  static constexpr std::array order{Measure::sellion_supramentale,
                                    Measure::nose_breadth,
                                    Measure::lip_length,
                                    Measure::face_length,
                                    Measure::face_width,
                                    Measure::nose_length,
                                    Measure::nose_protrusion,
                                    Measure::nasal_root_breadth,
                                    Measure::menton_subnasale,
                                    Measure::bigonial_breadth,
                                    Measure::minimum_frontal_breadth,
                                    Measure::inner_canthal_breadth,
                                    Measure::outer_canthal_breadth,
                                    Measure::interpupillary_breadth};
  return order;
}

}  // namespace rimload
