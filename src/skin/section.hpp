// A slice through tissue and dressing under a load: what the skin and the flesh beneath it suffer.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "skin/section_contact.hpp"
#include "skin/section_strain.hpp"

namespace rimload {

/// What a slice takes for granted; from `data/section-tissue.json`, see the file for sources.
struct SectionDefaults {
  double skin_thickness_mm = 0;
  double skin_share_at_most = 0;     ///< of the whole depth
  double skin_over_fat_modulus = 0;  ///< E of skin over E of fat
  double ridge_half_angle_rad = 0;
  double small_strain_limit = 0;  ///< compression beyond which an answer is flagged
};
[[nodiscard]] const SectionDefaults& section_defaults();

/// Soft tissue over bone, as the contact engine knows it.
struct SectionTissue {
  double depth_mm = 10;        ///< h, skin to bone, above 0
  double youngs_n_mm2 = 0.04;  ///< E of the whole column, apparent, above 0
  double poisson = 0.45;       ///< nu of skin and fat, 0 to 0.49
  /// R of a ridge seen in the slice; 0: flat. The bridge of the nose is a ridge in a slice along
  /// the rim there, and nearly flat in one across the rim.
  double bone_radius_mm = 0;
};

/// Skin and fat, apart.
struct TissueLayers {
  double fat_mm = 0;
  double skin_mm = 0;
  double fat_youngs_n_mm2 = 0;
  double skin_youngs_n_mm2 = 0;
};

/// Parts skin from fat so that the column stays as stiff as the engine takes it to be: on flat bone
/// and under an even strip of this width the layers' mean sinking is that of `layer_modulus` with
/// E.
/// @param contact_width_mm above 0
[[nodiscard]] TissueLayers part_layers(const SectionTissue& tissue, double contact_width_mm);

/// A dressing glued to the skin, all along the slice.
struct SectionDressing {
  double thickness_mm = 0;  ///< 0: none
  double youngs_n_mm2 = 0;
  double poisson = 0.45;
};

/// A slice and how it is meshed.
struct SectionSetting {
  TissueLayers layers = {};
  double poisson = 0.45;
  double bone_radius_mm = 0;
  SectionDressing dressing = {};
  double half_width_mm = 5;  ///< of the finely meshed part, to hold the whole load
  int fine_columns = 24;     ///< across it
  int fineness = 1;          ///< 2: half as wide and half as high elements, and so on
};

/// Worst values of one layer, and how much of it is strained.
struct LayerPeaks {
  double compression = 0;
  double shear = 0;
  double von_mises = 0;  ///< [N/mm2]
};

/// What a loaded slice shows. As meshed here, sinking and pressures are within 1 % of those of a
/// mesh twice as fine, peaks in the fat within 2 %, in the skin and of shear on the bone within 6
/// %.
struct SectionAnswer {
  LayerPeaks fat;
  LayerPeaks skin;
  LayerPeaks dressing;            ///< zeros where there is none
  double bone_pressure_peak = 0;  ///< [N/mm2]
  double bone_shear_peak = 0;     ///< [N/mm2]
  double face_pressure_peak = 0;  ///< on the outer face, a column's mean [N/mm2]
  double skin_pressure_peak = 0;  ///< on the skin itself, beneath a dressing [N/mm2]
  double mean_sinking_mm = 0;     ///< of the outer face where it is loaded, by width
  double column_strain = 0;       ///< mean sinking over the depth of tissue and dressing
  /// How much stiffer the engine's column law is at that strain: -ln(1 - e)/e - 1.
  double stiffening_left_out = 0;
  bool beyond_small_strain = false;   ///< compression above the limit in any layer: read with care
  std::vector<double> face_pressure;  ///< by column [N/mm2]
  std::vector<double> skin_pressure;  ///< by column, on the skin [N/mm2]
  std::vector<double> columns_mm;     ///< their borders along the outer face
  std::vector<BoneStress> bone;       ///< by column
  std::vector<SectionPoint> points;   ///< layers: 0 fat, 1 skin, 2 dressing
  SectionField field;                 ///< to be drawn
};

/// Area of skin and fat [mm2] more strained than a threshold.
[[nodiscard]] double area_above(std::span<const SectionPoint> points, double compression);

/// A slice, ready to be loaded in many ways.
class Section {
 public:
  explicit Section(const SectionSetting& setting);
  /// Under given pressure and shear, such as those of the samples across a station.
  [[nodiscard]] SectionAnswer under(std::span<const FaceLoad> loads) const;
  /// Under a lip pressed with a force per length [N/mm]; nothing where its contact does not settle.
  [[nodiscard]] std::optional<SectionAnswer> under(const SectionLip& lip,
                                                   double line_force_n_mm) const;
  [[nodiscard]] const SectionBody& body() const { return body_; }

 private:
  [[nodiscard]] SectionAnswer answer(const Eigen::VectorXd& displacement,
                                     std::vector<double> pressure) const;
  double depth_mm_;
  bool dressed_;
  SectionBody body_;
};

/// One sample across a station, as the contact engine puts them out.
struct StationSample {
  double across_mm = 0;  ///< place along the skin, 0 anywhere near the middle
  double width_mm = 0;   ///< that it stands for
  double pressure = 0;   ///< [N/mm2]
  double shear = 0;      ///< across, to the right [N/mm2]
};

/// Parts the layers by the width pressed, meshes, loads and reads a slice at once.
/// @return nothing where no sample is pressed
[[nodiscard]] std::optional<SectionAnswer> station_section(const SectionTissue& tissue,
                                                           std::span<const StationSample> samples,
                                                           const SectionDressing& dressing = {});

}  // namespace rimload
