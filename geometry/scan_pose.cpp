#include "geometry/scan_pose.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include "geometry/closest_point.hpp"
#include "geometry/scan_limits.hpp"
#include "geometry/similarity.hpp"
#include "geometry/skin_map.hpp"

namespace rimload {

namespace {

constexpr double cap_mm = 12;  // a landmark farther than this from the scan counts as this far
constexpr double met_within_mm = 8;  // of a landmark that is called met
constexpr double same_side = 0.5;    // of two normals' product: within 60 degrees

// A patch of a surface: all that lies in one cell of a grid.
struct Patch {
  Vec3 centre = Vec3::Zero();
  Vec3 normal = Vec3::Zero();  // length: the area
  double area = 0;
};

using Cell = std::array<std::int64_t, 3>;
struct CellHash {
  std::size_t operator()(const Cell& c) const {
    return static_cast<std::size_t>(c[0] * 73856093 ^ c[1] * 19349663 ^ c[2] * 83492791);
  }
};
Cell cell_of(const Vec3& x, double width) {
  const Vec3 at = (x / width).array().floor();
  return {static_cast<std::int64_t>(at[0]), static_cast<std::int64_t>(at[1]),
          static_cast<std::int64_t>(at[2])};
}

std::vector<Patch> patches_of(const TriangleMesh& mesh, double mm_per_unit) {
  constexpr double width_mm = 5;
  std::unordered_map<Cell, std::size_t, CellHash> index;
  std::vector<Patch> out;
  for (const auto& t : mesh.triangles) {
    const Vec3 a = mm_per_unit * mesh.vertices[t[0]];
    const Vec3 b = mm_per_unit * mesh.vertices[t[1]];
    const Vec3 c = mm_per_unit * mesh.vertices[t[2]];
    const Vec3 across = 0.5 * (b - a).cross(c - a);
    const double area = across.norm();
    const Vec3 centre = (a + b + c) / 3;
    const auto [found, added] = index.try_emplace(cell_of(centre, width_mm), out.size());
    if (added) out.emplace_back();
    Patch& patch = out[found->second];
    patch.centre += area * centre;
    patch.normal += across;
    patch.area += area;
  }
  std::erase_if(out, [](const Patch& patch) { return !(patch.area > 0); });
  for (Patch& patch : out) patch.centre /= patch.area;
  return out;
}

// How a place stands out of what lies 15 to 35 mm around it.
struct Knob {
  Vec3 tip = Vec3::Zero();
  Vec3 out = Vec3::UnitZ();  // the mean normal around it
  double height_mm = 0;      // below 0: stands in
};

class Surroundings {
 public:
  explicit Surroundings(const std::vector<Patch>& patches) : patches_(patches) {
    for (std::size_t k = 0; k < patches.size(); ++k) {
      cells_[cell_of(patches[k].centre, reach_mm)].push_back(k);
    }
  }

  [[nodiscard]] Knob knob_at(const Vec3& tip) const {
    constexpr double inner_mm = 15;
    Vec3 normal = Vec3::Zero();
    for_near(tip, [&](const Patch& patch, double) { normal += patch.normal; });
    Knob out{tip, normal.normalized(), 0};
    double sum = 0;
    double area = 0;
    for_near(tip, [&](const Patch& patch, double away) {
      if (away < inner_mm) return;
      sum += patch.area * out.out.dot(tip - patch.centre);
      area += patch.area;
    });
    if (area > 0) out.height_mm = sum / area;
    return out;
  }

  template <typename Visit>
  void for_near(const Vec3& at, Visit&& visit) const {
    const Cell middle = cell_of(at, reach_mm);
    for (std::int64_t i = -1; i <= 1; ++i) {
      for (std::int64_t j = -1; j <= 1; ++j) {
        for (std::int64_t k = -1; k <= 1; ++k) {
          const auto found = cells_.find({middle[0] + i, middle[1] + j, middle[2] + k});
          if (found == cells_.end()) continue;
          for (const std::size_t each : found->second) {
            const double away = (patches_[each].centre - at).norm();
            if (away < reach_mm) visit(patches_[each], away);
          }
        }
      }
    }
  }

