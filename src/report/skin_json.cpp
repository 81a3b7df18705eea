#include "report/skin_json.hpp"

#include "skin/tolerance_words.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

using Ordered = nlohmann::ordered_json;

Ordered limit(const HoursLimit& hours) { return hours ? Ordered(*hours) : Ordered(); }

Ordered load_json(const LoadOnSkin& load) {
  const LoadBand& p = load.pressure;
  const LoadBand& t = load.shear;
  return {{"pressure_mild_mmHg", units::to_mmhg(p.mild)},
          {"pressure_typical_mmHg", units::to_mmhg(p.typical)},
          {"pressure_harsh_mmHg", units::to_mmhg(p.harsh)},
          {"shear_mild_kPa", units::to_kpa(t.mild)},
          {"shear_typical_kPa", units::to_kpa(t.typical)},
          {"shear_harsh_kPa", units::to_kpa(t.harsh)}};
}

Ordered reading_json(const CurveReading& reading) {
  Ordered hours;
  if (reading.hours) {
    hours = {{"low_h", reading.hours->low_h},
             {"typical_h", limit(reading.hours->typical_h)},
             {"high_h", limit(reading.hours->high_h)}};
  }
  return {{"curve", name_of(reading.curve)},
          {"verdict", name_of(reading.verdict)},
          {"hours", std::move(hours)},
          {"words", words_for(reading)}};
}

Ordered row_json(const SiteTolerance& row) {
  Ordered readings = Ordered::array();
  for (const CurveReading& reading : row.curves) readings.push_back(reading_json(reading));
  return {{"site", name_of(row.place.site)},
          {"side", name_of(row.place.side)},
          {"load", load_json(row.load)},
          {"curves", std::move(readings)},
          {"concern", name_of(row.concern.level)},
          {"reasons", row.concern.reasons},
          {"check",
           {{"act", name_of(row.plan.act)},
            {"next_h", limit(row.plan.next_h)},
            {"every_h", limit(row.plan.every_h)},
            {"bound", row.plan.bound},
            {"words", row.plan.words}}}};
}

}  // namespace

nlohmann::ordered_json skin_json(std::span<const SiteTolerance> rows) {
  Ordered out{
      {"standing", standing_lines()}, {"curves", Ordered::array()}, {"sites", Ordered::array()}};
  for (const ToleranceCurve curve : tolerance_curves) {
    const CurveRecord& record = record_of(curve);
    out["curves"].push_back({{"name", name_of(curve)},
                             {"title", record.title},
                             {"measured_on", record.measured_on},
                             {"says", record.says},
                             {"source", record.source},
                             {"status", record.status}});
  }
  for (const SiteTolerance& row : rows) out["sites"].push_back(row_json(row));
  return out;
}

}  // namespace rimload
