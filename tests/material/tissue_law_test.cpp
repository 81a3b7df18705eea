#include "material/tissue_law.hpp"

#include <cmath>
#include <vector>

#include "catch.hpp"

using namespace rimload;

namespace {

constexpr double blend_mm = 0.05;

// From first touch to past locking, with and without something soft beneath.
std::vector<TissueColumn> columns() {
  std::vector<TissueColumn> out;
  for (const double indentation : {0.01, 0.049, 0.2, 1.0, 3.0, 5.6, 6.5}) {
    for (const double compliance : {0.0, 20.0, 400.0}) {
      out.push_back({indentation, 6, 0.15, compliance});
      out.push_back({indentation, 6, 0.15, compliance, 2.5, 2.5 / 0.04});
    }
  }
  return out;
}

double slope_by(double TissueColumn::*member, TissueColumn column, double step) {
  column.*member += step;
  const double above = column_pressure(column, blend_mm).pressure;
  column.*member -= 2 * step;
  return (above - column_pressure(column, blend_mm).pressure) / (2 * step);
}

}  // namespace

TEST_CASE("the derivatives of a column's pressure are its finite differences") {
  for (TissueColumn column : columns()) {
    // A step of 1e-6 of each value: truncation 1e-12, rounding 1e-10 of it, and the shared
    // indentation is solved to 1e-18.
    const ColumnPressure p = column_pressure(column, blend_mm);
    constexpr double tolerance = 1e-6;
    CHECK(slope_by(&TissueColumn::indentation_mm, column, 1e-6) ==
          Approx(p.by_indentation).epsilon(tolerance));
    CHECK(slope_by(&TissueColumn::depth_mm, column, 6e-6) == Approx(p.by_depth).epsilon(tolerance));
    CHECK(slope_by(&TissueColumn::modulus_n_mm2, column, 1.5e-7) ==
          Approx(p.by_modulus).epsilon(tolerance));
    if (column.compliance_mm3_n > 0) {
      CHECK(slope_by(&TissueColumn::compliance_mm3_n, column, 1e-6 * column.compliance_mm3_n) ==
            Approx(p.by_compliance).epsilon(tolerance));
    }
    if (column.layer_mm > 0) {
      // A thicker layer of the same compliance differs in where it stiffens only: by a little.
      CHECK(slope_by(&TissueColumn::layer_mm, column, 1e-4) ==
            Approx(p.by_layer).epsilon(tolerance).margin(1e-9));
      CHECK(slope_by(&TissueColumn::layer_compliance_mm3_n, column, 1e-4) ==
            Approx(p.by_layer_compliance).epsilon(tolerance));
    }
  }
}

TEST_CASE("a thin bonded layer is compressed as if confined: p = M delta/h at small strain") {
  // -ln(1 - x) is x (1 + x/2): 5e-5 off at a strain of 1e-4; e/2 of the blend taken off.
  constexpr double tiny_blend = 1e-7;
  const ColumnPressure p = column_pressure({1e-3, 10, 0.2, 0}, tiny_blend);
  CHECK(p.pressure == Approx(0.2 * 1e-3 / 10).epsilon(2e-4));
}

TEST_CASE("tissue and what lies beneath it share an indentation as springs in series") {
  constexpr double tiny_blend = 1e-9;
  const double tissue = 10 / 0.2;  // h/M [mm3/N]
  const double backing = 70;
  const ColumnPressure p = column_pressure({1e-4, 10, 0.2, backing}, tiny_blend);
  CHECK(p.pressure == Approx(1e-4 / (tissue + backing)).epsilon(1e-4));
  // At any strain: the same pressure in both, the travels add up.
  const double deep = column_pressure({4, 10, 0.2, backing}, tiny_blend).pressure;
  CHECK(10 * (1 - std::exp(-deep / 0.2)) + backing * deep == Approx(4).epsilon(1e-9));
}