 private:
  static constexpr double reach_mm = 35;
  const std::vector<Patch>& patches_;
  std::unordered_map<Cell, std::vector<std::size_t>, CellHash> cells_;
};

// The model: its landmarks where rims and the frame are, each with the skin's normal.
struct Model {
  std::vector<Vec3> points;
  std::vector<Vec3> normals;
  Vec3 tip;
  Knob nose;
};

Model model_of(std::span<const Landmark> reference) {
  const SkinMap skin(reference, {.spacing_mm = 2});
  Model out;
  for (const Landmark& landmark : reference) {
    const Vec3& x = landmark.position_face;
    // The front of the face: forehead, ears, neck and the jaw's edge are often cut off or hidden.
    if (x.y() > 16 || x.y() < -119 || x.z() < -40) continue;
    out.points.push_back(x);
    out.normals.push_back(skin.normal(SkinMap::chart(x)));
  }
  out.tip = find_landmark(reference, "pronasale", Side::midline).position_face;
  const auto patches = patches_of(make_mesh(skin, face_region(reference), 2), 1);
  out.nose = Surroundings(patches).knob_at(out.tip);
  return out;
}

// Places that stand out, the most nose-like first; of those close together the farthest out.
std::vector<Knob> knobs_of(const std::vector<Patch>& patches, const Knob& nose) {
  constexpr double apart_mm = 12;
  constexpr std::size_t most = 200;    // a body has as many fingers, toes and corners
  constexpr double least_share = 0.4;  // of the reference nose's height; a child's is lower
  constexpr double most_share = 2;
  const Surroundings around(patches);
  std::vector<Knob> all;
  for (const Patch& patch : patches) all.push_back(around.knob_at(patch.centre));
  std::erase_if(all, [&](const Knob& knob) {
    const double share = std::abs(knob.height_mm) / nose.height_mm;
    return share < least_share || share > most_share;
  });
  std::sort(all.begin(), all.end(), [](const Knob& a, const Knob& b) {
    return std::abs(a.height_mm) > std::abs(b.height_mm);
  });
  std::vector<Knob> out;
  for (const Knob& knob : all) {
    const bool taken = std::any_of(out.begin(), out.end(), [&](const Knob& other) {
      return (other.tip - knob.tip).norm() < apart_mm;
    });
    if (!taken) out.push_back(knob);
  }
  std::stable_sort(out.begin(), out.end(), [&](const Knob& a, const Knob& b) {
    const auto unlike = [&](const Knob& knob) {
      return std::abs(std::log(std::abs(knob.height_mm) / nose.height_mm));
    };
    return unlike(a) < unlike(b);
  });
  if (out.size() > most) out.resize(most);
  return out;
}

// x_mm = size turn x_face + shift.
struct Laid {
  Mat3 turn = Mat3::Identity();
  Vec3 shift = Vec3::Zero();
  double size = 1;
  double outward = 1;  // -1: the scan is inside out
  double rms_mm = cap_mm;
  double met_share = 0;
};

class Fitter {
 public:
  Fitter(const TriangleMesh& mesh, double mm_per_unit, const Model& model)
      : mm_per_unit_(mm_per_unit), model_(model), scan_(mesh) {}

  /// How far the model's points lie from the scan.
  void judge(Laid& laid) const {
    double sum = 0;
    double met = 0;
    for (std::size_t k = 0; k < model_.points.size(); ++k) {
      const Vec3 x = laid.size * (laid.turn * model_.points[k]) + laid.shift;
      const auto [foot, normal, distance] = nearest(x);
      const double away =
          laid.outward * normal.dot(laid.turn * model_.normals[k]) >= same_side ? distance : cap_mm;
      sum += std::pow(std::min(away, cap_mm), 2);
      met += away < met_within_mm;
    }
    const auto n = static_cast<double>(model_.points.size());
    laid.rms_mm = std::sqrt(sum / n);
    laid.met_share = met / n;
  }

  /// Point to plane, points farther than a shrinking reach left out.
  void refine(Laid& laid, int n_steps, double reach_mm) const {
    constexpr double shrink = 0.85;
    constexpr double least_reach_mm = 8;
    constexpr double along_weight = 0.05;  // a little of point to point keeps it from sliding
    const double most = scan_limits().size_factor;
    for (int step = 0; step < n_steps; ++step) {
      Eigen::Matrix<double, 7, 7> normal_matrix = Eigen::Matrix<double, 7, 7>::Zero();
      Eigen::Matrix<double, 7, 1> right = Eigen::Matrix<double, 7, 1>::Zero();
      for (std::size_t k = 0; k < model_.points.size(); ++k) {
        const Vec3 arm = laid.size * (laid.turn * model_.points[k]);
        const Vec3 x = arm + laid.shift;
        const auto [foot, facet, distance] = nearest(x);
        if (distance > reach_mm) continue;
        const Vec3 off = foot - x;
        const Vec3 out = laid.turn * model_.normals[k];
        // Asked so that a facet of no area, which has no normal, is passed over too.
        if (!(laid.outward * facet.dot(out) >= same_side)) continue;
        const auto row_for = [&](const Vec3& direction, double weight) {
          Eigen::Matrix<double, 7, 1> row;
          row << arm.cross(direction), direction, arm.dot(direction);
          normal_matrix += weight * row * row.transpose();
          right += weight * row * direction.dot(off);
        };
        row_for(facet, 1);
        for (int axis = 0; axis < 3; ++axis) row_for(Vec3::Unit(axis), along_weight);
      }
      normal_matrix.diagonal().array() += 1e-9;
      // The size is drawn to the reference's: 0.062 is what a dimension of the prior spreads by.
      constexpr double size_weight = 4 / (0.062 * 0.062);
      normal_matrix(6, 6) += size_weight;
      right(6) -= size_weight * std::log(laid.size);
      const Eigen::Matrix<double, 7, 1> by = normal_matrix.ldlt().solve(right);
      const Vec3 turned = by.head<3>();
      const double angle = std::min(turned.norm(), 0.3);
      if (turned.norm() > 0) {
        laid.turn = Eigen::AngleAxisd(angle, turned.normalized()) * laid.turn;
      }
      laid.shift += by.segment<3>(3);
      laid.size = std::clamp(laid.size * std::exp(std::clamp(by[6], -0.1, 0.1)), 1 / most, most);
      reach_mm = std::max(least_reach_mm, shrink * reach_mm);
    }
    judge(laid);
  }

