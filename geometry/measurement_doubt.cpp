#include "geometry/measurement_doubt.hpp"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "geometry_data.hpp"

namespace rimload {

namespace {

using Index = Eigen::Index;

const nlohmann::json& table() {
  static const auto json = nlohmann::json::parse(data::face_measuring_json());
  return json;
}
double limit(const char* name) { return table().at("doubt").at(name).at("value"); }

class Inquiry {
 public:
  Inquiry(const FacePrior& prior, std::span<const FaceMeasurement> measurements)
      : prior_(prior), given_(measurements), bands_(bands_of(prior)) {}

  std::vector<MeasurementDoubt> run() {
    ask_units();
    ask_parts();
    ask_swapped();
    ask_extremes();
    ask_unlike_others();
    return std::move(out_);
  }

 private:
  [[nodiscard]] const MeasureBand& usual(Measure measure) const {
    return *std::find_if(bands_.begin(), bands_.end(),
                         [&](const MeasureBand& band) { return band.measure == measure; });
  }
  [[nodiscard]] double z(Measure measure, double value_mm) const {
    const MeasureBand& band = usual(measure);
    return (value_mm - band.likeliest_mm) / std::hypot(band.sd_mm, measuring_sd_mm());
  }
  [[nodiscard]] bool asked(Measure measure) const {
    return std::any_of(out_.begin(), out_.end(), [&](const MeasurementDoubt& doubt) {
      return std::find(doubt.about.begin(), doubt.about.end(), measure) != doubt.about.end();
    });
  }
  [[nodiscard]] static std::string said(const FaceMeasurement& each) {
    constexpr double mm_per_cm = 10;
    const double value = each.unit == LengthUnit::cm ? each.value_mm / mm_per_cm : each.value_mm;
    return fmt::format("{} {:.4g} {}", words_for(each.measure), value, name_of(each.unit));
  }
  [[nodiscard]] std::string mean_words(Measure measure) const {
    const MeasureBand& band = usual(measure);
    return fmt::format("{} have {:.0f} mm on average, SD {:.1f}", prior_.population.words,
                       band.likeliest_mm, band.sd_mm);
  }
  void ask(DoubtKind kind, std::vector<Measure> about, std::string question) {
    out_.push_back({kind, std::move(about), std::move(question)});
  }

  void ask_units() {
    constexpr double tenfold = 10;
    for (const FaceMeasurement& each : given_) {
      if (std::abs(z(each.measure, each.value_mm)) <= limit("refused_beyond")) continue;
      const LengthUnit other = each.unit == LengthUnit::mm ? LengthUnit::cm : LengthUnit::mm;
      const double meant =
          other == LengthUnit::cm ? each.value_mm * tenfold : each.value_mm / tenfold;
      if (std::abs(z(each.measure, meant)) > limit("meant_within")) continue;
      ask(DoubtKind::other_unit, {each.measure},
          fmt::format("{}: {}. Is it in {}? Then give it as {}_{}", said(each),
                      mean_words(each.measure), other == LengthUnit::cm ? "cm" : "mm",
                      name_of(each.measure), name_of(other)));
    }
  }

  void ask_parts() {
    for (const auto& pair : table().at("smaller_than").at("pairs")) {
      const Measure small = measure_named(pair.at(0).get<std::string>()).value();
      const Measure large = measure_named(pair.at(1).get<std::string>()).value();
      const auto part = find(small);
      const auto whole = find(large);
      if (part == given_.end() || whole == given_.end() || asked(small) || asked(large)) continue;
      if (part->value_mm < whole->value_mm) continue;
      ask(DoubtKind::part_above_whole, {small, large},
          fmt::format("{} is not below {}, yet it lies within it. Which of the two is right, or "
                      "are they swapped?",
                      said(*part), said(*whole)));
    }
  }

