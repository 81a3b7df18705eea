// The equilibrium of a mask on a face: what was asked, what came out.
#pragma once

#include <string>
#include <vector>

#include "contact/mask.hpp"
#include "contact/pose.hpp"
#include "geometry/skin_map.hpp"
#include "material/tissue_map.hpp"

namespace rimload {

/// `beside`: skin that the rim does not touch but loads through a dressing.
enum class Part { rim, pad, tube, beside };
[[nodiscard]] std::string_view name_of(Part part);

/// One sample of the surface that can touch the skin, facial frame.
struct ContactSample {
  Part part = Part::rim;
  int station = 0;               ///< along the rim, or row of the pad
  int across = 0;                ///< 0 innermost
  Vec3 position = Vec3::Zero();  ///< of the loaded mask's surface; the force acts here [mm]
  Vec3 foot = Vec3::Zero();      ///< closest point of the unloaded skin, beneath any dressing [mm]
  Vec3 normal = Vec3::UnitZ();   ///< outward from the skin
  double area_mm2 = 0;
  double gap_mm = 0;          ///< signed distance to the unloaded surface, skin or dressing;
                              ///< negative: pressed
  double pressure = 0;        ///< whole normal traction on the skin [N/mm2]
  Vec3 shear = Vec3::Zero();  ///< tangential traction on the mask [N/mm2]
};

struct StrapLoad {
  std::string name;
  double tension_n = 0;
  double stretch_mm = 0;           ///< of the band beyond slack
  Vec3 direction = Vec3::UnitZ();  ///< from the anchor to the head
  Vec3 anchor_face = Vec3::Zero();
};

struct GasLoad {
  double pressure = 0;              ///< [N/mm2]
  Vec3 force_n = Vec3::Zero();      ///< on the mask
  Vec3 moment_n_mm = Vec3::Zero();  ///< about the facial origin
  double area_mm2 = 0;              ///< of the sealed opening, projected on the force
};

struct PointLoad {
  Vec3 force_n = Vec3::Zero();
  Vec3 point_mm = Vec3::Zero();  ///< facial frame
};

enum class Termination {
  converged,
  at_jump,          ///< within 0.02 N, between two states on either side of a jump of the force
  evaluation_limit  ///< no balance found within the allowed evaluations
};

/// One phase of the breath in balance.
struct PhaseState {
  double gas_pressure = 0;  ///< [N/mm2]
  Termination termination = Termination::converged;
  Pose pose;
  Eigen::VectorXd lip_mm;  ///< displacement of the lip at each station, out of the face
  double force_residual_n = 0;
  double moment_residual_n_mm = 0;  ///< about the facial origin
  double lip_residual_n_mm = 0;     ///< largest force per length out of balance at a lip station
  int evaluations = 0;
  std::vector<ContactSample> samples;  ///< rim first, station by station, then the pad
  std::vector<StrapLoad> straps;
  GasLoad gas;
  PointLoad weight;  ///< of mask and hose, at their centre of mass
  PointLoad hose;    ///< the hose's pull
};

struct EquilibriumOptions {
  int max_evaluations = 300;
  double force_tolerance_n = 1e-6;      ///< |force residual| below this
  double moment_tolerance_n_mm = 1e-4;  ///< |moment residual| below this
  double lip_tolerance_n_mm = 1e-7;     ///< each lip station's residual force per length below
  double contact_blend_mm = 0.05;       ///< over which pressure sets in
  double edge_blend_mm = 0.5;           ///< over which a sample comes to count as touching
};

/// How a user sets a mask aside from its catalogue placement, facial axes.
struct PlacementOffset {
  Vec3 shift_mm = Vec3::Zero();
  Vec3 turn_rad = Vec3::Zero();  ///< about the middle of the rim
  [[nodiscard]] bool operator==(const PlacementOffset& other) const = default;
};

}  // namespace rimload
