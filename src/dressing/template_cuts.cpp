#include "dressing/template_cuts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "dressing/place.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

struct Fineness {
  MeshSize mesh;
  FlattenOptions flatten;
};
constexpr Fineness fine;

// Enough to tell which slit helps most: a third of the time.
Fineness coarse(std::size_t n_border) {
  return {
      {.edge_mm = 2 * fine.mesh.edge_mm, .most_points = std::max<std::size_t>(600, 4 * n_border)},
      {.decrement = 1e-9}};
}

CutPatch laid_flat(const SkinMap& skin, std::span<const Vec2> polygon, std::vector<SlitLine> slits,
                   const Fineness& fineness, double share_left_out) {
  CutPatch out;
  out.patch = make_skin_patch(skin, polygon, slits, fineness.mesh);
  out.flat = flatten(out.patch.mesh, fineness.flatten);
  out.stretch = stretch_of(out.flat, share_left_out);
  out.slits = std::move(slits);
  return out;
}

std::vector<Vec2> flat_border(const CutPatch& cut) {
  std::vector<Vec2> out;
  for (const std::uint32_t k : cut.patch.border) out.push_back(cut.flat.points[k]);
  return out;
}

// The chart coordinates of a point of the uncut flat patch; nothing outside.
std::optional<Vec2> chart_at(const CutPatch& uncut, const Vec2& flat) {
  constexpr double rounding = -1e-9;
  for (const auto& t : uncut.patch.mesh.triangles) {
    const Vec2& a = uncut.flat.points[t[0]];
    const Vec2 ab = uncut.flat.points[t[1]] - a;
    const Vec2 ac = uncut.flat.points[t[2]] - a;
    const double area = cross(ab, ac);
    const double at_b = cross(flat - a, ac) / area;
    const double at_c = cross(ab, flat - a) / area;
    if (at_b < rounding || at_c < rounding || at_b + at_c > 1 - rounding) continue;
    const std::vector<Vec2>& uv = uncut.patch.uv;
    return (1 - at_b - at_c) * uv[t[0]] + at_b * uv[t[1]] + at_c * uv[t[2]];
  }
  return std::nullopt;
}

struct Candidate {
  SlitLine flat;   // on the uncut flat patch
  SlitLine chart;  // the same in the chart
  bool deep = false;
};

double distance_between(const SlitLine& a, const SlitLine& b) {
  double least = std::numeric_limits<double>::infinity();
  for (const Vec2& p : a) {
    for (const Vec2& q : b) least = std::min(least, (p - q).norm());
  }
  return least;
}

// Straight inwards from a point of the border, in steps, both in the plane and in the chart.
std::optional<Candidate> slit_from(const CutPatch& uncut, std::size_t at, const Vec2& inwards,
                                   double length) {
  constexpr double step_mm = 1;
  const std::uint32_t mouth = uncut.patch.border[at];
  Candidate out;
  out.flat.push_back(uncut.flat.points[mouth]);
  out.chart.push_back(uncut.patch.uv[mouth]);
  const int n = static_cast<int>(std::ceil(length / step_mm));
  for (int k = 1; k <= n; ++k) {
    const Vec2 flat = out.flat.front() + length * k / n * inwards;
    const std::optional<Vec2> chart = chart_at(uncut, flat);
    if (!chart) return std::nullopt;
    out.flat.push_back(flat);
    out.chart.push_back(*chart);
  }
  return out;
}

// Starting where the face's midline crosses the border, so that a symmetric piece is tried there.
std::size_t first_mouth(const CutPatch& uncut) {
  std::size_t best = 0;
  for (std::size_t k = 1; k < uncut.patch.border.size(); ++k) {
    const auto off = [&](std::size_t i) {
      return std::abs(uncut.patch.mesh.vertices[uncut.patch.border[i]].x());
    };
    if (off(k) < off(best)) best = k;
  }
  return best;
}

std::vector<Candidate> candidates(const CutPatch& uncut, const CutRule& rule) {
  constexpr int n_mouths = 24;
  constexpr double shortest_mm = 3;
  const std::vector<Vec2> border = flat_border(uncut);
  const std::size_t n = border.size();
  const double spacing = perimeter(border) / n_mouths;
  const std::size_t first = first_mouth(uncut);
  std::vector<Candidate> out;
  double gone = spacing;
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t at = (first + k) % n;
    const Vec2& before = border[(at + n - 1) % n];
    const Vec2& after = border[(at + 1) % n];
    if (gone >= spacing) {
      gone -= spacing;
      const Vec2 along = (after - before).normalized();
      const Vec2 inwards(-along.y(), along.x());
      const auto across = ray_length(border, border[at], inwards, 0.1);
      if (!across) continue;
      const double deep = rule.deep_cut_share * *across;
      const double shallow = std::min(dressing_margin_mm, deep);
      for (const double length : {shallow, deep}) {
        if (length < shortest_mm || (length == deep && deep < shallow + 1)) continue;
        auto slit = slit_from(uncut, at, inwards, length);
        if (!slit) continue;
        slit->deep = length > dressing_margin_mm;
        out.push_back(*std::move(slit));
      }
    }
    gone += (after - border[at]).norm();
  }
  return out;
}

