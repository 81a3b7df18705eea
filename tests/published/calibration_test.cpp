// V1 to V3: calibration, since the demonstration cushions were moulded with them in mind.
#include <cstdio>

#include "case/mask_of_case.hpp"
#include "catch.hpp"
#include "fit/strap_window.hpp"
#include "fit/trial.hpp"
#include "published_cases.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

struct Row {
  const FaceAndCushion* pair = nullptr;
  double cmh2o = 0;
  StrapWindow window;
  std::vector<Cell> cells;  ///< one a multiple of the just-sealed tension
};

std::vector<double> numbers(const char* key) {
  return published_cases().at(key).get<std::vector<double>>();
}

Row solve_row(const FaceAndCushion& pair, double cmh2o) {
  Row row{.pair = &pair, .cmh2o = cmh2o, .window = {}, .cells = {}};
  const Case input = pair.at(continuous_pressure(cmh2o));
  const Mask mask = make_mask(input);
  row.window = find_strap_window(input, *pair.prepared, mask);
  Trial trial(input, *pair.prepared, mask);
  const TapedSensors sensors = taped_sensors(pair, mask, trial.placement());
  for (const double times : numbers("times_just_sealed")) {
    Cell cell;
    if (row.window.seals) {
      trial.set_straps(std::vector<double>(mask.straps.size(), times * row.window.sealing_n));
      const TrialPhase phase = trial.solve(units::from_cmh2o(cmh2o));
      if (phase.seated) cell = cell_of(pair, mask, phase.state, sensors);
    }
    row.cells.push_back(cell);
  }
  return row;
}

void print(const std::vector<Row>& rows) {
  std::printf(
      "\nCalibration of the invented demonstration cushions (V1 to V3), not a validation.\n"
      "Sensor readings in mmHg at taped places (largest of the site), seated; straps at multiples "
      "of the just-sealed tension.\n"
      "%-13s%-19s%6s%9s%9s%6s%16s%16s%7s%9s  %s\n",
      "face", "cushion", "cmH2O", "seals N", "upper N", "times", "bridge", "cheek", "ratio",
      "L/min", "weakest");
  const auto multiples = numbers("times_just_sealed");
  for (const Row& row : rows) {
    for (std::size_t k = 0; k < multiples.size(); ++k) {
      const Cell& c = row.cells[k];
      std::printf("%-13s%-19s%6.0f", row.pair->face.c_str(),
                  (row.pair->cushion.name + " " + row.pair->cushion.size).c_str(), row.cmh2o);
      if (!c.seated) {
        std::printf("%9s%9s%6.2f  %s\n", row.window.seals ? "" : "never", "", multiples[k],
                    row.window.seals ? "does not seat" : "no tension up to the limit seals");
        continue;
      }
      std::printf("%9.2f%9.2f%6.2f%8.0f (%5.0f)%8.0f (%5.0f)%7.2f%9.2f  %s %s %.1f cmH2O\n",
                  row.window.sealing_n, row.window.upper_n, multiples[k], c.bridge_mmhg,
                  c.bridge_largest_mmhg, c.cheek_mmhg, c.cheek_largest_mmhg,
                  c.bridge_mmhg / c.cheek_mmhg, c.leak_l_min,
                  std::string(name_of(c.weakest.site)).c_str(),
                  std::string(name_of(c.weakest.side)).c_str(), c.margin_cmh2o);
    }
  }
}

const std::vector<Row>& rows() {
  static const std::vector<Row> all = [] {
    const auto pressures = numbers("cpap_cmH2O");
    const auto& pairs = faces_and_cushions();
    std::vector<Row> out(pairs.size() * pressures.size());
    for_each_index(out.size(), [&](std::size_t k) {
      out[k] = solve_row(pairs[k / pressures.size()], pressures[k % pressures.size()]);
    });
    print(out);
    return out;
  }();
  return all;
}

// Oronasal cases at the middle multiple.
std::vector<const Row*> sample() {
  std::vector<const Row*> out;
  for (const Row& row : rows()) {
    if (row.pair->cushion.type == CushionType::oronasal) out.push_back(&row);
  }
  return out;
}
const Cell& middle(const Row& row) { return row.cells[1]; }

std::string describe(const Row& row) {
  return row.pair->face + ", " + row.pair->cushion.name + " " + row.pair->cushion.size + ", " +
         std::to_string(static_cast<int>(row.cmh2o)) + " cmH2O";
}

// Mean over the sample, and every single value at every tension, against the bounds of a row of the
// data file.
void check_level(const char* what, double Cell::*value) {
  const auto& target = published_cases().at(what);
  double sum = 0;
  for (const Row* row : sample()) {
    sum += middle(*row).*value;
    for (const Cell& cell : row->cells) {
      CAPTURE(describe(*row), cell.*value);
      CHECK(cell.*value >= target.at("single_mmHg").at(0).get<double>());
      CHECK(cell.*value <= target.at("single_mmHg").at(1).get<double>());
    }
  }
  const double mean = sum / static_cast<double>(sample().size());
  std::printf("%s (calibration): mean %.1f mmHg, accepted %g to %g\n", what, mean,
              target.at("mean_mmHg").at(0).get<double>(),
              target.at("mean_mmHg").at(1).get<double>());
  CHECK(mean >= target.at("mean_mmHg").at(0).get<double>());
  CHECK(mean <= target.at("mean_mmHg").at(1).get<double>());
}

}  // namespace

TEST_CASE("Every over-nose demonstration cushion seals every face of its size at every pressure") {
  CHECK(rows().size() == 8 * 4 * 3);
  for (const Row& row : rows()) {
    CAPTURE(describe(row));
    CHECK(row.window.seals);
    for (const Cell& cell : row.cells) CHECK(cell.seated);
  }
}

TEST_CASE("Calibration V1: the nasal bridge is pressed as hard as was measured") {
  check_level("V1", &Cell::bridge_mmhg);
}

TEST_CASE("Calibration V2: the cheek is pressed as hard as was measured") {
  check_level("V2", &Cell::cheek_mmhg);
}

TEST_CASE("Calibration V3: bridge to cheek is the ratio that was measured, above 1 on every face") {
  const auto& target = published_cases().at("V3");
  double sum = 0;
  for (const Row* row : sample()) {
    const double ratio = middle(*row).bridge_mmhg / middle(*row).cheek_mmhg;
    sum += ratio;
    for (const Cell& cell : row->cells) {
      CAPTURE(describe(*row), cell.bridge_mmhg, cell.cheek_mmhg);
      CHECK(cell.bridge_mmhg / cell.cheek_mmhg > target.at("single_above").get<double>());
    }
  }
  const double mean = sum / static_cast<double>(sample().size());
  std::printf("V3 (calibration): mean ratio %.2f, accepted %g to %g\n", mean,
              target.at("mean").at(0).get<double>(), target.at("mean").at(1).get<double>());
  CHECK(mean >= target.at("mean").at(0).get<double>());
  CHECK(mean <= target.at("mean").at(1).get<double>());
}
