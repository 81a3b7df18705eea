#include "geometry/site.hpp"

#include <algorithm>
#include <iterator>
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

const nlohmann::json& landmark_sites() {
  static const auto json = nlohmann::json::parse(data::landmark_sites_json());
  return json;
}

std::map<std::string, Site, std::less<>> read_table() {
  std::map<std::string, Site, std::less<>> table;
  for (const auto& [name, landmarks] : landmark_sites().at("sites").items()) {
    const auto site = site_named(name);
    if (!site) throw InternalError("landmark-sites.json names an unknown site " + name);
    for (const auto& landmark : landmarks) table.emplace(landmark.get<std::string>(), *site);
  }
  return table;
}

}  // namespace

bool is_strap_site(Site site) {
  return std::find(strap_sites.begin(), strap_sites.end(), site) != strap_sites.end();
}

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

SiteFinder::SiteFinder(std::span<const Landmark> landmarks) {
  for (const Landmark& landmark : landmarks) {
    places_.push_back({landmark.position_face, site_of_landmark(landmark.name)});
  }
  std::stable_sort(places_.begin(), places_.end(),
                   [](const Place& a, const Place& b) { return a.position.y() < b.position.y(); });
}

const SiteFinder::Place* SiteFinder::nearest(const Vec3& point_face, const Place* guess) const {
  static const double lid_reach_mm = landmark_sites().at("eyelid_reach_mm").get<double>();
  const Place* out = nullptr;
  double least = std::numeric_limits<double>::infinity();
  const auto look = [&](const Place& place) {
    const double above = place.position.y() - point_face.y();
    if (above * above >= least) return false;
    const double square = (place.position - point_face).squaredNorm();
    const bool counts = place.site != Site::eyelid || square < lid_reach_mm * lid_reach_mm;
    if (counts && square < least) {
      least = square;
      out = &place;
    }
    return true;
  };
  if (guess != nullptr) look(*guess);
  // From the point's height outwards, until landmarks are farther by height alone.
  const auto level =
      std::lower_bound(places_.begin(), places_.end(), point_face.y(),
                       [](const Place& place, double y) { return place.position.y() < y; });
  auto up = level;
  auto down = std::make_reverse_iterator(level);
  bool more_up = true;
  bool more_down = true;
  while (more_up || more_down) {
    more_up = more_up && up != places_.end() && look(*up++);
    more_down = more_down && down != places_.rend() && look(*down++);
  }
  return out;
}

SidedSite SiteFinder::operator()(const Vec3& point_face) const {
  return along({&point_face, 1}).front();
}

std::vector<SidedSite> SiteFinder::along(std::span<const Vec3> points_face) const {
  std::vector<SidedSite> out;
  out.reserve(points_face.size());
  // What lies on the midline but for rounding goes to one side always, whatever rounds it.
  constexpr double rounding_mm = 1e-6;
  const Place* place = nullptr;
  for (const Vec3& point : points_face) {
    place = nearest(point, place);
    const bool left = point.x() >= -rounding_mm;
    const Side side = is_midline(place->site) ? Side::midline : left ? Side::left : Side::right;
    out.push_back({place->site, side});
  }
  return out;
}

}  // namespace rimload
