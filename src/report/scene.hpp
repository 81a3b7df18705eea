// What a heat-map picture shows: plain values, so that drawing knows nothing of mechanics.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "geometry/skin_map.hpp"
#include "geometry/vec.hpp"

namespace rimload {

/// One station across the rim, in the facial frame; inner to outer.
struct SceneStation {
  std::vector<Vec3> points;           ///< of the skin, beneath samples of the lip [mm]
  std::vector<double> pressure_mmhg;  ///< contact pressure at each, 0 where it does not touch
  Vec3 rim = Vec3::Zero();            ///< on the moulded rim above the crown [mm]
  bool open = false;                  ///< gas can pass here
  double gap_mm = 0;                  ///< height of the gap, 0 when closed
};

/// A strap's visible course.
struct SceneStrap {
  std::vector<Vec3> points;  ///< polyline, facial frame [mm]
  double width_mm = 20;
  std::vector<Vec3> arm;  ///< of the mask's frame, from the rim to the strap's start; empty: none
};

/// A value written beside the place it belongs to.
struct SceneLabel {
  std::string text;   ///< such as `nasal bridge`
  std::string value;  ///< such as `71 mmHg`
  Vec3 anchor = Vec3::Zero();
};

/// A dressing place: a closed outline on the skin.
struct ScenePatch {
  std::vector<Vec3> outline;
  std::string label;  ///< such as `dressing 34 x 28 mm`; empty: none
};

/// A site whose skin is injured.
struct SceneInjury {
  std::vector<std::vector<Vec3>> hatch;  ///< lines on the skin that fill the site
  std::string label;                     ///< such as `injured: nasal bridge`
};

/// A dressing that is on, between cushion and skin.
struct SceneDressing {
  std::vector<Vec3> outline;  ///< closed, on the skin [mm]
  double thickness_mm = 1;    ///< not pressed
};

/// Gas that blows out from under the rim, out of the mouth or from a tube's port.
struct SceneJet {
  Vec3 from = Vec3::Zero();      ///< on the skin [mm]
  Vec3 towards = Vec3::UnitX();  ///< unit
  double flow_l_min = 0;
  std::string label;  ///< such as `leak 7.6 L/min`; empty: none
};

/// A feeding tube on the skin.
struct SceneTube {
  std::vector<Vec3> points;  ///< its course [mm]
  double width_mm = 4;
};

enum class View { front, left, right };  ///< the wearer's left and right

/// Everything in one picture.
struct Scene {
  const SkinMap* skin = nullptr;
  double chin_end_mm = -118;  ///< height of menton: what the map holds below it fades away
  std::vector<SceneStation> stations;
  std::vector<std::vector<Vec3>> pad_points;  ///< rows of samples of a forehead pad
  std::vector<std::vector<double>> pad_pressure_mmhg;
  std::vector<SceneStrap> straps;
  std::vector<SceneLabel> labels;
  std::vector<ScenePatch> patches;
  std::vector<SceneInjury> injuries;
  std::vector<SceneDressing> worn;
  std::vector<SceneJet> jets;               ///< in order of importance
  std::vector<std::pair<Vec3, Vec3>> hair;  ///< root and tip of drawn hairs
  std::optional<SceneTube> tube;
  std::string title;               ///< the case's name
  std::string subtitle;            ///< face, cushion, pressures, phase
  std::vector<std::string> stops;  ///< what must be settled first, each its own paragraph
  std::string caution;             ///< one line
  double scale_max_mmhg = 100;     ///< fixed range of the colour scale; more is drawn as the end
};

}  // namespace rimload
