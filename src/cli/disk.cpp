#include "cli/disk.hpp"

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <system_error>

#include "case/json_text.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

namespace fs = std::filesystem;

// Temporary files, removed unless they were renamed.
class Pending {
 public:
  Pending() = default;
  Pending(const Pending&) = delete;
  Pending& operator=(const Pending&) = delete;
  ~Pending() {
    std::error_code ignored;
    for (const auto& [part, target] : parts_) fs::remove(part, ignored);
  }
  void add(const NamedBytes& file) {
    const fs::path target(file.name);
    if (target.has_parent_path()) fs::create_directories(target.parent_path());
    fs::path part = target;
    part += "." + std::to_string(getpid()) + ".part";
    parts_.emplace_back(part, target);
    std::ofstream out(part, std::ios::binary);
    out.write(file.bytes.data(), static_cast<std::streamsize>(file.bytes.size()));
    out.close();
    if (!out) throw InternalError("can't write " + file.name);
  }
  void rename_all() {
    for (const auto& [part, target] : parts_) fs::rename(part, target);
  }

 private:
  std::vector<std::pair<fs::path, fs::path>> parts_;
};

}  // namespace

std::string Disk::read(const std::string& path) {
  std::error_code error;
  if (fs::is_directory(path, error)) throw InputError(path, "", "is a folder, not a file");
  std::ifstream in(path, std::ios::binary);
  if (!in) {
    throw InputError(path, "", fs::exists(path, error) ? "can't be read" : "there is no such file");
  }
  read_.insert(path);
  std::string text;
  std::string block(std::size_t{1} << 16U, '\0');
  while (in && text.size() <= max_json_bytes) {
    in.read(block.data(), static_cast<std::streamsize>(block.size()));
    text.append(block, 0, static_cast<std::size_t>(in.gcount()));
  }
  if (in.bad()) throw InputError(path, "", "can't be read");
  return text;
}

void Disk::write(const std::vector<NamedBytes>& files) const {
  std::set<fs::path> targets;
  for (const NamedBytes& file : files) {
    for (const std::string& input : read_) {
      std::error_code ignored;
      if (fs::equivalent(file.name, input, ignored)) {
        throw InputError(file.name, "", "was read from and is not written over; choose another");
      }
    }
    if (!targets.insert(fs::weakly_canonical(file.name)).second) {
      throw InputError(file.name, "", "two results would go to this file; choose another");
    }
  }
  try {
    Pending pending;
    for (const NamedBytes& file : files) pending.add(file);
    pending.rename_all();
  } catch (const fs::filesystem_error& error) {
    throw InternalError("can't write " + error.path1().string() + ": " + error.code().message());
  }
}

}  // namespace rimload
