// Files on the disk: read as asked, written whole or not at all.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "job/job.hpp"

namespace rimload {

/// Reads files and remembers which, so that none of them is written over.
class Disk {
 public:
  /// @throws InputError when the file is missing, a folder, unreadable or longer than is read
  [[nodiscard]] std::string read(const std::string& path);

  /// Writes every file under its path, folders made as needed: first all of them beside their
  /// place under a temporary name, then renamed, so that a failure loses nothing that was there.
  /// @throws InputError when a path was read from, or is given twice
  /// @throws InternalError when a file can't be written
  void write(const std::vector<NamedBytes>& files) const;

 private:
  std::set<std::string> read_;
};

}  // namespace rimload
