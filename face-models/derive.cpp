#include "derive.hpp"

#include <fmt/format.h>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "geometry/morph.hpp"
#include "units/error.hpp"

namespace rimload::face_models {

namespace {

using Json = nlohmann::json;
using Index = Eigen::Index;

constexpr const char* common_provenance =
    " Computed for this project from published means, standard deviations and correlations "
    "(face-models/targets.json); not an official head form and not a real person. Means and SDs of "
    "the ten surveyed dimensions are quoted from memory; inner and outer canthal breadths were "
    "published for 18-year-olds. All else is assumed: the rest of the shape follows the reference "
    "face smoothly, symmetry, and tissue depths as in the reference face.";

// Means and covariances of the dimensions in the order of the file, of one sex or of both.
struct Spread {
  std::vector<Measure> measures;
  std::vector<std::string> sources;
  std::vector<bool> pins_reference;
  Eigen::VectorXd female, male;
  Eigen::MatrixXd covariance;  // both sexes together

  [[nodiscard]] Index index_of(Measure measure) const {
    return std::find(measures.begin(), measures.end(), measure) - measures.begin();
  }
};

Measure known_measure(const Json& name) {
  const auto measure = measure_named(name.get<std::string>());
  if (!measure) throw InternalError("targets.json names an unknown measure " + name.dump());
  return *measure;
}

Spread read_spread(const Json& data, double assumed_correlation) {
  const Json& dimensions = data.at("dimensions");
  const auto n = static_cast<Index>(dimensions.size());
  Spread out;
  out.female.resize(n);
  out.male.resize(n);
  Eigen::VectorXd female_sd(n);
  Eigen::VectorXd male_sd(n);
  for (const Json& row : dimensions) {
    const auto k = static_cast<Index>(out.measures.size());
    out.measures.push_back(known_measure(row.at("measure")));
    out.sources.push_back(row.at("source_key").get<std::string>() + " (" +
                          row.at("status").get<std::string>() + ")");
    out.pins_reference.push_back(row.value("pins_reference", true));
    out.female[k] = row.at("female").at("mean_mm").get<double>();
    out.male[k] = row.at("male").at("mean_mm").get<double>();
    female_sd[k] = row.at("female").at("sd_mm").get<double>();
    male_sd[k] = row.at("male").at("sd_mm").get<double>();
  }
  Eigen::MatrixXd correlation = Eigen::MatrixXd::Constant(n, n, assumed_correlation);
  correlation.diagonal().setOnes();
  for (const Json& pair : data.at("correlations_within_sex").at("pairs")) {
    const Index a = out.index_of(known_measure(pair.at("a")));
    const Index b = out.index_of(known_measure(pair.at("b")));
    correlation(a, b) = correlation(b, a) = pair.at("value").get<double>();
  }
  const Eigen::VectorXd apart = 0.5 * (out.male - out.female);
  out.covariance = 0.5 * correlation.cwiseProduct(female_sd * female_sd.transpose() +
                                                  male_sd * male_sd.transpose()) +
                   apart * apart.transpose();
  return out;
}

// All dimensions after steps along the axes of size and shape.
Eigen::VectorXd stepped(const Spread& spread, double size_step, double shape_step) {
  const Index width = spread.index_of(Measure::face_width);
  const Index length = spread.index_of(Measure::face_length);
  const Eigen::MatrixXd& c = spread.covariance;
  const double width_sd = std::sqrt(c(width, width));
  const double length_sd = std::sqrt(c(length, length));
  const double correlation = c(width, length) / (width_sd * length_sd);
  const double size = size_step * std::sqrt(0.5 * (1 + correlation));
  const double shape = shape_step * std::sqrt(0.5 * (1 - correlation));
  const Vec2 given(width_sd * (size - shape), length_sd * (size + shape));
  Mat2 between;
  between << c(width, width), c(width, length), c(width, length), c(length, length);
  Eigen::MatrixXd onto(c.rows(), 2);
  onto << c.col(width), c.col(length);
  return 0.5 * (spread.female + spread.male) + onto * (between.inverse() * given);
}

FaceRequest request_of(const Spread& spread, const Json& row) {
  FaceRequest request;
  request.name = row.at("name").get<std::string>();
  request.title = row.at("title").get<std::string>();
  const auto of = row.at("of").get<std::string>();
  request.moved = of != "reference";
  const double size_step = row.value("size_step", 0.0);
  const double shape_step = row.value("shape_step", 0.0);
  std::string how;
  Eigen::VectorXd values = stepped(spread, size_step, shape_step);
  if (of == "reference") {
    how = "mean of the female and the male mean";
    request.provenance =
        "Landmarks set by hand for this project, so that the ten surveyed dimensions lie within "
        "1 mm of the mean of the published female and male adult means, themselves quoted from "
        "memory (outer canthal breadth is 1.7 mm above the mean published for 18-year-olds). "
        "Tissue depths after pooled adult means quoted from memory where there is one, assumed "
        "between. Symmetry assumed; not an official head form and not a real person.";
  } else if (of == "both") {
    how = "mean of the female and the male mean";
    request.provenance = "Mean of the adult female and male means.";
    if (size_step != 0 || shape_step != 0) {
      how = "mean given face width and length at " +
            fmt::format("{:+.3f} SD of {}, both sexes", size_step != 0 ? size_step : shape_step,
                        size_step != 0 ? "size" : "shape");
      request.provenance = fmt::format(
          "Face width and length {:.3f} SD from the mean of both sexes along the axis of {} of "
          "their correlation matrix; the other dimensions at their mean given those two, with "
          "published correlations for face width, face length and interpupillary breadth and an "
          "assumed one elsewhere.",
          size_step != 0 ? size_step : shape_step,
          size_step != 0 ? "size (both grow)" : "shape (length grows, width falls)");
    }
  } else {
    how = "mean of adult " + of + "s";
    values = of == "female" ? spread.female : spread.male;
    request.provenance = "Means of adult " + of + "s.";
  }
  if (request.moved) request.provenance += common_provenance;
  for (std::size_t k = 0; k < spread.measures.size(); ++k) {
    if (!request.moved && !spread.pins_reference[k]) continue;
    request.targets.push_back({spread.measures[k],
                               std::round(100 * values[static_cast<Index>(k)]) / 100,
                               how + ", " + spread.sources[k]});
  }
  return request;
}

}  // namespace

std::vector<FaceRequest> face_requests(std::string_view data, double assumed_correlation) {
  const Json json = Json::parse(data.begin(), data.end());
  const Spread spread = read_spread(json, assumed_correlation);
  std::vector<FaceRequest> requests;
  for (const Json& row : json.at("faces")) requests.push_back(request_of(spread, row));
  return requests;
}

std::vector<FaceRequest> face_requests(std::string_view data) {
  const Json json = Json::parse(data.begin(), data.end());
  return face_requests(
      data, json.at("correlations_within_sex").at("all_others").at("value").get<double>());
}

FaceModel make_face(const FaceModel& reference, const FaceRequest& request) {
  FaceModel face = reference;
  face.name = request.name;
  face.title = request.title;
  face.provenance = request.provenance;
  face.targets = request.targets;
  if (!request.moved) return face;
  MorphSummary moved = morph(reference.landmarks, request.targets);
  if (moved.termination != MorphTermination::converged) {
    throw InternalError("no face has the dimensions asked of " + request.name);
  }
  face.landmarks = std::move(moved.landmarks);
  return face;
}

}  // namespace rimload::face_models
