#include "case/scaled_cushion.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

namespace rimload {

namespace {

constexpr double least_factor = 0.6;
constexpr double largest_factor = 1.6;
constexpr double tolerance_mm = 0.005;

// Where a width is taken on the typical cushion, and how x is scaled there.
struct Node {
  double y_mm = 0;      // typical cushion
  double crown_mm = 0;  // the typical crown's width there
  double factor = 1;
  std::size_t given = 0;
};

struct Shape {
  double height_factor = 1;
  double depth_factor = 1;
  std::vector<Node> nodes;  // from the top down

  [[nodiscard]] double width_factor(double y_mm) const {
    if (nodes.empty()) return height_factor;
    if (y_mm >= nodes.front().y_mm) return nodes.front().factor;
    for (std::size_t k = 1; k < nodes.size(); ++k) {
      if (y_mm < nodes[k].y_mm) continue;
      const double share = (y_mm - nodes[k].y_mm) / (nodes[k - 1].y_mm - nodes[k].y_mm);
      return nodes[k].factor + share * (nodes[k - 1].factor - nodes[k].factor);
    }
    return nodes.back().factor;
  }
  [[nodiscard]] double mean_width_factor() const {
    if (nodes.empty()) return height_factor;
    double sum = 0;
    for (const Node& node : nodes) sum += node.factor;
    return sum / static_cast<double>(nodes.size());
  }
  [[nodiscard]] Vec3 operator()(const Vec3& p, double z_factor) const {
    return {p.x() * width_factor(p.y()), p.y() * height_factor, p.z() * z_factor};
  }
};

Rim shaped(const Rim& rim, const Shape& shape) {
  Rim out = rim;
  for (RimControl& control : out.controls) {
    control.position_mask = shape(control.position_mask, shape.depth_factor);
  }
  return out;
}

// Each edge of a rim, sampled once.
class Outlines {
 public:
  explicit Outlines(const Rim& rim) : rim_(rim) {}
  const RimOutline& operator()(RimEdge edge) {
    const auto found = made_.find(edge);
    return found != made_.end() ? found->second
                                : made_.emplace(edge, RimOutline(rim_, edge)).first->second;
  }

 private:
  const Rim& rim_;
  std::map<RimEdge, RimOutline> made_;
};

std::string factor_words(double factor, double given_mm, double typical_mm) {
  std::string out = fmt::format(
      "{:.4g} mm is {:.2f} times the typical cushion's {:.4g} mm; allowed: {:g} to {:g} times",
      given_mm, factor, typical_mm, least_factor, largest_factor);
  for (const auto& [times, unit] :
       {std::pair{10.0, "ten times"}, std::pair{0.1, "a tenth of"}, std::pair{25.4, "25.4 times"},
        std::pair{1 / 25.4, "1/25.4 of"}}) {
    if (std::abs(std::log(factor * times)) < std::log(1.25)) {
      return out + fmt::format("; {} it would do: is the unit right?", unit);
    }
  }
  return out;
}

// The nodes of the given widths; what can't be placed is a fault.
std::vector<Node> nodes_for(const Cushion& typical, const CushionDimensions& given,
                            Outlines& typical_outlines, std::vector<DimensionFault>& faults) {
  std::vector<Node> out;
  const FaceModel face = design_face_of(typical);
  const RimOutline& crown = typical_outlines(RimEdge::crown);
  for (std::size_t k = 0; k < given.widths.size(); ++k) {
    const GivenWidth& width = given.widths[k];
    const RimOutline& edge = typical_outlines(width.edge);
    const auto* level = std::get_if<WidthLevel>(&width.at);
    const double y = level == nullptr ? crown.widest_at_mm() : level_mm(*level, typical, face);
    const auto own = level == nullptr ? std::optional(edge.widest_mm()) : edge.width_mm(y);
    const auto crown_width = crown.width_mm(y);
    constexpr double least_width_mm = 2;
    if (!own || !crown_width || *own < least_width_mm) {
      faults.push_back({CushionField::width, k,
                        fmt::format("a typical {} cushion does not reach the level of the {}",
                                    words_for(typical.type), name_of(*level))});
      continue;
    }
    if (const double factor = width.mm / *own; factor < least_factor || factor > largest_factor) {
      faults.push_back({CushionField::width, k, factor_words(factor, width.mm, *own)});
      continue;
    }
    out.push_back({y, *crown_width, 1, k});
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const Node& a, const Node& b) { return a.y_mm > b.y_mm; });
  constexpr double least_apart_mm = 3;
  for (std::size_t k = 1; k < out.size(); ++k) {
    if (out[k - 1].y_mm - out[k].y_mm < least_apart_mm) {
      faults.push_back({CushionField::width, out[k].given,
                        fmt::format("this cushion's width is given at two levels less "
                                    "than {:g} mm apart: take one of them out of the "
                                    "column map",
                                    least_apart_mm)});
    }
  }
  return out;
}

// Fixed-point steps: what a length lacks, its crown is given.
Shape solved(const Cushion& typical, const CushionDimensions& given, Shape shape,
             std::vector<DimensionFault>& faults) {
  const RimOutline crown(typical.rim, RimEdge::crown);
  const double crown_height = crown.height_mm();
  const double crown_depth = crown.depth_mm();
  constexpr int most_steps = 60;
  for (int step = 0;; ++step) {
    if (!given.height) shape.height_factor = shape.nodes.empty() ? 1 : shape.mean_width_factor();
    if (!given.rim_depth_mm) {
      shape.depth_factor = std::sqrt(shape.height_factor * shape.mean_width_factor());
    }
    const Rim rim = shaped(typical.rim, shape);
    Outlines outlines(rim);
    std::vector<DimensionFault> unmet;
    const double height_factor = shape.height_factor;
    if (given.height) {
      const double lack = given.height->mm - outlines(given.height->edge).height_mm();
      if (std::abs(lack) > tolerance_mm)
        unmet.push_back({CushionField::height, 0, "no rim of this shape has the height"});
      shape.height_factor += lack / crown_height;
    }
    if (given.rim_depth_mm) {
      const double lack = *given.rim_depth_mm - outlines(RimEdge::crown).depth_mm();
      if (std::abs(lack) > tolerance_mm) {
        unmet.push_back({CushionField::rim_depth, 0, "no rim of this shape has the depth"});
      }
      shape.depth_factor += lack / std::max(crown_depth, 0.1);
    }
    for (Node& node : shape.nodes) {
      const GivenWidth& width = given.widths[node.given];
      const RimOutline& outline = outlines(width.edge);
      const double own = std::holds_alternative<WidestPlace>(width.at)
                             ? outline.widest_mm()
                             : outline.width_mm(node.y_mm * height_factor).value_or(0);
      const double lack = width.mm - own;
      if (std::abs(lack) > tolerance_mm)
        unmet.push_back({CushionField::width, node.given, "no rim of this shape has the width"});
      node.factor = std::clamp(node.factor + lack / node.crown_mm, 0.2, 5.0);
    }
    if (unmet.empty()) return shape;
    if (step == most_steps) {
      for (DimensionFault& each : unmet) each.message += " together with the other lengths";
      faults.insert(faults.end(), unmet.begin(), unmet.end());
      return shape;
    }
  }
}

void note_assumed(const CushionDimensions& given, Cushion& cushion) {
  std::set<CushionField> fields(cushion.assumed.begin(), cushion.assumed.end());
  const auto note = [&](CushionField field, bool known) {
    if (known) {
      fields.erase(field);
    } else {
      fields.insert(field);
    }
  };
  note(CushionField::height, given.height.has_value());
  note(CushionField::width, !given.widths.empty());
  note(CushionField::rim_depth, given.rim_depth_mm.has_value());
  note(CushionField::lip_width, given.lip_width_mm.has_value());
  note(CushionField::stiffness, given.stiffness_n_mm3.has_value());
  note(CushionField::travel, given.travel_mm.has_value());
  note(CushionField::mass, given.mass_kg.has_value());
  for (const CushionField never : {CushionField::gas_share, CushionField::friction,
                                   CushionField::placement, CushionField::straps}) {
    fields.insert(never);
  }
  cushion.assumed.assign(fields.begin(), fields.end());
}

}  // namespace

