// What lies between lip and skin: a beard, a feeding tube.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "contact/mask_on_face.hpp"
#include "geometry/site.hpp"
#include "leak/beard_bed.hpp"
#include "leak/tube_channel.hpp"

namespace rimload {

/// Where a beard grows.
enum class BeardRegion { moustache, cheek, chin, full };
[[nodiscard]] std::string_view name_of(BeardRegion region);
/// Whether hair grows at a site: moustache on the upper lip, cheek on cheek and corner of the
/// mouth, chin on the chin, full on all of them. Common practice, no source.
[[nodiscard]] bool grows_at(BeardRegion region, Site site);

struct Beard {
  BeardRegion region = BeardRegion::full;
  Hair hair;
};

enum class TubeKind { nasogastric, orogastric };
[[nodiscard]] std::string_view name_of(TubeKind kind);

struct FeedingTube {
  TubeKind kind = TubeKind::nasogastric;
  Side side = Side::left;
  double size_fr = 12;          ///< French: three times the diameter in mm
  std::vector<Vec3> path_face;  ///< from nostril or mouth to where it is taped [mm]
  bool through_port = false;    ///< the cushion has a sealed port for it

  [[nodiscard]] double diameter_mm() const { return size_fr / 3; }
};

/// The usual way of a tube: from the nostril over the cheek, or from the corner of the mouth over
/// the lower cheek, to the ear. Common practice, no source.
[[nodiscard]] std::vector<Vec3> usual_tube_path(TubeKind kind, Side side,
                                                std::span<const Landmark> landmarks);

/// A tube where it passes under the rim.
struct TubeCrossing {
  std::size_t station = 0;
  Vec3 at_face = Vec3::Zero();
  TubeChannel channel;
};

/// What lies under the lip in one phase.
struct UnderLip {
  std::optional<Beard> beard;
  std::optional<TubeCrossing> tube;
};

/// The station whose middle of the lip a tube's path comes nearest to, also of a tube that goes
/// through a port.
/// @pre the path has two points or more
[[nodiscard]] std::size_t station_at_tube(const FeedingTube& tube, const PhaseState& state,
                                          const SampledRim& rim);

/// The crossing of a tube's path, if it comes within half a lip's width of the rim; the lip beside
/// it is as the balance left it; none when it goes through a port. The tube's push on the mask as a
/// whole (a newton or two) is left out.
[[nodiscard]] std::optional<TubeCrossing> tube_crossing(const FeedingTube& tube,
                                                        const PhaseState& state, const Mask& mask,
                                                        const FaceField& face, const Gas& gas);

}  // namespace rimload