struct Tried {
  const Candidate* candidate = nullptr;
  double left = std::numeric_limits<double>::infinity();
};

}  // namespace

CutPatch cut_to_lie_flat(const SkinMap& skin, std::span<const Vec2> polygon_uv,
                         const CutRule& rule) {
  const CutPatch uncut = laid_flat(skin, polygon_uv, {}, fine, rule.share_left_out);
  CutPatch best = uncut;
  if (uncut.stretch.most() <= rule.stretch_limit || rule.most_cuts == 0) return best;
  // The finer border becomes the polygon, so that a slit can start at any of its points.
  std::vector<Vec2> polygon;
  for (const std::uint32_t k : uncut.patch.border) polygon.push_back(uncut.patch.uv[k]);
  const std::vector<Candidate> all = candidates(uncut, rule);
  std::vector<const Candidate*> made;
  while (best.stretch.most() > rule.stretch_limit &&
         std::ssize(made) < static_cast<std::ptrdiff_t>(rule.most_cuts)) {
    Tried shallow;
    Tried any;
    for (const Candidate& candidate : all) {
      const bool has_room = std::all_of(made.begin(), made.end(), [&](const Candidate* other) {
        return distance_between(candidate.flat, other->flat) >= rule.cuts_apart_mm;
      });
      if (!has_room) continue;
      std::vector<SlitLine> slits = best.slits;
      slits.push_back(candidate.chart);
      const double left =
          laid_flat(skin, polygon, std::move(slits), coarse(polygon.size()), rule.share_left_out)
              .stretch.most();
      if (left < any.left) any = {&candidate, left};
      if (!candidate.deep && left < shallow.left) shallow = {&candidate, left};
    }
    const Tried& chosen = shallow.left <= rule.stretch_limit ? shallow : any;
    if (chosen.candidate == nullptr) break;
    std::vector<SlitLine> slits = best.slits;
    slits.push_back(chosen.candidate->chart);
    CutPatch next = laid_flat(skin, polygon, std::move(slits), fine, rule.share_left_out);
    if (next.stretch.most() > (1 - rule.least_gain) * best.stretch.most()) break;
    next.deep = best.deep;
    next.deep.push_back(chosen.candidate->deep);
    best = std::move(next);
    made.push_back(chosen.candidate);
  }
  return best;
}

SlitBanks banks_of(const CutPatch& cut, const SlitLine& slit) {
  const std::vector<std::uint32_t>& border = cut.patch.border;
  const std::vector<Vec2>& uv = cut.patch.uv;
  const auto n = static_cast<std::ptrdiff_t>(border.size());
  const auto at = [&](std::ptrdiff_t k) {
    return border[static_cast<std::size_t>(((k % n) + n) % n)];
  };
  std::ptrdiff_t tip = 0;
  while (tip < n && uv[at(tip)] != slit.back()) ++tip;
  if (tip == n) throw InternalError("a slit whose tip is not on the border of its patch");
  SlitBanks out;
  std::ptrdiff_t k = 0;
  for (; uv[at(tip - k)] == uv[at(tip + k)] && k < n / 2; ++k) {
    out.left.push_back(cut.flat.points[at(tip - k)]);
    out.right.push_back(cut.flat.points[at(tip + k)]);
  }
  std::reverse(out.left.begin(), out.left.end());
  std::reverse(out.right.begin(), out.right.end());
  const Vec2 gap = out.right.front() - out.left.front();
  const Vec2 outwards = 0.5 * (out.right.front() + out.left.front()) - out.left.back();
  out.opening_mm = std::copysign(gap.norm(), cross(outwards, gap));
  return out;
}

Polygon outer_border(const CutPatch& cut) {
  const std::vector<std::uint32_t>& border = cut.patch.border;
  std::vector<bool> inner(border.size(), false);  // between a slit's mouths
  for (const SlitLine& slit : cut.slits) {
    const auto n = static_cast<std::ptrdiff_t>(border.size());
    const auto place = [&](std::ptrdiff_t k) {
      return static_cast<std::size_t>(((k % n) + n) % n);
    };
    std::ptrdiff_t tip = 0;
    while (cut.patch.uv[border[place(tip)]] != slit.back()) ++tip;
    const std::ptrdiff_t depth = std::ssize(banks_of(cut, slit).left) - 1;
    for (std::ptrdiff_t k = 1 - depth; k < depth; ++k) inner[place(tip + k)] = true;
  }
  Polygon out;
  for (std::size_t k = 0; k < border.size(); ++k) {
    if (!inner[k]) out.push_back(cut.flat.points[border[k]]);
  }
  return simple_outline(out);
}

}  // namespace rimload
