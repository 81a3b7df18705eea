#include "geometry/landmark.hpp"

#include <algorithm>

#include "units/error.hpp"

namespace rimload {

std::string_view name_of(Side side) {
  switch (side) {
    case Side::left: return "left";
    case Side::right: return "right";
    case Side::midline: break;
  }
  return "midline";
}

std::optional<Side> side_named(std::string_view name) {
  for (const Side side : {Side::midline, Side::left, Side::right}) {
    if (name_of(side) == name) return side;
  }
  return std::nullopt;
}

Side mirrored(Side side) {
  if (side == Side::left) return Side::right;
  if (side == Side::right) return Side::left;
  return side;
}

std::vector<Landmark> with_mirrored_side(std::span<const Landmark> half) {
  std::vector<Landmark> whole(half.begin(), half.end());
  for (const Landmark& landmark : half) {
    if (landmark.side != Side::left) continue;
    Landmark twin = landmark;
    twin.side = Side::right;
    twin.position_face.x() = -twin.position_face.x();
    whole.push_back(std::move(twin));
  }
  return whole;
}

std::optional<std::vector<std::size_t>> mirror_images(std::span<const Landmark> landmarks) {
  std::vector<std::size_t> images;
  for (const Landmark& landmark : landmarks) {
    const Vec3 image = landmark.position_face.cwiseProduct(Vec3(-1, 1, 1));
    std::size_t k = 0;
    while (k < landmarks.size() &&
           (landmarks[k].name != landmark.name || landmarks[k].side != mirrored(landmark.side))) {
      ++k;
    }
    if (k == landmarks.size() || landmarks[k].position_face != image) return std::nullopt;
    images.push_back(k);
  }
  return images;
}

const Landmark& find_landmark(std::span<const Landmark> landmarks, std::string_view name,
                              Side side) {
  const auto found = std::find_if(landmarks.begin(), landmarks.end(), [&](const Landmark& l) {
    return l.name == name && l.side == side;
  });
  if (found == landmarks.end()) {
    throw InputError("", "/landmarks",
                     "the face has no landmark '" + std::string(name) + "' (" +
                         std::string(name_of(side)) + ")");
  }
  return *found;
}

}  // namespace rimload
