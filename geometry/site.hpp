// Regions of skin by which pressure is reported.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "geometry/landmark.hpp"

namespace rimload {

enum class Site {
  nasal_bridge,
  nose_side,
  cheekbone,
  cheek,
  mouth_corner,
  upper_lip,
  chin,
  forehead,
  eyelid,       ///< no pressure is given here, only a flag
  ear_top,      ///< under a strap
  occiput,      ///< under a strap
  strap_cheek,  ///< under a strap
  tube          ///< under a feeding tube that the rim presses
};

/// Sites that a rim, a pad or a tube can press.
inline constexpr std::array contact_sites{Site::nasal_bridge, Site::nose_side,    Site::cheekbone,
                                          Site::cheek,        Site::mouth_corner, Site::upper_lip,
                                          Site::chin,         Site::forehead,     Site::eyelid};
/// Sites that only a strap presses.
inline constexpr std::array strap_sites{Site::ear_top, Site::occiput, Site::strap_cheek};

[[nodiscard]] bool is_strap_site(Site site);

/// The name in files and commands, such as `nasal_bridge`.
[[nodiscard]] std::string_view name_of(Site site);
/// The name in words, such as `nasal bridge`.
[[nodiscard]] std::string_view words_for(Site site);
[[nodiscard]] std::optional<Site> site_named(std::string_view name);

/// The site of a landmark, after the table `geometry/data/landmark-sites.json`.
/// @throws InputError when the landmark is in no row of the table.
[[nodiscard]] Site site_of_landmark(std::string_view landmark_name);

/// A site and the side of the face it is on.
struct SidedSite {
  Site site = Site::cheek;
  Side side = Side::midline;
  friend bool operator==(const SidedSite&, const SidedSite&) = default;
  friend auto operator<=>(const SidedSite&, const SidedSite&) = default;
};

/// Finds the site of any point of the face: that of its nearest landmark in 3-D; landmarks of the
/// lids count within `eyelid_reach_mm` of the table alone. @pre not all landmarks are of the lids
/// Sites of the midline (nasal bridge, upper lip, chin, forehead) are one each; of the others a
/// point belongs to the side its x coordinate is on, on the midline to the left.
class SiteFinder {
 public:
  explicit SiteFinder(std::span<const Landmark> landmarks);
  [[nodiscard]] SidedSite operator()(const Vec3& point_face) const;
  /// The same of each point; quicker where they lie one after the other.
  [[nodiscard]] std::vector<SidedSite> along(std::span<const Vec3> points_face) const;

 private:
  struct Place {
    Vec3 position;
    Site site;
  };
  /// @param guess a place nearby, which makes it quicker, or null
  [[nodiscard]] const Place* nearest(const Vec3& point_face, const Place* guess) const;

  std::vector<Place> places_;  ///< of the landmarks, from the lowest to the highest
};

/// Whether a site lies across the midline and is therefore reported once.
[[nodiscard]] bool is_midline(Site site);

}  // namespace rimload