 private:
  struct Near {
    Vec3 foot;
    Vec3 normal;
    double distance;
  };
  Near nearest(const Vec3& x_mm) const {
    const MeshPoint found = scan_(x_mm / mm_per_unit_);
    return {mm_per_unit_ * found.foot, found.normal, mm_per_unit_ * std::abs(found.distance)};
  }

  double mm_per_unit_;
  const Model& model_;
  ClosestPoint scan_;
};

Laid best_at(const Knob& knob, const Model& model, const Fitter& fitter) {
  constexpr int n_turns = 24;
  constexpr std::size_t n_kept = 3;
  std::vector<Laid> tried;
  const double outward = knob.height_mm < 0 ? -1 : 1;
  const Mat3 first = turn_onto(model.nose.out, outward * knob.out);
  for (int k = 0; k < n_turns; ++k) {
    Laid laid;
    laid.outward = outward;
    laid.turn = Eigen::AngleAxisd(2 * std::numbers::pi * k / n_turns, outward * knob.out) * first;
    laid.shift = knob.tip - laid.turn * model.tip;
    fitter.judge(laid);
    tried.push_back(laid);
  }
  std::sort(tried.begin(), tried.end(),
            [](const Laid& a, const Laid& b) { return a.rms_mm < b.rms_mm; });
  Laid best = tried.front();
  for (std::size_t k = 0; k < n_kept; ++k) {
    fitter.refine(tried[k], 8, 20);
    if (tried[k].rms_mm < best.rms_mm) best = tried[k];
  }
  return best;
}

double diagonal_of(const TriangleMesh& mesh) {
  Vec3 low = mesh.vertices.front();
  Vec3 high = low;
  for (const Vec3& v : mesh.vertices) {
    low = low.cwiseMin(v);
    high = high.cwiseMax(v);
  }
  return (high - low).norm();
}

}  // namespace

Vec3 ScanPoseFound::to_scan(const Vec3& position_face) const {
  return size * (rotation * position_face) / mm_in(unit) + sellion_scan;
}

std::optional<ScanPoseFound> find_face_pose(const TriangleMesh& scan,
                                            std::span<const Landmark> reference,
                                            std::optional<ScanUnit> unit) {
  constexpr double least_mm = 100;      // a small child's face
  constexpr double most_mm = 2600;      // a whole body with spread arms
  constexpr double sound_rms_mm = 2.2;  // nothing else comes as near; look no further
  const Model model = model_of(reference);
  const double diagonal = diagonal_of(scan);
  std::optional<ScanPoseFound> out;
  for (const ScanUnit each : {ScanUnit::mm, ScanUnit::cm, ScanUnit::inch, ScanUnit::m}) {
    if (unit && *unit != each) continue;
    const double size_mm = mm_in(each) * diagonal;
    if (size_mm < least_mm || size_mm > most_mm) continue;
    const Fitter fitter(scan, mm_in(each), model);
    std::optional<Laid> best;
    for (const Knob& knob : knobs_of(patches_of(scan, mm_in(each)), model.nose)) {
      const Laid laid = best_at(knob, model, fitter);
      if (!best || laid.rms_mm < best->rms_mm) best = laid;
      if (best->rms_mm < sound_rms_mm) break;
    }
    if (!best) continue;
    fitter.refine(*best, 20, 12);
    if (out && out->rms_mm <= best->rms_mm) continue;
    out = ScanPoseFound{.unit = each,
                        .size = best->size,
                        .rotation = best->turn,
                        .sellion_scan = best->shift / mm_in(each),
                        .inside_out = best->outward < 0,
                        .rms_mm = best->rms_mm,
                        .met_share = best->met_share};
    if (out->rms_mm < sound_rms_mm) break;  // units are a factor of 2.5 and more apart
  }
  return out;
}

}  // namespace rimload
