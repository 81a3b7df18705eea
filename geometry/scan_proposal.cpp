#include "geometry/scan_proposal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/scan_feature.hpp"
#include "geometry/scan_landmarks.hpp"
#include "geometry/scan_limits.hpp"
#include "geometry/scan_pose.hpp"
#include "geometry/skin_map.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

struct Sought {
  const char* name;
  Side side;
};
constexpr std::array sought{Sought{"sellion", Side::midline},    Sought{"pronasale", Side::midline},
                            Sought{"subnasale", Side::midline},  Sought{"endocanthion", Side::left},
                            Sought{"endocanthion", Side::right}, Sought{"exocanthion", Side::left},
                            Sought{"exocanthion", Side::right},  Sought{"stomion", Side::midline},
                            Sought{"cheilion", Side::left},      Sought{"cheilion", Side::right},
                            Sought{"menton", Side::midline}};

constexpr const char* what_to_do =
    "is it a scan of a face, of skin rather than hair or a mask, with the nose in it, and to "
    "scale? Cut away what is not the head, give --unit, or mark four or more points by hand";

[[noreturn]] void no_face(const std::string& why) {
  throw InputError("", "", "no face is found: " + why + "; " + what_to_do);
}

// Without the ears, which no landmark sought needs and which can drift behind the axis of the skin
// map where a scan ends before them.
std::vector<Landmark> without_back(std::span<const Landmark> reference) {
  constexpr double back_mm = -70;
  std::vector<Landmark> out;
  for (const Landmark& landmark : reference) {
    if (landmark.position_face.z() > back_mm) out.push_back(landmark);
  }
  return out;
}

// One state of the search: the face fitted so far and the scan in its frame.
class Search {
 public:
  Search(const ScanMesh& scan, std::span<const Landmark> reference, const ScanPoseFound& pose,
         bool unit_inferred)
      : scan_(scan.mesh), reference_(without_back(reference)), inside_out_(pose.inside_out) {
    laid_.unit = pose.unit;
    laid_.unit_inferred = unit_inferred;
    laid_.mm_per_unit = mm_in(pose.unit);
    laid_.rotation = pose.rotation.transpose();
    laid_.shift_mm = -laid_.mm_per_unit * (laid_.rotation * pose.sellion_scan);
    laid_.size = pose.size;
    const SkinMap model(reference);
    const ScanTree tree(make_mesh(model, grid_region(model), 1));
    for (const Sought& each : sought) {
      const Landmark& landmark = find_landmark(reference_, each.name, each.side);
      const auto view = feature_of(each.name, each.side);
      if (!view) continue;
      const auto feature = find_feature(tree, landmark.position_face, *view);
      if (!feature) continue;
      shapes_.push_back({&landmark, *view, landmark.position_face - feature->position_face});
    }
  }

  /// Fits the face with the features as marked points, turns the frame by it, finds features anew.
  void round() {
    std::vector<Landmark> marked;
    for (const auto& [landmark, feature] : features_) {
      marked.push_back({landmark->name, landmark->side, feature.position_face, 0});
    }
    std::vector<Landmark> start = reference_;
    for (Landmark& landmark : start) landmark.position_face *= laid_.size;
    face_ = landmarks_on_scan(ScanTree(skin()), start, marked);
    settle_frame();
    const ScanTree tree(skin());
    features_.clear();
    for (const Shape& shape : shapes_) {
      const Vec3 aside = laid_.size * shape.aside;
      const Vec3 near = at(shape.landmark->name, shape.landmark->side).position_face - aside;
      auto feature = find_feature(tree, near, shape.view);
      if (!feature) continue;
      feature->position_face += aside;
      features_.emplace_back(shape.landmark, *feature);
    }
    if (alone_.empty()) {
      for (const Landmark& each : face_.landmarks) alone_.push_back(to_scan(each.position_face));
    }
  }

  [[nodiscard]] ProposedLandmark propose(const Sought& each) const {
    const Landmark& fitted = at(each.name, each.side);
    const auto k = static_cast<std::size_t>(&fitted - face_.landmarks.data());
    ProposedLandmark out{each.name, each.side, Confidence::look_closely, {}, {}};
    out.position_scan = to_scan(fitted.position_face);
    const ScanFeature* feature = feature_at(each);
    if (feature != nullptr) {
      const double off = (feature->position_face - laid_.to_face(alone_[k])).norm();
      out.position_scan = to_scan(feature->position_face);
      const bool curved = feature->curvature >= scan_limits().feature_curvature_per_mm;
      const bool round = feature_of(each.name, each.side)->kind == FeatureKind::corner;
      const bool near = off <= scan_limits().feature_shift_mm;
      out.confidence = curved && near && !round ? Confidence::sure : Confidence::look_closely;
      out.reason = fmt::format(
          "the scan has its shape here{}, {:.1f} mm from where the rest of the "
          "face has it",
          round     ? ", but round"
          : !curved ? ", but weakly"
                    : "",
          off);
    } else if (!face_.met[k]) {
      out.confidence = Confidence::not_found;
      out.reason = "the scan has no skin here";
    } else if (feature_of(each.name, each.side)) {
      out.reason = "the scan has skin here but not its shape; it follows from the rest of the face";
    } else {
      out.reason = "it follows from the rest of the face; it has no shape of its own to hold it to";
    }
    return out;
  }