  // Either is odd where it stands and usual in the other's place.
  void ask_swapped() {
    for (std::size_t i = 0; i < given_.size(); ++i) {
      for (std::size_t k = i + 1; k < given_.size(); ++k) {
        const FaceMeasurement& a = given_[i];
        const FaceMeasurement& b = given_[k];
        if (asked(a.measure) || asked(b.measure)) continue;
        const bool odd = std::min(std::abs(z(a.measure, a.value_mm)),
                                  std::abs(z(b.measure, b.value_mm))) > limit("asked_beyond");
        const bool usual_swapped =
            std::max(std::abs(z(a.measure, b.value_mm)), std::abs(z(b.measure, a.value_mm))) <=
            limit("meant_within");
        if (!odd || !usual_swapped) continue;
        ask(DoubtKind::swapped, {a.measure, b.measure},
            fmt::format("{} and {}: are the two swapped? The other way round both are usual",
                        said(a), said(b)));
      }
    }
  }

  void ask_extremes() {
    std::vector<MeasurementDoubt> unusual;
    for (const FaceMeasurement& each : given_) {
      const double off = z(each.measure, each.value_mm);
      if (std::abs(off) <= limit("asked_beyond") || asked(each.measure)) continue;
      const std::string where =
          fmt::format("{} lies {:.1f} SD {} the mean; {}", said(each), std::abs(off),
                      off < 0 ? "below" : "above", mean_words(each.measure));
      if (std::abs(off) > limit("refused_beyond")) {
        ask(DoubtKind::beyond, {each.measure},
            fmt::format("{}. Is it measured and typed right? No face is made beyond {:g} SD", where,
                        limit("refused_beyond")));
      } else {
        unusual.push_back(
            {DoubtKind::unusual, {each.measure}, where + ". Is it right? It is used as it stands"});
      }
    }
    out_.insert(out_.end(), unusual.begin(), unusual.end());
  }

  void ask_unlike_others() {
    const auto n = static_cast<Index>(given_.size());
    if (n < 2) return;
    Eigen::MatrixXd rows(n, prior_.half.n());
    Eigen::VectorXd off(n);
    for (Index k = 0; k < n; ++k) {
      const FaceMeasurement& each = given_[static_cast<std::size_t>(k)];
      const Measured at = measure_with_gradient(prior_.mean, each.measure);
      rows.row(k) = prior_.half.fold(at.gradient).transpose();
      off[k] = each.value_mm - at.value_mm;
    }
    Eigen::MatrixXd system = rows * prior_.covariance * rows.transpose();
    system.diagonal().array() += measuring_sd_mm() * measuring_sd_mm();
    const Eigen::MatrixXd inverse = system.ldlt().solve(Eigen::MatrixXd::Identity(n, n));
    const Eigen::VectorXd residual = inverse * off;
    for (Index k = 0; k < n; ++k) {
      const FaceMeasurement& each = given_[static_cast<std::size_t>(k)];
      const double apart = residual[k] / std::sqrt(inverse(k, k));
      if (std::abs(apart) <= limit("asked_beside_others_beyond") || asked(each.measure)) continue;
      ask(DoubtKind::unlike_others, {each.measure},
          fmt::format("{} does not go with the other measurements, by which it would be about "
                      "{:.0f} mm ({:.1f} SD). Is it right? It is used as it stands",
                      said(each), each.value_mm - residual[k] / inverse(k, k), std::abs(apart)));
    }
  }

  [[nodiscard]] std::span<const FaceMeasurement>::iterator find(Measure measure) const {
    return std::find_if(given_.begin(), given_.end(),
                        [&](const FaceMeasurement& each) { return each.measure == measure; });
  }

  const FacePrior& prior_;
  std::span<const FaceMeasurement> given_;
  MeasureBands bands_;
  std::vector<MeasurementDoubt> out_;
};

}  // namespace

std::vector<MeasurementDoubt> doubts_about(const FacePrior& prior,
                                           std::span<const FaceMeasurement> measurements) {
  return Inquiry(prior, measurements).run();
}

}  // namespace rimload
