#include "geometry/site.hpp"

#include <cmath>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>

#include "geometry_data.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

struct SiteName {
  Site site;
  std::string_view name;
  std::string_view words;
};
constexpr std::array site_names{
    SiteName{Site::nasal_bridge, "nasal_bridge", "nasal bridge"},
    SiteName{Site::nose_side, "nose_side", "side of the nose"},
    SiteName{Site::cheekbone, "cheekbone", "cheekbone"},
    SiteName{Site::cheek, "cheek", "cheek"},
    SiteName{Site::mouth_corner, "mouth_corner", "corner of the mouth"},
    SiteName{Site::upper_lip, "upper_lip", "upper lip"},
    SiteName{Site::chin, "chin", "chin"},
    SiteName{Site::forehead, "forehead", "forehead"},
    SiteName{Site::eyelid, "eyelid", "eyelid"},
    SiteName{Site::ear_top, "ear_top", "top of the ear"},
    SiteName{Site::occiput, "occiput", "back of the head"},
    SiteName{Site::strap_cheek, "strap_cheek", "cheek under the strap"},
    SiteName{Site::tube, "tube", "skin under the tube"},
};

std::map<std::string, Site, std::less<>> read_table() {
  std::map<std::string, Site, std::less<>> table;
  const auto json = nlohmann::json::parse(data::landmark_sites_json());
  for (const auto& [name, landmarks] : json.at("sites").items()) {
    const auto site = site_named(name);
    if (!site) throw InternalError("landmark-sites.json names an unknown site " + name);
    for (const auto& landmark : landmarks) table.emplace(landmark.get<std::string>(), *site);
  }
  return table;
}

}  // namespace

std::string_view name_of(Site site) {
  for (const SiteName& row : site_names) {
    if (row.site == site) return row.name;
  }
  return "";
}

std::string_view words_for(Site site) {
  for (const SiteName& row : site_names) {
    if (row.site == site) return row.words;
  }
  return "";
}

std::optional<Site> site_named(std::string_view name) {
  for (const SiteName& row : site_names) {
    if (row.name == name) return row.site;
  }
  return std::nullopt;
}

Site site_of_landmark(std::string_view landmark_name) {
  static const auto table = read_table();
  const auto found = table.find(landmark_name);
  if (found == table.end()) {
    throw InputError("", "/landmarks",
                     "landmark '" + std::string(landmark_name) + "' belongs to no site");
  }
  return found->second;
}

bool is_midline(Site site) {
  return site == Site::nasal_bridge || site == Site::upper_lip || site == Site::chin ||
         site == Site::forehead || site == Site::occiput;
}

SiteFinder::SiteFinder(std::span<const Landmark> landmarks)
    : positions_(3, static_cast<Eigen::Index>(landmarks.size())) {
  for (const Landmark& landmark : landmarks) {
    positions_.col(static_cast<Eigen::Index>(sites_.size())) = landmark.position_face;
    sites_.push_back(site_of_landmark(landmark.name));
  }
}

SidedSite SiteFinder::operator()(const Vec3& point_face) const {
  Eigen::Index nearest = 0;
  (positions_.colwise() - point_face).colwise().squaredNorm().minCoeff(&nearest);
  return with_side(sites_[static_cast<std::size_t>(nearest)], point_face);
}

SidedSite SiteFinder::with_side(Site site, const Vec3& point_face) {
  if (is_midline(site)) return {site, Side::midline};
  return {site, point_face.x() >= 0 ? Side::left : Side::right};
}

SidedSite SiteFinder::Walk::operator()(const Vec3& point_face) {
  if ((point_face - from_).norm() >= reach_mm_) {
    Eigen::Index nearest = 0;
    Eigen::RowVectorXd square = (finder_.positions_.colwise() - point_face).colwise().squaredNorm();
    const double least = square.minCoeff(&nearest);
    square[nearest] = std::numeric_limits<double>::infinity();
    from_ = point_face;
    site_ = finder_.sites_[static_cast<std::size_t>(nearest)];
    reach_mm_ = 0.5 * (std::sqrt(square.minCoeff()) - std::sqrt(least));
  }
  return with_side(site_, point_face);
}

}  // namespace rimload
