// The numbers by which a scan becomes a face, from `geometry/data/scan-fitting.json`.
#pragma once

namespace rimload {

/// Each with its meaning and standing in the data file.
struct ScanLimits {
  double size_factor = 0;
  double marked_point_refused_mm = 0;
  double marked_point_doubted_mm = 0;
  double marking_sd_mm = 0;
  double local_sd_mm = 0;
  double scan_sd_mm = 0;
  double first_reach_mm = 0;
  double outlier_mm = 0;
  double outlier_sds = 0;
  double smoothing_length_mm = 0;
  double slope_length_mm = 0;
  double fading_length_mm = 0;
  double edge_mm = 0;
  double seal_reach_mm = 0;
  double seal_rms_refused_mm = 0;
  double seal_missing_refused = 0;
  double model_rms_refused_mm = 0;
  double model_met_least = 0;
  double feature_shift_mm = 0;
  double feature_curvature_per_mm = 0;
};

[[nodiscard]] const ScanLimits& scan_limits();

}  // namespace rimload
