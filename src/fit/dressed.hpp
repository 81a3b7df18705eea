// Dressings of a catalogue as the contact engine takes them, and an estimate with them on.
#pragma once

#include <span>

#include "fit/estimate.hpp"
#include "fit/strap_setting.hpp"
#include "fit/trial.hpp"

namespace rimload {

/// How a dressing gives way on skin in that state: dry, or soaked where it is moist or wet.
[[nodiscard]] const DressingStiffness& stiffness_of(const Dressing& dressing, Moisture moisture);

/// Poisson's ratio that goes with a dressing's moduli, nu = E/(2 G) - 1, kept within 0 and 0.49.
[[nodiscard]] double poisson_of(const DressingStiffness& stiffness);

/// The pieces of dressings, each placed as an estimate without dressings presses the skin and
/// ending before injured skin. Sites that nothing presses are left out, and those that no piece
/// covers without reaching injured skin.
/// @pre the estimate's first phase seats
[[nodiscard]] std::vector<WornPiece> pieces_of(const Estimate& bare,
                                               std::span<const WornDressing> worn);

/// A piece as the contact engine takes it; pieces of one dressing that overlap are taken as cut
/// from one. Across its thickness a dressing answers with E/(1 - nu^2): in plane strain across the
/// rim and free to spread between two soft faces (assumed; held rigidly it would be stiffer).
[[nodiscard]] CoverPatch cover_patch(const WornPiece& piece, Moisture moisture);

/// A face with pieces on it.
[[nodiscard]] FaceInUse with_pieces(const Estimate& bare, std::span<const WornPiece> pieces);

/// An estimate with pieces on, at given straps.
/// @param face with these pieces, as `with_pieces` gives it
/// @param start where it rests about then; nothing: start from where the bare mask rests
[[nodiscard]] Estimate estimate_dressed(const Estimate& bare, FaceInUse face,
                                        std::vector<WornPiece> pieces, StrapSetting straps,
                                        std::optional<Balances> start = {});

}  // namespace rimload
