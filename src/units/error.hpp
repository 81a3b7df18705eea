// The exceptions of the project. They are caught once, at the edge (command line or page).
#pragma once

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace rimload {

/// One thing wrong with the user's input, complete enough to be mended without reading code.
struct Fault {
  std::string file;     ///< the file's name as the user gave it, empty if none
  std::string path;     ///< JSON pointer such as `/settings/cpap_cmH2O`, or a column and line
  std::string message;  ///< value, unit, what is allowed, nearest valid name
};

/// The input is at fault; carries every fault found, not only the first.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Fault> faults);
  InputError(std::string file, std::string path, std::string message);
  [[nodiscard]] const std::vector<Fault>& faults() const { return faults_; }

 private:
  std::vector<Fault> faults_;
};

/// A broken promise of ours, not the user's fault (a file that can't be written, a bug).
class InternalError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// `file: path: message`, the form in which every fault is printed.
[[nodiscard]] std::string describe(const Fault& fault);

}  // namespace rimload
