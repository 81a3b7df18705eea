#include "geometry/scan_limits.hpp"

#include <nlohmann/json.hpp>

#include "geometry_data.hpp"

namespace rimload {

const ScanLimits& scan_limits() {
  static const ScanLimits limits = [] {
    const auto json = nlohmann::json::parse(data::scan_fitting_json());
    const auto value = [&](const char* key) { return json.at(key).at("value").get<double>(); };
    ScanLimits out;
    out.size_factor = value("size_factor");
    out.marked_point_refused_mm = value("marked_point_refused_beyond_mm");
    out.marked_point_doubted_mm = value("marked_point_doubted_beyond_mm");
    out.marking_sd_mm = value("marking_sd_mm");
    out.local_sd_mm = value("local_sd_mm");
    out.scan_sd_mm = value("scan_sd_mm");
    out.first_reach_mm = value("first_reach_mm");
    out.outlier_mm = value("outlier_mm");
    out.outlier_sds = value("outlier_sds");
    out.smoothing_length_mm = value("smoothing_length_mm");
    out.slope_length_mm = value("slope_length_mm");
    out.fading_length_mm = value("fading_length_mm");
    out.edge_mm = value("edge_mm");
    out.seal_reach_mm = value("seal_reach_mm");
    out.seal_rms_refused_mm = value("seal_rms_refused_mm");
    out.seal_missing_refused = value("seal_missing_refused");
    out.model_rms_refused_mm = value("model_rms_refused_mm");
    out.model_met_least = value("model_met_least");
    out.feature_shift_mm = value("feature_shift_mm");
    out.feature_curvature_per_mm = value("feature_curvature_per_mm");
    return out;
  }();
  return limits;
}

}  // namespace rimload
