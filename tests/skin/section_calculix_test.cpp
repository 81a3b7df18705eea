// The same slice by CalculiX, an independent general-purpose finite-element program: its results
// are stored in tests/data, and it is run anew where it is installed (Debian 12's calculix-ccx).
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "catch.hpp"
#include "skin/calculix_deck.hpp"
#include "skin/section_body.hpp"
#include "skin/section_strain.hpp"

using namespace rimload;

namespace {

const std::filesystem::path data_folder =
    std::filesystem::path(RIMLOAD_SOURCE_DIR) / "tests" / "data";

std::string text_of(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return std::move(text).str();
}

// Fat, skin and a dressing over the bridge, unevenly pressed and dragged.
const std::vector<SectionLayer> layers{
    {3, 0.02, 0.45, 3, 2}, {1, 0.08, 0.49, 1}, {2, 0.05, 0.3, 1}};

SectionBody ridge() {
  return SectionBody(
      {.layers = layers, .bone = {4.3, 0.9}, .columns_mm = spread_columns({5, 8, 20, 1.6})});
}

const std::vector<FaceLoad> loads{{-4, -1, 0.002, 0.0005}, {-1, 2, 0.006, 0.001}, {2, 4, 0.003, 0}};

// CalculiX prints seven digits.
void check_against(const CalculixResult& reference, const SectionBody& body) {
  const Eigen::VectorXd moved = body.solve(body.force_of(loads));
  const double most = reference.displacement.cwiseAbs().maxCoeff();
  REQUIRE(most > 0.1);
  const Eigen::Map<const Eigen::Matrix2Xd> ours(moved.data(), 2, body.mesh().nodes.cols());
  CHECK((ours - reference.displacement).cwiseAbs().maxCoeff() < 1e-6 * most);
  const auto points = section_points(body, moved);
  double greatest = 0;
  double off = 0;
  for (std::size_t k = 0; k < points.size(); ++k) {
    const Eigen::Vector4d& s = points[k].at.stress;  // xx, yy, xy, zz
    const Eigen::Vector4d difference =
        Eigen::Vector4d(s[0], s[1], s[3], s[2]) - reference.stress[k];
    REQUIRE(difference.allFinite());
    greatest = std::max(greatest, s.cwiseAbs().maxCoeff());
    off = std::max(off, difference.cwiseAbs().maxCoeff());
  }
  CHECK(greatest > 0.005);
  CHECK(off < 1e-5 * greatest);  // stress near nu 1/2 magnifies the digits cut off
}

}  // namespace

TEST_CASE("CalculiX gives the same displacements and stresses, as stored") {
  const SectionBody body = ridge();
  // The stored input is the one that this code writes.
  CHECK(calculix_deck(body.mesh(), layers, body.force_of(loads)) ==
        text_of(data_folder / "section-ridge.inp"));
  check_against(read_calculix(text_of(data_folder / "section-ridge.dat"),
                              static_cast<int>(body.mesh().nodes.cols()),
                              static_cast<int>(body.mesh().elements.size())),
                body);
}

TEST_CASE(
    "CalculiX gives the same displacements and stresses when run now, where it is installed") {
  if (std::system("command -v ccx > /dev/null 2>&1") != 0) {
    SUCCEED("there is no ccx here");
    return;
  }
  const SectionBody body = ridge();
  const auto folder = std::filesystem::temp_directory_path() / "rimload-section-calculix";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "slice.inp", std::ios::binary)
      << calculix_deck(body.mesh(), layers, body.force_of(loads));
  const std::string command = "cd '" + folder.string() + "' && ccx slice > slice.log 2>&1";
  REQUIRE(std::system(command.c_str()) == 0);
  check_against(
      read_calculix(text_of(folder / "slice.dat"), static_cast<int>(body.mesh().nodes.cols()),
                    static_cast<int>(body.mesh().elements.size())),
      body);
  std::filesystem::remove_all(folder);
}
