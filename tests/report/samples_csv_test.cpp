#include "report/samples_csv.hpp"

#include <array>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "catch.hpp"
#include "fit/fit.hpp"
#include "report/result_json.hpp"
#include "reported_cases.hpp"
#include "stored_case.hpp"

using namespace rimload;
using nlohmann::json;

namespace {

// Plain arithmetic on what the files say, apart from the engine's.
using Triple = std::array<double, 3>;
Triple cross(const Triple& a, const Triple& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
Triple triple(const json& value) { return {value.at(0), value.at(1), value.at(2)}; }
double norm(const Triple& a) { return std::sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]); }

struct Sum {
  Triple force_n{};
  Triple moment_n_mm{};
  void add(const Triple& force, const Triple& point) {
    const Triple moment = cross(point, force);
    for (std::size_t k = 0; k < 3; ++k) {
      force_n[k] += force[k];
      moment_n_mm[k] += moment[k];
    }
  }
};

std::vector<std::map<std::string, std::string>> rows_of(const std::string& csv) {
  std::istringstream lines(csv);
  std::string line;
  std::getline(lines, line);
  const auto cells = [](const std::string& text) {
    std::vector<std::string> out;
    std::istringstream stream(text);
    for (std::string cell; std::getline(stream, cell, ',');) out.push_back(cell);
    return out;
  };
  const auto header = cells(line);
  std::vector<std::map<std::string, std::string>> out;
  while (std::getline(lines, line)) {
    const auto row = cells(line);
    REQUIRE(row.size() == header.size());
    std::map<std::string, std::string> named;
    for (std::size_t k = 0; k < row.size(); ++k) named[header[k]] = row[k];
    out.push_back(std::move(named));
  }
  return out;
}

// Contact and loads of each phase, by its name.
std::map<std::string, Sum> residuals(const std::string& csv, const json& result) {
  std::map<std::string, Sum> sums;
  for (const auto& row : rows_of(csv)) {
    const auto number = [&](const char* key) { return std::stod(row.at(key)); };
    const double area_mm2 = number("area_mm2");
    const double pressure = number("pressure_kPa") * 1e-3;  // N/mm2
    const Triple force{area_mm2 * (pressure * number("nx") + 1e-3 * number("tx_kPa")),
                       area_mm2 * (pressure * number("ny") + 1e-3 * number("ty_kPa")),
                       area_mm2 * (pressure * number("nz") + 1e-3 * number("tz_kPa"))};
    sums[row.at("phase")].add(force, {number("x_mm"), number("y_mm"), number("z_mm")});
  }
  for (const json& phase : result.at("phases")) {
    if (phase.at("loads").is_null()) continue;
    Sum& sum = sums.at(phase.at("name"));
    const json& loads = phase.at("loads");
    for (const json& strap : loads.at("straps")) {
      Triple force = triple(strap.at("direction"));
      for (double& each : force) each *= strap.at("tension_N").get<double>();
      sum.add(force, triple(strap.at("anchor_mm")));
    }
    sum.add(triple(loads.at("gas").at("force_N")), {0, 0, 0});
    const Triple moment = triple(loads.at("gas").at("moment_N_mm"));
    for (std::size_t k = 0; k < 3; ++k) sum.moment_n_mm[k] += moment[k];
    for (const char* name : {"weight", "hose"}) {
      sum.add(triple(loads.at(name).at("force_N")), triple(loads.at(name).at("point_mm")));
    }
  }
  return sums;
}

}  // namespace

TEST_CASE("Contact in samples.csv and loads in result.json are in balance") {
  std::size_t n_phases = 0;
  for (const ReportedCase& each : reported_cases()) {
    const auto sums =
        residuals(samples_csv(each.estimate), json::parse(result_json(each.estimate)));
    for (const auto& [phase, sum] : sums) {
      CAPTURE(each.what, phase);
      ++n_phases;
      // What the files promise; the engine balances to 1e-6 N and 1e-4 N mm.
      CHECK(norm(sum.force_n) < 1e-5);
      CHECK(norm(sum.moment_n_mm) < 1e-3);
    }
  }
  CHECK(n_phases > 20);
}

TEST_CASE("samples.csv has a row for every sample of every seated phase") {
  const Estimate& estimate = reported_cases().front().estimate;
  const auto rows = rows_of(samples_csv(estimate));
  std::size_t expected = 0;
  for (const PhaseEstimate& phase : estimate.phases) {
    if (phase.seated) expected += phase.state.samples.size();
  }
  CHECK(rows.size() == expected);
  CHECK(estimate.phases.front().state.samples.size() >= 1500);
}

TEST_CASE("samples.csv reads back to the same bits") {
  const Estimate& estimate = reported_cases().front().estimate;
  const auto rows = rows_of(samples_csv(estimate));
  const auto& samples = estimate.phases.front().state.samples;
  bool same = true;
  bool touching = false;
  bool bare = false;
  for (std::size_t k = 0; k < samples.size(); ++k) {
    same = same && std::stod(rows[k].at("x_mm")) == samples[k].position.x() &&
           std::stod(rows[k].at("gap_mm")) == samples[k].gap_mm &&
           rows[k].at("part") == name_of(samples[k].part);
    touching = touching || std::stod(rows[k].at("pressure_kPa")) > 0;
    bare = bare || std::stod(rows[k].at("pressure_kPa")) == 0;
  }
  CHECK(same);
  CHECK(touching);
  CHECK(bare);
}

TEST_CASE("A phase that does not seat has no samples") {
  const Estimate blown_off = estimate_fit(
      case_of({.settings = R"({"cpap_cmH2O": 40})", .rest = R"("straps": {"tension_N": 0.5})"}));
  CHECK(rows_of(samples_csv(blown_off)).empty());
}