ScaledCushion scaled_to(const Cushion& typical, const CushionDimensions& given) {
  ScaledCushion out{typical, {}};
  Cushion& cushion = out.cushion;
  RimSection& section = cushion.rim.section;
  section.lip_width_mm = given.lip_width_mm.value_or(section.lip_width_mm);
  if (given.stiffness_n_mm3) {
    cushion.lip.bottomed_stiffness_n_mm3 *= *given.stiffness_n_mm3 / cushion.lip.stiffness_n_mm3;
    cushion.lip.stiffness_n_mm3 = *given.stiffness_n_mm3;
  }
  cushion.lip.travel_mm = given.travel_mm.value_or(cushion.lip.travel_mm);

  Outlines outlines(cushion.rim);
  Shape shape;
  if (given.height) {
    const double own = outlines(given.height->edge).height_mm();
    const double factor = given.height->mm / own;
    if (factor < least_factor || factor > largest_factor) {
      out.faults.push_back({CushionField::height, 0, factor_words(factor, given.height->mm, own)});
    }
  }
  if (given.rim_depth_mm) {
    const double own = outlines(RimEdge::crown).depth_mm();
    const double factor = *given.rim_depth_mm / std::max(own, 0.1);
    if (factor < least_factor || factor > largest_factor) {
      out.faults.push_back(
          {CushionField::rim_depth, 0, factor_words(factor, *given.rim_depth_mm, own)});
    }
  }
  shape.nodes = nodes_for(cushion, given, outlines, out.faults);
  if (out.faults.empty()) shape = solved(cushion, given, std::move(shape), out.faults);
  if (!out.faults.empty()) return out;

  cushion.rim = shaped(cushion.rim, shape);
  // Levels so stay where they were on the rim.
  cushion.design_face_scale *= shape.height_factor;
  cushion.apex_below_sellion_mm *= shape.height_factor;
  for (StrapPair& strap : cushion.straps) strap.anchor_mask = shape(strap.anchor_mask, 1);
  if (cushion.pad) cushion.pad->centre_mask = shape(cushion.pad->centre_mask, 1);
  const double mass =
      std::accumulate(cushion.masses.begin(), cushion.masses.end(), 0.0,
                      [](double sum, const FrameLoad& each) { return sum + each.mass_kg; });
  for (FrameLoad& each : cushion.masses) {
    each.point_mask = shape(each.point_mask, 1);
    if (given.mass_kg && mass > 0) each.mass_kg *= *given.mass_kg / mass;
  }
  note_assumed(given, cushion);
  return out;
}

}  // namespace rimload
