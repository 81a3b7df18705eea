// A round rim on a flat face, with contact as a test wants it.
#pragma once

#include <cmath>
#include <functional>
#include <numbers>
#include <string>
#include <vector>

#include "contact/equilibrium.hpp"
#include "geometry/site.hpp"

namespace rimload {

inline constexpr double ring_radius_mm = 35;
inline constexpr int ring_stations = 144;
inline constexpr int ring_across = 5;

/// Flat face in the plane z = 0: the middle of the ring lies at (0, centre_y, 0).
struct Ring {
  Mask mask;
  PhaseState state;
  std::vector<Landmark> landmarks;

  explicit Ring(double centre_y_mm = -45) {
    Rim rim;
    for (int k = 0; k < 24; ++k) {
      const double angle = 2 * std::numbers::pi * k / 24;
      rim.controls.push_back(
          {.position_mask = ring_radius_mm * Vec3(std::sin(angle), std::cos(angle) - 1, 0)});
    }
    rim.section = {.lip_width_mm = 8, .crown_radius_mm = 8};
    mask.rim = sample_rim(rim, {.n_stations = ring_stations, .n_across = ring_across});
    state.pose.translation_mm = {0, centre_y_mm + ring_radius_mm, 0};
    for (int i = 0; i < ring_stations; ++i) {
      for (int j = 0; j < ring_across; ++j) {
        ContactSample sample;
        sample.station = i;
        sample.across = j;
        sample.foot =
            state.pose * mask.rim.sample(static_cast<std::size_t>(i), static_cast<std::size_t>(j));
        sample.foot.z() = 0;
        sample.position = sample.foot;
        state.samples.push_back(sample);
      }
    }
    add_landmark("lid_front", Side::left, {31, -3, 0});
    add_landmark("lid_front", Side::right, {-31, -3, 0});
  }

  void add_landmark(const std::string& name, Side side, const Vec3& at) {
    landmarks.push_back({name, side, at, 10});
  }

  /// Pressure and gap of each station, alike across; degrees from the apex to the wearer's left.
  struct Contact {
    double pressure = 0;
    double gap_mm = 0;
  };
  void press(const std::function<Contact(double degrees)>& contact) {
    for (ContactSample& sample : state.samples) {
      const Contact here = contact(360.0 * sample.station / ring_stations);
      sample.pressure = here.pressure;
      sample.gap_mm = here.gap_mm;
    }
  }
};

}  // namespace rimload
