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

/// An arrow for each jet that starts on the side shown, from under the rim along the skin.
void draw_jets(Image& image, const Scene& scene, const Camera& camera);

/// Where a jet's arrow ends [mm].
[[nodiscard]] Vec3 jet_tip(const SceneJet& jet);

}  // namespace rimload
