#include "skin/calculix_deck.hpp"

#include <cmath>
#include <cstdio>
#include <sstream>

namespace rimload {

namespace {

std::string digits(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.12g", std::abs(value) < 1e-13 ? 0.0 : value);
  return text;
}

}  // namespace

std::string calculix_deck(const SectionMesh& mesh, const std::vector<SectionLayer>& layers,
                          const Eigen::VectorXd& force) {
  std::string out = "** A slice of tissue over a ridge; written by tests/skin/calculix_deck.cpp\n";
  out += "*NODE, NSET=NALL\n";
  const auto n_nodes = static_cast<int>(mesh.nodes.cols());
  for (int k = 0; k < n_nodes; ++k) {
    out += std::to_string(k + 1) + ", " + digits(mesh.nodes(0, k)) + ", " +
           digits(mesh.nodes(1, k)) + ", 0\n";
  }
  for (std::size_t layer = 0; layer < layers.size(); ++layer) {
    const std::string name = "L" + std::to_string(layer);
    out += "*ELEMENT, TYPE=CPE8R, ELSET=" + name + "\n";
    for (std::size_t e = 0; e < mesh.elements.size(); ++e) {
      if (mesh.layer_of_element[e] != static_cast<int>(layer)) continue;
      out += std::to_string(e + 1);
      for (const int node : mesh.elements[e]) out += ", " + std::to_string(node + 1);
      out += "\n";
    }
    out += "*MATERIAL, NAME=" + name + "\n*ELASTIC\n" + digits(layers[layer].youngs_n_mm2) + ", " +
           digits(layers[layer].poisson) + "\n*SOLID SECTION, ELSET=" + name +
           ", MATERIAL=" + name + "\n1.\n";
  }
  out += "*BOUNDARY\n";
  for (int k = 0; k < n_nodes; ++k) {
    if (mesh.fixed[static_cast<std::size_t>(k)]) out += std::to_string(k + 1) + ", 1, 2\n";
  }
  out += "*STEP\n*STATIC\n*CLOAD\n";
  for (int k = 0; k < 2 * n_nodes; ++k) {
    if (force[k] == 0 || mesh.fixed[static_cast<std::size_t>(k / 2)]) continue;
    out += std::to_string(k / 2 + 1) + ", " + std::to_string(k % 2 + 1) + ", " + digits(force[k]) +
           "\n";
  }
  out += "*NODE PRINT, NSET=NALL\nU\n";
  for (std::size_t layer = 0; layer < layers.size(); ++layer) {
    out += "*EL PRINT, ELSET=L" + std::to_string(layer) + "\nS\n";
  }
  return out + "*END STEP\n";
}

CalculixResult read_calculix(const std::string& text, int n_nodes, int n_elements) {
  CalculixResult out;
  out.displacement = Eigen::Matrix2Xd::Constant(2, n_nodes, NAN);
  out.stress.assign(static_cast<std::size_t>(4 * n_elements), Eigen::Vector4d::Constant(NAN));
  std::istringstream lines(text);
  bool in_stress = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.find("displacements") != std::string::npos) in_stress = false;
    if (line.find("stresses") != std::string::npos) in_stress = true;
    std::istringstream words(line);
    int number = 0;
    if (!(words >> number) || number < 1) continue;
    if (!in_stress) {
      double x = 0;
      double y = 0;
      if (number <= n_nodes && words >> x >> y) out.displacement.col(number - 1) << x, y;
      continue;
    }
    int point = 0;
    Eigen::Vector4d s;
    if (words >> point >> s[0] >> s[1] >> s[2] >> s[3] && number <= n_elements && point >= 1 &&
        point <= 4) {
      out.stress[static_cast<std::size_t>(4 * (number - 1) + point - 1)] = s;
    }
  }
  return out;
}

}  // namespace rimload
