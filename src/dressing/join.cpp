#include "dressing/join.hpp"

// GCC 12 takes a scale that the library always sets for one that it may not.
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

namespace rimload {

namespace {
namespace bg = boost::geometry;
using ChartPoint = bg::model::d2::point_xy<double>;
using ChartShape = bg::model::polygon<ChartPoint>;
}  // namespace

std::vector<std::vector<Vec3>> joined(const SkinMap& skin,
                                      std::span<const std::vector<Vec3>> outlines) {
  bg::model::multi_polygon<ChartShape> all;
  for (const std::vector<Vec3>& outline : outlines) {
    ChartShape piece;
    for (const Vec3& corner : outline) {
      const Vec2 uv = SkinMap::chart(corner);
      bg::append(piece.outer(), ChartPoint(uv[0], uv[1]));
    }
    bg::correct(piece);
    bg::model::multi_polygon<ChartShape> more;
    bg::union_(all, piece, more);
    all = std::move(more);
  }
  std::vector<std::vector<Vec3>> out;
  const auto add = [&](const auto& ring) {
    out.emplace_back();
    for (std::size_t k = 0; k + 1 < ring.size(); ++k) {  // the last repeats the first
      out.back().push_back(skin.point({ring[k].x(), ring[k].y()}));
    }
  };
  for (const ChartShape& piece : all) {
    add(piece.outer());
    for (const auto& hole : piece.inners()) add(hole);
  }
  return out;
}

}  // namespace rimload
