// A piece to cut, drawn at true size with what it must be known by.
#pragma once

#include "dressing/template.hpp"
#include "report/vector_page.hpp"

namespace rimload {

/// Where a piece lies on the page: turned counter-clockwise, then moved; y of the piece is up.
struct PiecePose {
  double turn_rad = 0;
  Vec2 at_mm = Vec2::Zero();  ///< of the piece's origin, from the page's upper left corner, y down

  [[nodiscard]] Vec2 operator()(const Vec2& piece_mm) const {
    const Vec2 turned = Eigen::Rotation2Dd(turn_rad) * piece_mm;
    return at_mm + Vec2(turned.x(), -turned.y());
  }
};

/// Draws outline, slits, wedges and the face's midline; within it its number and name, an arrow
/// that points up on the wearer, L and R for the wearer's sides, and that its outer face is seen.
/// What there is no room for is left out: the number last.
void draw_piece(VectorPage& page, const TemplatePiece& piece, std::size_t number,
                const PiecePose& pose);

/// How a piece's lines look, also for the key on the page.
[[nodiscard]] VectorPath cut_stroke();
[[nodiscard]] VectorPath slit_stroke();
[[nodiscard]] VectorPath wedge_fill();
[[nodiscard]] VectorPath midline_stroke();

}  // namespace rimload
