// The engine as the page's worker calls it: files in, one command, files out. Plain C functions
// over one thread; texts are UTF-8 and stay valid until the next call.
#include <emscripten.h>

#include <map>
#include <string>

#include "job/job.hpp"
#include "job/look.hpp"
#include "page/request.hpp"
#include "units/error.hpp"

// clang-format off: JavaScript
EM_JS(void, tell_progress, (int done, int all), { Module["onProgress"](done, all); })
// clang-format on

namespace {

struct Engine {
  std::map<std::string, std::string> given;
  rimload::Looker looker;
  rimload::JobOutput output;

  // A browser hides folders: a file is also found by its name alone, when only one has it.
  std::string read(const std::string& path) const {
    if (const auto found = given.find(path); found != given.end()) return found->second;
    const auto name_of = [](const std::string& each) { return each.substr(each.rfind('/') + 1); };
    const std::string* only = nullptr;
    for (const auto& [each, bytes] : given) {
      if (name_of(each) != name_of(path)) continue;
      if (only != nullptr) {
        throw rimload::InputError(path, "", "the page was given more than one file of that name");
      }
      only = &bytes;
    }
    if (only == nullptr) throw rimload::InputError(path, "", "not open in the page: open it too");
    return *only;
  }
};

Engine& engine() {
  static Engine one;
  return one;
}

rimload::JobOutput run(std::string_view request) {
  const rimload::ReadFile read = [](const std::string& path) { return engine().read(path); };
  try {
    const rimload::JobRequest asked = rimload::read_request(request);
    if (const auto* look = std::get_if<rimload::LookRequest>(&asked)) {
      return engine().looker.look(*look, read);
    }
    if (std::holds_alternative<rimload::TellRequest>(asked)) return engine().looker.tell();
    return rimload::run_job(asked, read, [](int done, int all) { tell_progress(done, all); });
  } catch (const rimload::InputError& error) {
    return {.end = rimload::JobEnd::input_at_fault,
            .printed = {},
            .complaint = std::string(error.what()) + "\n",
            .files = {}};
  }
}

const rimload::NamedBytes& file(int k) {
  return engine().output.files.at(static_cast<std::size_t>(k));
}

}  // namespace

extern "C" {

void rimload_give(const char* path, const char* bytes, int size) {
  engine().given[path] = std::string(bytes, static_cast<std::size_t>(size));
}
/// @return the exit code that the program would end with
int rimload_run(const char* request) {
  engine().output = run(request);
  return static_cast<int>(engine().output.end);
}
const char* rimload_printed() { return engine().output.printed.c_str(); }
const char* rimload_complaint() { return engine().output.complaint.c_str(); }
int rimload_n_files() { return static_cast<int>(engine().output.files.size()); }
const char* rimload_file_name(int k) { return file(k).name.c_str(); }
const char* rimload_file_bytes(int k) { return file(k).bytes.data(); }
int rimload_file_size(int k) { return static_cast<int>(file(k).bytes.size()); }

}  // extern "C"