TEST_CASE("a column stiffens as -M ln(1 - delta/h) and locks with a tangent that goes on") {
  constexpr double tiny_blend = 1e-9;
  const auto at = [&](double strain) {
    return column_pressure({10 * strain, 10, 0.2, 0}, tiny_blend);
  };
  CHECK(at(0.5).pressure == Approx(0.2 * std::log(2)).epsilon(1e-8));
  CHECK(at(0.9).by_indentation / at(0.1).by_indentation == Approx(9).epsilon(1e-6));
  // Once differentiable at 95 %, straight beyond: 20 M/h per millimetre.
  CHECK(at(0.95 + 1e-9).pressure == Approx(at(0.95 - 1e-9).pressure).epsilon(1e-6));
  CHECK(at(0.95 + 1e-9).by_indentation == Approx(at(0.95 - 1e-9).by_indentation).epsilon(1e-6));
  CHECK(at(1.3).by_indentation == Approx(20 * 0.2 / 10));
  CHECK(at(1.3).pressure - at(1.2).pressure == Approx(20 * 0.2 * 0.1));
}

TEST_CASE("pressure sets in without a jump in stiffness and never pulls") {
  CHECK(column_pressure({-0.5, 10, 0.2, 0}, blend_mm).pressure == 0);
  CHECK(column_pressure({0, 10, 0.2, 0}, blend_mm).by_indentation == 0);
  const auto slope = [&](double x) {
    return column_pressure({x, 1000, 0.2, 0}, blend_mm).by_indentation;
  };
  CHECK(slope(1e-9) == Approx(0).margin(1e-9));
  CHECK(slope(blend_mm - 1e-9) == Approx(slope(blend_mm + 1e-9)).epsilon(1e-6));
  // Beyond the blend the column lags by half of it.
  CHECK(column_pressure({1, 1e6, 0.2, 0}, blend_mm).pressure ==
        Approx(0.2 * (1 - blend_mm / 2) / 1e6).epsilon(1e-5));
}

TEST_CASE("the smooth switch runs from 0 to 1 with the slope it states") {
  CHECK(smooth_switch(-1).value == 0);
  CHECK(smooth_switch(0.5).value == Approx(0.5));
  CHECK(smooth_switch(2).value == 1);
  for (const double x : {-0.2, 0.1, 0.5, 0.9, 1.3}) {
    const double difference =
        (smooth_switch(x + 1e-6).value - smooth_switch(x - 1e-6).value) / 2e-6;
    CHECK(smooth_switch(x).slope == Approx(difference).margin(1e-9));
  }
}

TEST_CASE("tissue, backing and a layer on top bear the same pressure and share the indentation") {
  constexpr double tiny_blend = 1e-9;
  for (const double indentation : {0.5, 2.0, 4.0, 7.0}) {
    const double p = column_pressure({indentation, 6, 0.15, 20, 3, 3 / 0.03}, tiny_blend).pressure;
    const double tissue = 6 * (1 - std::exp(-p / 0.15));
    const double layer = 3 * (1 - std::exp(-p / 0.03));
    CHECK(tissue + 20 * p + layer == Approx(indentation).epsilon(1e-9));
  }
}

TEST_CASE("a layer of no thickness changes nothing, a stiff thin one passes the pressure on") {
  for (const TissueColumn& bare : columns()) {
    if (bare.layer_mm > 0) continue;
    TissueColumn layered = bare;
    layered.layer_compliance_mm3_n = 7;
    CHECK(column_pressure(layered, blend_mm).pressure == column_pressure(bare, blend_mm).pressure);
  }
  // 0.1 mm of 1 GPa: it gives way by 1e-4 mm3/N where the tissue does by 40.
  for (const double indentation : {0.2, 1.0, 3.0}) {
    const double bare = column_pressure({indentation, 6, 0.15, 0}, blend_mm).pressure;
    const double stiff = column_pressure({indentation, 6, 0.15, 0, 0.1, 1e-4}, blend_mm).pressure;
    CHECK(stiff == Approx(bare).epsilon(1e-5));
  }
}

TEST_CASE("a soft thick layer is pressed flat first and then bottoms out on the tissue") {
  // 5 mm of 0.5 kPa on tissue of 150 kPa: nothing to speak of until the layer is gone, then the
  // tissue alone, indented by what is left.
  constexpr double tiny_blend = 1e-9;
  const auto at = [&](double indentation) {
    return column_pressure({indentation, 6, 0.15, 0, 5, 5 / 0.0005}, tiny_blend).pressure;
  };
  CHECK(at(4) < 0.0005 * std::log(5.0) * 1.001);
  for (const double left : {0.5, 1.5}) {
    const double tissue = column_pressure({left, 6, 0.15, 0}, tiny_blend).pressure;
    CHECK(at(5 + left) == Approx(tissue).epsilon(1e-6));
  }
}
