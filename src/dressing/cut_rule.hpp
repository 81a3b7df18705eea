// How dressings are cut to shape.
#pragma once

namespace rimload {

/// Limits and sizes for cutting; the usual ones in `data/cut-template.json`, all assumed.
struct CutRule {
  double stretch_limit = 0;      ///< of stretch and of shortening, before a cut is made
  double share_left_out = 0;     ///< of the area, when stretch is said
  double corner_radius_mm = 0;   ///< no corner is sharper
  int most_cuts = 0;             ///< in one piece
  double deep_cut_share = 0;     ///< of the way across, 0 to 0.6
  double cuts_apart_mm = 0;      ///< at least
  double least_gain = 0;         ///< share by which a cut must lower the stretch
  double between_pieces_mm = 0;  ///< on a sheet
  double sheet_margin_mm = 0;    ///< from its edge to the pieces
};

[[nodiscard]] CutRule usual_cut_rule();

}  // namespace rimload
