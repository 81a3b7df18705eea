// Writes the table that the column law is held against: generate_column_table FILE
// (src/material/data/column-modulus.json). About ten seconds.
#include <cstdio>
#include <exception>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <string>
#include <vector>

#include "skin/section_calibration.hpp"
#include "units/error.hpp"

namespace {

using rimload::column_stiffness;
using Json = nlohmann::ordered_json;

const std::vector<double> poissons{0.40, 0.43, 0.45, 0.47, 0.49};
const std::vector<double> widths{0.125, 0.25, 0.5, 1, 2, 4, 8, 16};
const std::vector<double> ridge_poissons{0.45, 0.49};
const std::vector<double> ridge_widths{0.5, 1, 2, 4};
const std::vector<double> ridge_radii{0.5, 1, 1.5, 2.5, 4};
constexpr double half_angle_deg = 55;

// Five digits are more than the elements give.
double five_digits(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.5g", value);
  return std::stod(text);
}

Json flat_rows() {
  Json rows = Json::array();
  for (const double poisson : poissons) {
    for (const double width : widths) {
      const auto found = column_stiffness({.width_over_depth = width, .poisson = poisson});
      rows.push_back({{"poisson", poisson},
                      {"width_over_depth", width},
                      {"strip", five_digits(found.strip)},
                      {"punch", five_digits(found.punch)},
                      {"bone_over_face", five_digits(found.bone_over_face)}});
    }
  }
  return rows;
}

Json ridge_rows() {
  Json rows = Json::array();
  for (const double poisson : ridge_poissons) {
    for (const double radius : ridge_radii) {
      for (const double width : ridge_widths) {
        const auto found =
            column_stiffness({.width_over_depth = width,
                              .poisson = poisson,
                              .radius_over_depth = radius,
                              .half_angle_rad = half_angle_deg * std::numbers::pi / 180});
        rows.push_back({{"poisson", poisson},
                        {"radius_over_depth", radius},
                        {"width_over_depth", width},
                        {"strip", five_digits(found.strip)},
                        {"bone_over_face", five_digits(found.bone_over_face)}});
      }
    }
  }
  return rows;
}

// One row a line.
std::string text_of_rows(const Json& rows) {
  std::string out = "[\n";
  for (std::size_t k = 0; k < rows.size(); ++k) {
    out += "    " + rows[k].dump() + (k + 1 < rows.size() ? ",\n" : "\n");
  }
  return out + "  ]";
}

void generate(const std::string& file) {
  std::ofstream out(file, std::ios::binary);
  out << "{\n  \"about\": "
      << Json(
             "M_eff/E of a layer bonded to rigid bone, in plane strain and at "
             "small strain, by the finite elements of src/skin: strip, even "
             "pressure over the mean sinking; punch, mean pressure over the "
             "depression by a flat rigid punch without friction. "
             "bone_over_face: largest pressure on the bone over the strip's "
             "pressure. Widths on a ridge run along the outer face; its bone "
             "turns by the half angle to each side and runs on straight.")
             .dump()
      << ",\n  \"how\": "
      << Json(
             "target generate_column_table; mesh as said in src/skin/section_calibration.hpp. "
             "Strip "
             "within 0.02 % of the Fourier integral, punch within 0.3 % by halving the elements")
             .dump()
      << ",\n  \"status\": \"derived\",\n  \"ridge_half_angle_deg\": " << half_angle_deg
      << ",\n  \"flat\": " << text_of_rows(flat_rows())
      << ",\n  \"ridge\": " << text_of_rows(ridge_rows()) << "\n}\n";
  if (!out.flush()) throw rimload::InternalError(file + " can't be written");
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc != 2) {
    std::fputs("usage: generate_column_table FILE\n", stderr);
    return 2;
  }
  generate(argv[1]);
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "%s\n", error.what());
  return 1;
}
