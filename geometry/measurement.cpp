#include "geometry/measurement.hpp"

#include <algorithm>

namespace rimload {

namespace {

struct Row {
  Measure measure;
  std::string_view name, words;
  std::string_view from, to;  // landmarks; the same name twice is left and right
};
constexpr std::array rows{
    Row{Measure::face_width, "face_width", "face width (bizygomatic)", "zygion", "zygion"},
    Row{Measure::face_length, "face_length", "face length (menton to sellion)", "sellion",
        "menton"},
    Row{Measure::sellion_supramentale, "sellion_supramentale", "sellion to supramentale", "sellion",
        "supramentale"},
    Row{Measure::nose_length, "nose_length", "nose length (subnasale to sellion)", "sellion",
        "subnasale"},
    Row{Measure::nose_breadth, "nose_breadth", "nose breadth (alar)", "alare", "alare"},
    Row{Measure::nose_protrusion, "nose_protrusion", "nose protrusion", "subnasale", "pronasale"},
    Row{Measure::nasal_root_breadth, "nasal_root_breadth", "nasal root breadth", "nasal_root_side",
        "nasal_root_side"},
    Row{Measure::lip_length, "lip_length", "mouth breadth (lip length)", "cheilion", "cheilion"},
    Row{Measure::menton_subnasale, "menton_subnasale", "menton to subnasale", "subnasale",
        "menton"},
    Row{Measure::bigonial_breadth, "bigonial_breadth", "bigonial breadth", "gonion", "gonion"},
    Row{Measure::minimum_frontal_breadth, "minimum_frontal_breadth", "minimum frontal breadth",
        "frontotemporale", "frontotemporale"},
    Row{Measure::inner_canthal_breadth, "inner_canthal_breadth", "inner canthal breadth",
        "endocanthion", "endocanthion"},
    Row{Measure::outer_canthal_breadth, "outer_canthal_breadth", "outer canthal breadth",
        "exocanthion", "exocanthion"},
    Row{Measure::interpupillary_breadth, "interpupillary_breadth", "interpupillary breadth",
        "lid_front", "lid_front"},
};

const Row& row_of(Measure measure) {
  return *std::find_if(rows.begin(), rows.end(),
                       [&](const Row& row) { return row.measure == measure; });
}

struct Ends {
  std::ptrdiff_t from, to;
};
Ends ends_of(std::span<const Landmark> landmarks, Measure measure) {
  const Row& row = row_of(measure);
  const bool across = row.from == row.to;
  const auto index = [&](std::string_view name, Side side) {
    return &find_landmark(landmarks, name, side) - landmarks.data();
  };
  return {index(row.from, across ? Side::left : Side::midline),
          index(row.to, across ? Side::right : Side::midline)};
}

}  // namespace

std::string_view name_of(Measure measure) { return row_of(measure).name; }
std::string_view words_for(Measure measure) { return row_of(measure).words; }

std::optional<Measure> measure_named(std::string_view name) {
  const auto* const found =
      std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.name == name; });
  if (found == rows.end()) return std::nullopt;
  return found->measure;
}

double measure(std::span<const Landmark> landmarks, Measure measure) {
  const auto [from, to] = ends_of(landmarks, measure);
  return (landmarks[static_cast<std::size_t>(from)].position_face -
          landmarks[static_cast<std::size_t>(to)].position_face)
      .norm();
}

Measured measure_with_gradient(std::span<const Landmark> landmarks, Measure measure) {
  const auto [from, to] = ends_of(landmarks, measure);
  const Vec3 line = landmarks[static_cast<std::size_t>(from)].position_face -
                    landmarks[static_cast<std::size_t>(to)].position_face;
  Measured out;
  out.value_mm = line.norm();
  out.gradient = Eigen::VectorXd::Zero(3 * static_cast<Eigen::Index>(landmarks.size()));
  if (out.value_mm > 0) {
    out.gradient.segment<3>(3 * from) = line / out.value_mm;
    out.gradient.segment<3>(3 * to) = -line / out.value_mm;
  }
  return out;
}

}  // namespace rimload
