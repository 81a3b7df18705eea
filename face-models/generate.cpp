// Writes the face models: generate_face_models FACE_MODELS_FOLDER
// Reads targets.json and reference/landmarks.json there, writes <name>/landmarks.json.
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "derive.hpp"
#include "units/error.hpp"

namespace {

std::string text_of(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw rimload::InputError(path.string(), "", "can't be read");
  std::ostringstream text;
  text << in.rdbuf();
  return std::move(text).str();
}

void generate(const std::filesystem::path& folder) {
  const auto reference_file = folder / "reference" / "landmarks.json";
  const auto reference = rimload::read_face(text_of(reference_file), reference_file.string());
  for (const auto& request :
       rimload::face_models::face_requests(text_of(folder / "targets.json"))) {
    std::filesystem::create_directories(folder / request.name);
    const auto file = folder / request.name / "landmarks.json";
    std::ofstream out(file, std::ios::binary);
    out << rimload::write_face(rimload::face_models::make_face(reference, request));
    if (!out.flush()) throw rimload::InternalError(file.string() + " can't be written");
  }
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc != 2) {
    std::fputs("usage: generate_face_models FACE_MODELS_FOLDER\n", stderr);
    return 2;
  }
  generate(argv[1]);
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "%s\n", error.what());
  return 1;
}
