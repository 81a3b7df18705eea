// The command line: what was asked, and where its results go.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "job/job.hpp"

namespace rimload {

/// A command and the paths to write to.
struct Arguments {
  JobRequest request;
  std::string out;      ///< folder of a fit, file of a face; empty: nothing is written
  std::string samples;  ///< file for samples.csv; empty: none
};

/// The command line was not a command: what to print, and the exit code.
struct Answer {
  int exit_code = 0;  ///< 0 for help and version, 2 for a command line at fault
  std::string printed;
  std::string complaint;
};

/// Reads the command line.
/// @throws InputError for a mesh file of no known format
[[nodiscard]] std::variant<Arguments, Answer> read_arguments(int argc, const char* const* argv);

}  // namespace rimload