  [[nodiscard]] const ScanRegistration& laid() const { return laid_; }
  [[nodiscard]] bool has_feature(const char* name, Side side) const {
    return feature_at({name, side}) != nullptr;
  }

 private:
  // A landmark and where it lies on the reference, seen from its feature there.
  struct Shape {
    const Landmark* landmark;
    FeatureView view;
    Vec3 aside;
  };
  [[nodiscard]] const Landmark& at(std::string_view name, Side side) const {
    return find_landmark(face_.landmarks, name, side);
  }
  [[nodiscard]] const ScanFeature* feature_at(const Sought& each) const {
    for (const auto& [landmark, feature] : features_) {
      if (landmark->name == each.name && landmark->side == each.side) return &feature;
    }
    return nullptr;
  }
  [[nodiscard]] Vec3 to_scan(const Vec3& x) const {
    return laid_.rotation.transpose() * (x - laid_.shift_mm) / laid_.mm_per_unit;
  }
  [[nodiscard]] TriangleMesh skin() const {
    TriangleMesh out = scan_;
    for (Vec3& v : out.vertices) v = laid_.to_face(v);
    if (inside_out_) {
      for (auto& t : out.triangles) std::swap(t[1], t[2]);
    }
    return out;
  }
  // By all landmarks that lie on the scan.
  void settle_frame() {
    std::vector<ScanLandmark> met;
    std::vector<Vec3> on_scan;
    for (std::size_t k = 0; k < face_.landmarks.size(); ++k) {
      const Landmark& landmark = face_.landmarks[k];
      on_scan.push_back(to_scan(landmark.position_face));
      if (face_.met[k]) met.push_back({landmark.name, landmark.side, on_scan.back()});
    }
    const bool inferred = laid_.unit_inferred;
    laid_ = register_scan(met, reference_, laid_.unit);
    laid_.unit_inferred = inferred;
    for (std::size_t k = 0; k < on_scan.size(); ++k) {
      face_.landmarks[k].position_face = laid_.to_face(on_scan[k]);
    }
  }

  const TriangleMesh& scan_;
  std::vector<Landmark> reference_;
  bool inside_out_;
  std::vector<Shape> shapes_;
  ScanRegistration laid_;
  LandmarksOnScan face_;
  std::vector<Vec3> alone_;  // landmarks as fitted before any feature counted, scan's unit
  std::vector<std::pair<const Landmark*, ScanFeature>> features_;
};

}  // namespace

std::string_view name_of(Confidence confidence) {
  switch (confidence) {
    case Confidence::sure: return "sure";
    case Confidence::look_closely: return "look closely";
    case Confidence::not_found: break;
  }
  return "not found";
}

std::vector<ScanLandmark> ScanProposal::found() const {
  std::vector<ScanLandmark> out;
  for (const ProposedLandmark& each : landmarks) {
    if (each.confidence == Confidence::not_found) continue;
    out.push_back({each.name, each.side, each.position_scan});
  }
  return out;
}

ScanProposal propose_landmarks(const ScanMesh& scan, std::span<const Landmark> reference,
                               std::optional<ScanUnit> unit) {
  const auto pose = find_face_pose(scan.mesh, reference, unit);
  if (!pose) {
    no_face(
        "nothing on the scan stands out like a nose, in any unit in which it is 100 to 2600 mm "
        "across");
  }
  const ScanLimits& limits = scan_limits();
  if (pose->rms_mm > limits.model_rms_refused_mm || pose->met_share < limits.model_met_least) {
    no_face(
        fmt::format("at the likeliest place, taken in {}, the scan lies {:.1f} mm (RMS) from a "
                    "model face (accepted {:g} mm) and has {:.0f} % of its landmarks (needed "
                    "{:.0f} %)",
                    name_of(pose->unit), pose->rms_mm, limits.model_rms_refused_mm,
                    100 * pose->met_share, 100 * limits.model_met_least));
  }
  constexpr double edge = 1.001;
  if (std::max(pose->size, 1 / pose->size) * edge > limits.size_factor) {
    no_face(
        fmt::format("what lies like one is {:.2f} times as large as the reference face, and "
                    "this tool knows faces from {:.2f} to {:.2f} times (small children lie below)",
                    pose->size, 1 / limits.size_factor, limits.size_factor));
  }
  Search search(scan, reference, *pose, !unit.has_value());
  constexpr int n_rounds = 3;
  try {
    for (int k = 0; k < n_rounds; ++k) search.round();
  } catch (const InputError& error) {
    no_face(error.faults().front().message);
  }
  const int about_root = static_cast<int>(search.has_feature("endocanthion", Side::left)) +
                         static_cast<int>(search.has_feature("endocanthion", Side::right)) +
                         static_cast<int>(search.has_feature("sellion", Side::midline));
  if (!search.has_feature("pronasale", Side::midline) || about_root < 2) {
    no_face(
        "something lies like a face, but without the tip of a nose and the pits beside its root");
  }
  ScanProposal out;
  out.registration = search.laid();
  out.inside_out = pose->inside_out;
  out.model_rms_mm = pose->rms_mm;
  for (const Sought& each : sought) out.landmarks.push_back(search.propose(each));
  return out;
}

}  // namespace rimload
