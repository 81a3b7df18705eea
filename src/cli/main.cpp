// rimload: the program.
#include <unistd.h>

#include <cstdio>
#include <exception>

#include "cli/arguments.hpp"
#include "cli/disk.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

void print(std::FILE* stream, const std::string& text) {
  std::fwrite(text.data(), 1, text.size(), stream);
}

// A fit's files go into its folder, but samples.csv where it was asked for; a face, a catalogue and
// the page into their file.
std::vector<NamedBytes> with_paths(std::vector<NamedBytes> files, const Arguments& arguments) {
  const bool one_file = std::holds_alternative<FaceRequest>(arguments.request) ||
                        std::holds_alternative<CatalogueRequest>(arguments.request) ||
                        std::holds_alternative<PageRequest>(arguments.request);
  for (NamedBytes& file : files) {
    if (one_file) {
      file.name = arguments.out;
    } else if (file.name == "samples.csv") {
      file.name = arguments.samples;
    } else {
      file.name = arguments.out + "/" + file.name;
    }
  }
  return files;
}

// A line that grows while a long command works, on a terminal only.
void show_progress(int done, int all) {
  constexpr int width = 40;
  const int full = width * done / all;
  std::fprintf(stderr, "\r[%.*s%*s] %d %%", full, "########################################",
               width - full, "", 100 * done / all);
  if (done == all) std::fputc('\n', stderr);
}

int run(Arguments arguments) {
  Disk disk;
  JobOutput output = run_job(
      arguments.request, [&](const std::string& path) { return disk.read(path); },
      isatty(2) != 0 ? Progress(show_progress) : Progress());
  print(stderr, output.complaint);
  const auto files = with_paths(std::move(output.files), arguments);
  disk.write(files);
  print(stdout, output.printed);
  for (std::size_t k = 0; k < files.size(); ++k) {
    print(stdout, (k == 0 ? "Written: " : ", ") + files[k].name);
  }
  if (!files.empty()) print(stdout, "\n");
  return static_cast<int>(output.end);
}

int run(const Answer& answer) {
  print(stdout, answer.printed);
  print(stderr, answer.complaint);
  return answer.exit_code;
}

}  // namespace

}  // namespace rimload

int main(int argc, char** argv) {
  using namespace rimload;
  try {
    return std::visit([](auto&& each) { return run(std::move(each)); }, read_arguments(argc, argv));
  } catch (const InputError& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return static_cast<int>(JobEnd::input_at_fault);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "rimload failed: %s\n", error.what());
    return static_cast<int>(JobEnd::our_failure);
  }
}
