// The bands of measured faces against faces drawn from the same belief: self-consistency, which is
// not validation.
#include <cstdio>
#include <random>

#include "catch.hpp"
#include "geometry/face_prior.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

FacePrior prior_of(const PopulationQuery& query) {
  return make_face_prior(stored_face("reference").landmarks, face_population(query));
}

// A value as somebody reads it, with the error assumed.
double reading(double value_mm, std::mt19937_64& random) {
  double sum = 0;  // of twelve uniform values: SD 1, near enough to normal
  for (int k = 0; k < 12; ++k) sum += static_cast<double>(random() >> 11U) * 0x1p-53;
  return value_mm + measuring_sd_mm() * (sum - 6);
}

struct Share {
  int inside = 0, n = 0;
  void add(bool is_inside) {
    inside += is_inside ? 1 : 0;
    ++n;
  }
  [[nodiscard]] double percent() const { return 100.0 * inside / n; }
};

}  // namespace

TEST_CASE("published means, SDs and correlations come back from drawn faces") {
  for (const PopulationQuery& query :
       {PopulationQuery{.sex = Sex::female}, PopulationQuery{.sex = Sex::male}, PopulationQuery{},
        PopulationQuery{.sex = Sex::male, .age_years = 6}}) {
    const FacePrior prior = prior_of(query);
    const FaceSampler sampler(prior, condition_face(prior, {}));
    constexpr int n = 2000;
    const auto& rows = prior.population.dimensions;
    Eigen::MatrixXd values(n, std::ssize(rows));
    for (int i = 0; i < n; ++i) {
      const auto face = sampler.draw(static_cast<unsigned>(i));
      for (std::size_t k = 0; k < rows.size(); ++k) {
        values(i, static_cast<Eigen::Index>(k)) = measure(face, rows[k].measure);
      }
    }
    const Eigen::RowVectorXd mean = values.colwise().mean();
    const Eigen::MatrixXd apart = values.rowwise() - mean;
    const Eigen::MatrixXd covariance = apart.transpose() * apart / (n - 1);
    double worst_mean = 0;
    double worst_sd = 0;
    double worst_r = 0;
    for (std::size_t k = 0; k < rows.size(); ++k) {
      const auto i = static_cast<Eigen::Index>(k);
      worst_mean = std::max(worst_mean, std::abs(mean[i] - rows[k].mean_mm) / rows[k].sd_mm);
      worst_sd = std::max(worst_sd, std::abs(std::sqrt(covariance(i, i)) / rows[k].sd_mm - 1));
      for (Eigen::Index j = 0; j < i; ++j) {
        const double drawn = covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j));
        const auto& c = prior.population.covariance;
        worst_r = std::max(worst_r, std::abs(drawn - c(i, j) / std::sqrt(c(i, i) * c(j, j))));
      }
    }
    std::printf("drawn %s: means within %.3f SD, SDs within %.1f %%, correlations within %.3f\n",
                prior.population.words.c_str(), worst_mean, 100 * worst_sd, worst_r);
    // Four standard errors of 2,000 draws: 1/sqrt(n), 1/sqrt(2n), 1/sqrt(n).
    CHECK(worst_mean < 4 / std::sqrt(n));
    CHECK(worst_sd < 4 / std::sqrt(2.0 * n));
    CHECK(worst_r < 4 / std::sqrt(n));
  }
}

