// An invented mask on the reference face, with pressures made up to exercise the drawing: no
// estimate, no real mask.
#pragma once

#include "report/scene.hpp"

namespace rimload::sample {

/// The face that the scenes lie on.
const SkinMap& face();

/// Oronasal rim of 240 x 7 samples, straps, labels, two gaps, two dressing places.
Scene scene();

/// The same seen in a mirror: x changes sign, left and right are exchanged.
Scene mirrored(Scene scene);

}  // namespace rimload::sample
