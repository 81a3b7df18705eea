#include "job/look.hpp"

#include <algorithm>

#include "case/read_case.hpp"
#include "fit/fit.hpp"
#include "fit/skin_tolerance.hpp"
#include "fit/strap_setting.hpp"
#include "job/commands.hpp"
#include "report/finding.hpp"
#include "report/pressure_field.hpp"
#include "report/result_json.hpp"
#include "report/scene_json.hpp"
#include "report/scene_of_estimate.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

constexpr double moving_texel_mm = 0.8;

bool same_face(const std::vector<Landmark>& a, const std::vector<Landmark>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const Landmark& one, const Landmark& other) {
                      return one.name == other.name && one.side == other.side &&
                             one.position_face == other.position_face &&
                             one.tissue_depth_mm == other.tissue_depth_mm;
                    });
}

// The same mask in the same placement on the same face: what was solved for one case is a start for
// the other. Both cushions are of the same catalogue.
bool same_mask(const Case& a, const Case& b) {
  return a.cushion.name == b.cushion.name && a.cushion.size == b.cushion.size &&
         a.placement == b.placement && a.sampling == b.sampling &&
         a.settings.bilevel == b.settings.bilevel;
}

}  // namespace

Catalogue Looker::catalogue_of(std::string_view text, const std::string& file) {
  if (!catalogue_ || catalogue_text_ != text || catalogue_file_ != file) {
    at_rest_.reset();
    moving_.reset();
    catalogue_ = read_catalogue(text, file);
    catalogue_text_ = text;
    catalogue_file_ = file;
  }
  return *catalogue_;
}

JobOutput Looker::look(const LookRequest& request, const ReadFile& read_file) {
  return guarded([&] {
    Case input = read_case(read_file(request.case_file), request.case_file, read_file,
                           [this](std::string_view text, const std::string& file) {
                             return catalogue_of(text, file);
                           });
    if (request.moving) input.sampling = moving_sampling;
    const auto of_same_face = [&](const std::optional<Estimate>& estimate) {
      return estimate && same_face(estimate->input.face.landmarks, input.face.landmarks);
    };
    std::optional<Estimate>& last = request.moving ? moving_ : at_rest_;
    const std::optional<Estimate>& other = request.moving ? at_rest_ : moving_;
    const bool known_mask = of_same_face(last) && same_mask(last->input, input);
    FaceInUse face = of_same_face(last)    ? last->face
                     : of_same_face(other) ? other->face
                                           : FaceInUse(input.face);
    face.cover.reset();
    last =
        estimate_fit(input, std::move(face),
                     known_mask ? std::optional(start_of(*last)) : std::nullopt, Reading::picture);
    const Scene scene = scene_of(*last);
    ScreenScene screen =
        screen_scene(scene, request.moving ? moving_texel_mm : PressureField::fine_texel_mm);
    JobOutput out;
    out.files = {{"scene.json", std::move(screen.json)},
                 {"lines.bin", std::move(screen.lines)},
                 {"field.bin", std::move(screen.field)}};
    if (!same_face(on_screen_, input.face.landmarks)) {
      out.files.push_back({"skin.bin", skin_bytes(scene)});
      on_screen_ = input.face.landmarks;
    }
    return out;
  });
}

JobOutput Looker::tell() {
  return guarded([&] {
    if (!at_rest_) throw InputError("request", "/command", "nothing was looked at yet");
    read_rest(*at_rest_);
    at_rest_ = with_strap_note(with_muscle_stress(std::move(*at_rest_)));
    JobOutput out;
    out.printed = finding(*at_rest_);
    out.files = {{"result.json", result_json(*at_rest_)},
                 {"places.json", places_json(at_rest_->dressing_places)}};
    return out;
  });
}

}  // namespace rimload
