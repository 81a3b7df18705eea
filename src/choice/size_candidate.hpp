// A cushion tried on a face.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fit/breath_reading.hpp"
#include "fit/estimate_at.hpp"
#include "fit/strap_window.hpp"

namespace rimload {

/// What one draw of the uncertain inputs gives a cushion.
struct SizeDraw {
  bool seals = false;
  double sealing_n = 0;  ///< just-sealed tension, mean over the straps
  double worst = 0;      ///< largest sensor reading of a contact site at the setting [N/mm2]
  double leak = 0;       ///< of the breath, at the setting [mm3/s]
};

/// A cushion on the face.
struct SizeCandidate {
  Cushion cushion;
  std::vector<std::string> excluded;    ///< why it is not for this wearer, whatever its fit
  StrapWindow window;                   ///< as the inputs are taken
  std::optional<Estimate> estimate;     ///< at the setting; nothing: it doesn't seal or seat there
  WorstContact worst;                   ///< then
  std::vector<Clearance> too_near;      ///< then
  std::vector<SizeDraw> draws;          ///< empty for one excluded
  double seals_share = 0;               ///< of the draws
  std::optional<ValueBand> worst_band;  ///< over the draws that seal [N/mm2]
  std::optional<ValueBand> leak_band;   ///< [mm3/s]
  std::optional<ValueBand> sealing_band;  ///< [N]
  bool leaks_too_much = false;            ///< median leak of the breath above the case's limit
  bool fits = false;  ///< not excluded, seals in enough draws, leaks within the limit, keeps clear
  std::optional<std::size_t> rank;  ///< from 1; those tied share one; nothing: not ranked

  /// Of the worst reading: over the draws, or as the inputs are taken without any [N/mm2].
  [[nodiscard]] double median_worst() const {
    return worst_band ? worst_band->median : worst.sensor;
  }
  /// Of the leak of the breath, likewise [mm3/s]. @pre it has an estimate
  [[nodiscard]] double median_leak() const {
    return leak_band ? leak_band->median : estimate->breath_mean_leak;
  }
};

}  // namespace rimload
