// Bonded elastic layers under pressure by Fourier integrals: an answer without elements.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <span>

#include "skin/section_mesh.hpp"

namespace rimload {

/// Sinking of the outer face under the pressure cos kx is this times cos kx [mm3/N].
///
/// In each layer u_x = U sin kx, u_y = V cos kx, s_yy = S cos kx, s_xy = T sin kx obey
/// U' = T/G + k V, V' = (S - lambda k U)/(lambda + 2 G), S' = -k T,
/// T' = k ((lambda + 2 G) k U + lambda V') (equilibrium and Hooke's law). The matrix that gives
/// (U, V) by (S, T) is carried from the bone, where it is 0, up to the outer face.
[[nodiscard]] double wave_sinking(std::span<const SectionLayer> layers, double wave_number);

/// Mean sinking [mm] over |x| < a under pressure 1 there: the integral over k from 0 of
/// (2/pi) wave_sinking sin^2(k a)/(k^2 a).
[[nodiscard]] double strip_sinking(std::span<const SectionLayer> layers, double half_width_mm);

/// Integral over k of wave_sinking times a factor, from 0 to `last`, in even panels of Gauss.
[[nodiscard]] double wave_integral(std::span<const SectionLayer> layers, double last, int panels,
                                   const std::function<double(double)>& factor);

}  // namespace rimload
