// mould_demo_cushions MOULDS.json FACE-MODELS-FOLDER OUT.json
#include <fstream>
#include <iostream>
#include <iterator>

#include "mould.hpp"

namespace {
std::string text_of(const std::string& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error("can't read " + path);
  return {std::istreambuf_iterator<char>(file), {}};
}
}  // namespace

int main(int argc, char** argv) {
  if (argc != 4) {
    std::cerr << "usage: mould_demo_cushions MOULDS.json FACE-MODELS-FOLDER OUT.json\n";
    return 2;
  }
  try {
    const std::string faces = argv[2];
    const auto face_named = [&](const std::string& name) {
      const std::string path = faces + "/" + name + "/landmarks.json";
      return rimload::read_face(text_of(path), path);
    };
    std::ofstream(argv[3]) << rimload::mould_catalogue(text_of(argv[1]), face_named);
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 1;
  }
  return 0;
}
