#include "units/error.hpp"

namespace rimload {

std::string describe(const Fault& fault) {
  std::string text = fault.file;
  for (const std::string* part : {&fault.path, &fault.message}) {
    if (part->empty()) continue;
    if (!text.empty()) text += ": ";
    text += *part;
  }
  return text;
}

namespace {
std::string join(const std::vector<Fault>& faults) {
  std::string text;
  for (const Fault& fault : faults) text += (text.empty() ? "" : "\n") + describe(fault);
  return text;
}
}  // namespace

InputError::InputError(std::vector<Fault> faults)
    : std::runtime_error(join(faults)), faults_(std::move(faults)) {}

InputError::InputError(std::string file, std::string path, std::string message)
    : InputError(std::vector<Fault>{{std::move(file), std::move(path), std::move(message)}}) {}

}  // namespace rimload
