// What breaks the seal: hair, a tube, jets of gas.
#pragma once

#include "report/camera.hpp"
#include "report/depth_map.hpp"
#include "report/image.hpp"
#include "report/scene.hpp"

namespace rimload {

/// Hairs and the tube, as far as the face hides them not.
void draw_hair_and_tube(Image& image, const Scene& scene, const Camera& camera,
                        const DepthMap& depth);

/// Whether a view shows a jet: where it starts is seen; one that starts where no view sees it, such
/// as beneath the nose, is shown from the front.
[[nodiscard]] bool shows(View view, const SceneJet& jet, const SkinMap& skin);

/// An arrow for each jet that the view shows, from under the rim along the skin; of one seen end on
/// a ring with a dot.
void draw_jets(Image& image, const Scene& scene, const Camera& camera);

/// Where a jet's label belongs [px]: its arrow's tip, or its ring.
[[nodiscard]] Vec2 jet_anchor(const SceneJet& jet, const Camera& camera);

}  // namespace rimload