TEST_CASE("80 % bands of measured faces hold 75 to 85 % of 1,200 drawn faces") {
  for (const PopulationQuery& query :
       {PopulationQuery{}, PopulationQuery{.sex = Sex::female, .age_years = 9}}) {
    const FacePrior prior = prior_of(query);
    const FaceSampler sampler(prior, condition_face(prior, {}));
    std::mt19937_64 random(17);
    std::array<Share, all_measures.size()> open;
    std::array<Share, all_measures.size()> taken;
    Share seal_coordinates;
    const auto seal = seal_landmarks(SealRegion::over_nose_and_mouth);
    for (unsigned draw = 0; draw < 1200; ++draw) {
      const auto face = sampler.draw(1000 + draw);
      // The short list, and of the others each one in three.
      std::vector<FaceMeasurement> given;
      for (const Measure each : all_measures) {
        const bool on_the_list = each == Measure::sellion_supramentale ||
                                 each == Measure::nose_breadth || each == Measure::lip_length;
        if (on_the_list ? random() % 4 > 0 : random() % 3 == 0) {
          given.push_back({each, reading(measure(face, each), random)});
        }
      }
      const FacePosterior posterior = condition_face(prior, given);
      REQUIRE(posterior.settled);
      for (std::size_t k = 0; k < all_measures.size(); ++k) {
        const double truth = measure(face, all_measures[k]);
        const bool inside =
            posterior.bands[k].low_mm <= truth && truth <= posterior.bands[k].high_mm;
        const bool was_given = std::find(posterior.given.begin(), posterior.given.end(),
                                         all_measures[k]) != posterior.given.end();
        (was_given ? taken : open)[k].add(inside);
      }
      const Eigen::VectorXd off = prior.half.change(posterior.landmarks, face);
      for (std::size_t k = 0; k < prior.mean.size(); ++k) {
        if (prior.mean[k].side == Side::right) continue;
        if (std::find(seal.begin(), seal.end(), prior.mean[k].name) == seal.end()) continue;
        for (const Eigen::Index at : prior.half.coordinates_of(k)) {
          seal_coordinates.add(std::abs(off[at]) <=
                               1.2815515655446004 * std::sqrt(posterior.covariance(at, at)));
        }
      }
    }
    std::printf("80 %% bands, %s:\n", prior.population.words.c_str());
    for (std::size_t k = 0; k < all_measures.size(); ++k) {
      std::printf("  %-24s not taken %.1f %% of %d, taken %.1f %% of %d\n",
                  std::string(name_of(all_measures[k])).c_str(), open[k].percent(), open[k].n,
                  taken[k].percent(), taken[k].n);
      INFO(name_of(all_measures[k]));
      CHECK(open[k].percent() > 75);
      CHECK(open[k].percent() < 85);
      CHECK(taken[k].percent() > 75);
      CHECK(taken[k].percent() < 85);
    }
    std::printf("  coordinates of the seal region: %.1f %% of %d\n", seal_coordinates.percent(),
                seal_coordinates.n);
    CHECK(seal_coordinates.percent() > 75);
    CHECK(seal_coordinates.percent() < 85);
  }
}

TEST_CASE("known faces from the short list alone lie within what is said of them") {
  // Each model's prior is made of the reference face and the tables, never of the model.
  const FacePrior prior = prior_of({});
  const auto seal = seal_landmarks(SealRegion::over_nose_and_mouth);
  constexpr std::array shortlist{Measure::sellion_supramentale, Measure::nose_breadth,
                                 Measure::lip_length};
  for (const char* name : face_names) {
    const auto face = stored_face(name).landmarks;
    std::vector<FaceMeasurement> given;
    for (const Measure each : shortlist) given.push_back({each, measure(face, each)});
    const FacePosterior posterior = condition_face(prior, given);
    int outside = 0;
    for (const MeasureBand& band : posterior.bands) {
      const double truth = measure(face, band.measure);
      outside += band.low_mm <= truth && truth <= band.high_mm ? 0 : 1;
    }
    double sum = 0;
    int n = 0;
    for (std::size_t k = 0; k < face.size(); ++k) {
      if (face[k].side == Side::right) continue;
      if (std::find(seal.begin(), seal.end(), face[k].name) == seal.end()) continue;
      sum += (face[k].position_face - posterior.landmarks[k].position_face).squaredNorm();
      ++n;
    }
    const double error = std::sqrt(sum / n);
    const double said = landmark_rms_mm(prior, posterior, seal);
    std::printf("%-12s seal landmarks off by %.2f mm, said %.2f; %d of 14 dimensions outside\n",
                name, error, said, outside);
    INFO(name);
    CHECK(error < said);
    // One in five of 14 may; the models are themselves means given a few dimensions.
    CHECK(outside <= 3);
  }
}
