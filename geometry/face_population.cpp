#include "geometry/face_population.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "geometry_data.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

using Index = Eigen::Index;

const nlohmann::json& adult_table() {
  static const nlohmann::json table = nlohmann::json::parse(data::targets_json());
  return table;
}
const nlohmann::json& child_table() {
  static const nlohmann::json table = nlohmann::json::parse(data::child_dimensions_json());
  return table;
}
double limit(const char* name) { return child_table().at("limits").at(name).at("value"); }

// A dimension of each sex.
struct DimensionRow {
  Measure measure;
  Vec2 mean_mm, sd_mm;  // female, male
  std::string source;
};

Measure known_measure(const nlohmann::json& name) {
  const auto measure = measure_named(name.get<std::string>());
  if (!measure) throw InternalError("a table of dimensions names no known measure: " + name.dump());
  return *measure;
}

std::string source_of(const nlohmann::json& row) {
  return row.at("source_key").get<std::string>() + ", " + row.at("status").get<std::string>();
}

std::vector<DimensionRow> adult_rows() {
  std::vector<DimensionRow> rows;
  for (const nlohmann::json& row : adult_table().at("dimensions")) {
    const auto both = [&](const char* key) {
      return Vec2(row.at("female").at(key).get<double>(), row.at("male").at(key).get<double>());
    };
    rows.push_back(
        {known_measure(row.at("measure")), both("mean_mm"), both("sd_mm"), source_of(row)});
  }
  return rows;
}

// In a straight line between the ages of the table; constant beyond its ends.
double at_age(const std::vector<double>& ages, const std::vector<double>& values, double age) {
  const auto above = std::upper_bound(ages.begin(), ages.end(), age);
  if (above == ages.begin()) return values.front();
  if (above == ages.end()) return values.back();
  const auto k = static_cast<std::size_t>(above - ages.begin());
  const double share = (age - ages[k - 1]) / (ages[k] - ages[k - 1]);
  return values[k - 1] + share * (values[k] - values[k - 1]);
}

std::vector<DimensionRow> child_rows(double age) {
  const std::vector<DimensionRow> adults = adult_rows();
  std::vector<DimensionRow> rows;
  for (const nlohmann::json& row : child_table().at("dimensions")) {
    if (age < row.at("from_years").get<double>()) continue;
    const auto ages = row.at("ages_years").get<std::vector<double>>();
    DimensionRow out{known_measure(row.at("measure")), {}, {}, source_of(row)};
    Vec2 adult_mean;
    Vec2 adult_sd;
    const bool by_ratio = row.value("times_adult", false);
    if (by_ratio) {
      const auto adult = std::find_if(adults.begin(), adults.end(), [&](const DimensionRow& each) {
        return each.measure == out.measure;
      });
      adult_mean = adult->mean_mm;
      adult_sd = adult->sd_mm;
      out.source += ", by its ratio to the adult value: derived";
    }
    for (const Index sex : {0, 1}) {
      const nlohmann::json& table = row.at(sex == 0 ? "female" : "male");
      const auto means = table.at("mean_mm").get<std::vector<double>>();
      const auto sds = table.at("sd_mm").get<std::vector<double>>();
      const double mean = at_age(ages, means, age);
      const double grown = mean / at_age(ages, means, limit("adult_from_years"));
      out.mean_mm[sex] = by_ratio ? adult_mean[sex] * grown : mean;
      out.sd_mm[sex] = by_ratio ? adult_sd[sex] * grown : at_age(ages, sds, age);
    }
    rows.push_back(std::move(out));
  }
  return rows;
}

Eigen::MatrixXd correlations(const std::vector<DimensionRow>& rows, std::optional<double> others) {
  const nlohmann::json& table = adult_table().at("correlations_within_sex");
  const auto n = static_cast<Index>(rows.size());
  Eigen::MatrixXd out = Eigen::MatrixXd::Constant(
      n, n, others.value_or(table.at("all_others").at("value").get<double>()));
  out.diagonal().setOnes();
  const auto index_of = [&](Measure measure) {
    return static_cast<Index>(
        std::find_if(rows.begin(), rows.end(),
                     [&](const DimensionRow& row) { return row.measure == measure; }) -
        rows.begin());
  };
  for (const nlohmann::json& pair : table.at("pairs")) {
    const Index a = index_of(known_measure(pair.at("a")));
    const Index b = index_of(known_measure(pair.at("b")));
    if (a < n && b < n) out(a, b) = out(b, a) = pair.at("value").get<double>();
  }
  return out;
}

std::string words_of(const PopulationQuery& query, bool children) {
  if (children) {
    const char* who = !query.sex ? "children" : *query.sex == Sex::female ? "girls" : "boys";
    return fmt::format("{} of {:g} years", who, *query.age_years);
  }
  if (!query.sex) return "adults of both sexes";
  return *query.sex == Sex::female ? "adult women" : "adult men";
}

}  // namespace

std::string_view name_of(Sex sex) { return sex == Sex::female ? "female" : "male"; }

std::optional<Sex> sex_named(std::string_view name) {
  for (const Sex sex : {Sex::female, Sex::male}) {
    if (name_of(sex) == name) return sex;
  }
  return std::nullopt;
}

FacePopulation face_population(const PopulationQuery& query) {
  FacePopulation out;
  if (query.age_years) {
    const double age = *query.age_years;
    if (!(age >= limit("youngest_years"))) {
      throw InputError(
          "", "",
          fmt::format("{:g} years: no face is made below {:g} years. The tables of children begin "
                      "there, and an infant's face is not a small child's: what is published of "
                      "infants and neonates is too little to make one, and guessing would mislead",
                      age, limit("youngest_years")));
    }
    out.children = age < limit("adult_from_years");
    out.older_than_surveyed = age > limit("adult_to_years");
  }
  out.words = words_of(query, out.children);
  const std::vector<DimensionRow> rows = out.children ? child_rows(*query.age_years) : adult_rows();
  const auto n = static_cast<Index>(rows.size());
  Eigen::VectorXd between = Eigen::VectorXd::Zero(n);  // half the difference of the sexes
  Eigen::MatrixXd sds(n, 2);
  for (Index k = 0; k < n; ++k) {
    const DimensionRow& row = rows[static_cast<std::size_t>(k)];
    sds.row(k) = row.sd_mm.transpose();
    PopulationDimension dimension{row.measure, row.mean_mm.mean(), 0, row.source};
    if (query.sex) {
      const Index sex = *query.sex == Sex::female ? 0 : 1;
      dimension.mean_mm = row.mean_mm[sex];
      sds.row(k).setConstant(row.sd_mm[sex]);
    } else {
      between[k] = 0.5 * (row.mean_mm[1] - row.mean_mm[0]);
    }
    out.dimensions.push_back(std::move(dimension));
  }
  out.covariance = 0.5 * correlations(rows, query.correlation).cwiseProduct(sds * sds.transpose()) +
                   between * between.transpose();
  for (Index k = 0; k < n; ++k) {
    out.dimensions[static_cast<std::size_t>(k)].sd_mm = std::sqrt(out.covariance(k, k));
  }
  return out;
}

}  // namespace rimload
