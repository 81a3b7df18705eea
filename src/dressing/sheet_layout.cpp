#include "dressing/sheet_layout.hpp"

#include <algorithm>
#include <cassert>
#include <numbers>
#include <numeric>
#include <optional>

namespace rimload {

namespace {

// A piece turned, and the box it then takes up.
struct TurnedPiece {
  std::size_t piece;
  double turn;
  Extent box;
};

std::vector<double> turns_allowed(const SheetSold& sheet) {
  if (sheet.has_grain) return {-0.5 * std::numbers::pi};
  constexpr int n = 12;  // half a turn; the other half takes up the same boxes
  std::vector<double> out(n);
  for (int k = 0; k < n; ++k) out[static_cast<std::size_t>(k)] = std::numbers::pi * k / n;
  return out;
}

std::optional<TurnedPiece> turned_to_fit(const Polygon& outline, std::size_t piece,
                                         const std::vector<double>& turns, const Vec2& room) {
  constexpr double worth_turning = 6.0 / 7;
  std::optional<TurnedPiece> best;
  for (const double turn : turns) {
    const Extent box = extent_of(rotated(outline, turn));
    const Vec2 size = box.size();
    if (size.x() > room.x() || size.y() > room.y()) continue;
    if (!best || size.prod() < worth_turning * best->box.size().prod()) best = {piece, turn, box};
  }
  return best;
}

struct Shelf {
  std::size_t sheet;
  double bottom;
  double height;
  double filled;  // along the length
};

// Shelves fill each sheet from below.
class Shelves {
 public:
  Shelves(const Vec2& room, double gap, std::size_t most) : room_(room), gap_(gap), most_(most) {}

  // The sheet, and the box's lower left corner on it.
  std::pair<std::size_t, Vec2> take(const Vec2& size) {
    for (Shelf& shelf : shelves_) {
      if (size.y() > shelf.height || shelf.filled + size.x() > room_.x()) continue;
      if (n_on_[shelf.sheet] < most_) return put(shelf, size);
    }
    std::size_t sheet = 0;
    while (sheet < n_on_.size() && (top_[sheet] + size.y() > room_.y() || n_on_[sheet] >= most_)) {
      ++sheet;
    }
    if (sheet == n_on_.size()) {
      n_on_.push_back(0);
      top_.push_back(0);
    }
    shelves_.push_back({sheet, top_[sheet], size.y(), 0});
    top_[sheet] += size.y() + gap_;
    return put(shelves_.back(), size);
  }
  [[nodiscard]] std::size_t n_sheets() const { return n_on_.size(); }

 private:
  std::pair<std::size_t, Vec2> put(Shelf& shelf, const Vec2& size) {
    const Vec2 corner(shelf.filled, shelf.bottom);
    shelf.filled += size.x() + gap_;
    ++n_on_[shelf.sheet];
    return {shelf.sheet, corner};
  }

  Vec2 room_;
  double gap_;
  std::size_t most_;
  std::vector<Shelf> shelves_;
  std::vector<std::size_t> n_on_;  // pieces on each sheet
  std::vector<double> top_;        // of what each sheet holds
};

}  // namespace

SheetLayout lay_out(std::span<const Polygon> outlines, const SheetSold& sheet, const CutRule& rule,
                    std::size_t most_on_sheet) {
  assert(most_on_sheet > 0);
  const Vec2 margin = Vec2::Constant(rule.sheet_margin_mm);
  const Vec2 room = Vec2(sheet.length_mm, sheet.width_mm) - 2 * margin;
  const std::vector<double> turns = turns_allowed(sheet);
  SheetLayout out;
  std::vector<TurnedPiece> pieces;
  for (std::size_t k = 0; k < outlines.size(); ++k) {
    if (const auto piece = turned_to_fit(outlines[k], k, turns, room)) {
      pieces.push_back(*piece);
    } else {
      out.too_large.push_back(k);
    }
  }
  std::stable_sort(pieces.begin(), pieces.end(), [](const TurnedPiece& a, const TurnedPiece& b) {
    return a.box.size().y() > b.box.size().y();
  });
  Shelves shelves(room, rule.between_pieces_mm, most_on_sheet);
  for (const TurnedPiece& piece : pieces) {
    const auto [on, corner] = shelves.take(piece.box.size());
    out.placed.push_back({piece.piece, on, piece.turn, corner + margin - piece.box.low});
  }
  std::stable_sort(out.placed.begin(), out.placed.end(),
                   [](const PlacedPiece& a, const PlacedPiece& b) {
                     return std::pair(a.sheet, a.piece) < std::pair(b.sheet, b.piece);
                   });
  out.n_sheets = shelves.n_sheets();
  return out;
}

}  // namespace rimload
