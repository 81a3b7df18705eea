// The program, run as a user runs it.
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "catch.hpp"

namespace fs = std::filesystem;

namespace {

const std::string project = RIMLOAD_SOURCE_DIR;

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

struct Ending {
  int exit_code;
  std::string printed, complaint;
};

/// An empty folder to run the program in, removed afterwards.
class Workplace {
 public:
  Workplace() : folder_(fs::temp_directory_path() / ("rimload-test-" + std::to_string(getpid()))) {
    fs::remove_all(folder_);
    fs::create_directories(folder_);
  }
  ~Workplace() { fs::remove_all(folder_); }
  Workplace(const Workplace&) = delete;
  Workplace& operator=(const Workplace&) = delete;

  [[nodiscard]] fs::path operator/(const std::string& name) const { return folder_ / name; }
  void put(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
  }
  [[nodiscard]] Ending run(const std::string& arguments) const {
    const std::string command = "cd '" + folder_.string() + "' && '" + RIMLOAD_BINARY + "' " +
                                arguments + " >.printed 2>.complaint";
    const int status = std::system(command.c_str());
    REQUIRE(WIFEXITED(status));
    return {WEXITSTATUS(status), text_of(folder_ / ".printed"), text_of(folder_ / ".complaint")};
  }
  /// What lies in the folder, without the program's output.
  [[nodiscard]] std::vector<std::string> names() const {
    std::vector<std::string> out;
    for (const auto& entry : fs::recursive_directory_iterator(folder_)) {
      const std::string name = entry.path().lexically_relative(folder_).string();
      if (name[0] != '.') out.push_back(name);
    }
    std::sort(out.begin(), out.end());
    return out;
  }

 private:
  fs::path folder_;
};

bool holds(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}
using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("help says what it is for, and shows an example for every command") {
  const Workplace here;
  const Ending all = here.run("--help");
  CHECK(all.exit_code == 0);
  CHECK(holds(all.printed, "not a medical device"));
  for (const std::string command :
       {"fit", "straps", "section", "catalogue", "card", "check", "face", "schema"}) {
    CHECK(holds(all.printed, "\n  " + command));
    const Ending help = here.run(command + " --help");
    CHECK(help.exit_code == 0);
    CHECK(holds(help.printed, "Example: rimload " + command));
    CHECK(help.complaint.empty());
  }
}

TEST_CASE("the version is printed") {
  const Ending ending = Workplace().run("--version");
  CHECK(ending.exit_code == 0);
  CHECK(ending.printed.find("rimload ") == 0);
}

TEST_CASE("every command line at fault ends with 2 and says why") {
  const Workplace here;
  for (const std::string arguments :
       {"", "fitt", "fit", "fit case.json", "fit case.json --out", "fit case.json --out d --bogus",
        "fit a.json b.json --out d", "straps", "straps case.json", "section case.json --out d",
        "check", "face", "face small", "face small --out f.step",
        "face small --out f.ply --spacing wide", "schema", "schema none"}) {
    INFO(arguments);
    const Ending ending = here.run(arguments);
    CHECK(ending.exit_code == 2);
    CHECK(ending.printed.empty());
    CHECK_FALSE(ending.complaint.empty());
  }
  CHECK(here.names() == Names{});
}

TEST_CASE("sound files end with 0, a fault in any with 2") {
  const Workplace here;
  const std::string sound = project + "/demo/cases/first-fit.json";
  CHECK(here.run("check '" + sound + "'").exit_code == 0);
  here.put("bad.json", R"({"rimload_case": 1, "hours_planned": 100})");
  const Ending ending = here.run("check '" + sound + "' bad.json none.json .");
  CHECK(ending.exit_code == 2);
  CHECK(holds(ending.printed, sound + ": a sound case"));
  CHECK(holds(ending.printed, "bad.json: /hours_planned: 100 h is out of range"));
  CHECK(holds(ending.printed, "bad.json: /settings: missing"));
  CHECK(holds(ending.printed, "none.json: there is no such file"));
  CHECK(holds(ending.printed, ".: is a folder, not a file"));
}

TEST_CASE("a face is written into a folder made for it, and nothing else with it") {
  const Workplace here;
  const Ending ending = here.run("face small --out new/folder/small.stl --spacing 5");
  CHECK(ending.exit_code == 0);
  CHECK(here.names() == Names{"new", "new/folder", "new/folder/small.stl"});
  CHECK(holds(ending.printed, "Written: new/folder/small.stl\n"));
  // Binary STL: 84 bytes, then 50 a triangle.
  CHECK((fs::file_size(here / "new/folder/small.stl") - 84) % 50 == 0);
}

TEST_CASE("a file that was read is never written over, by whatever name") {
  const Workplace here;
  const std::string text = text_of(project + "/face-models/small/landmarks.json");
  here.put("face.ply", text);
  fs::create_symlink(here / "face.ply", here / "other.ply");
  for (const std::string out : {"face.ply", "./face.ply", "other.ply"}) {
    const Ending ending = here.run("face face.ply --out " + out + " --spacing 5");
    CHECK(ending.exit_code == 2);
    CHECK(holds(ending.complaint, "is not written over"));
  }
  CHECK(text_of(here / "face.ply") == text);
  CHECK(here.names() == Names{"face.ply", "other.ply"});
}

TEST_CASE("a result that can't be written ends with 1 and leaves what was there") {
  const Workplace here;
  here.put("taken", "not a folder");
  fs::create_directory(here / "folder.ply");
  here.put("folder.ply/kept", "kept");
  for (const std::string out : {"taken/face.ply", "folder.ply"}) {
    const Ending ending = here.run("face small --spacing 5 --out " + out);
    INFO(ending.complaint);
    CHECK(ending.exit_code == 1);
    CHECK(holds(ending.complaint, "can't write"));
    CHECK_FALSE(holds(ending.printed, "Written"));
  }
  CHECK(text_of(here / "taken") == "not a folder");
  CHECK(here.names() == Names{"folder.ply", "folder.ply/kept", "taken"});
}

TEST_CASE("a case at fault ends with 2, every fault on a line, and writes nothing") {
  const Workplace here;
  here.put("case.json", R"({"rimload_case": 1, "name": "x", "settings": {"cpap_cmH2O": 50}})");
  const Ending ending = here.run("fit case.json --out out");
  CHECK(ending.exit_code == 2);
  CHECK(holds(ending.complaint,
              "case.json: /settings/cpap_cmH2O: 50 cmH2O is out of range; allowed: 3 to 40 cmH2O"));
  CHECK(holds(ending.complaint, "case.json: /face: missing"));
  CHECK(holds(ending.complaint, "case.json: /cushion: missing"));
  CHECK(here.names() == Names{"case.json"});
}

TEST_CASE(
    "the demonstration case is fitted, and its results are written where they were asked for") {
  const Workplace here;
  const Ending ending = here.run("fit '" + project +
                                 "/demo/cases/first-fit.json' --out out "
                                 "--no-pictures --samples tables/samples.csv");
  INFO(ending.complaint);
  CHECK(ending.exit_code == 0);
  CHECK(ending.complaint.empty());
  CHECK(here.names() == Names{"out", "out/result.json", "tables", "tables/samples.csv"});
  const std::size_t written = ending.printed.find("Written: out/result.json, tables/samples.csv\n");
  REQUIRE(written != std::string::npos);
  // The finding before it has at most 25 lines.
  const std::string finding = ending.printed.substr(0, written);
  CHECK(std::count(finding.begin(), finding.end(), '\n') <= 25);
  CHECK(holds(finding, "nasal bridge"));
  CHECK(text_of(here / "out/result.json").find("\"model_version\"") != std::string::npos);
}

TEST_CASE("two results are not written to one file") {
  const Workplace here;
  const Ending ending = here.run("fit '" + project +
                                 "/demo/cases/first-fit.json' --out . "
                                 "--no-pictures --samples ./result.json");
  CHECK(ending.exit_code == 2);
  CHECK(holds(ending.complaint, "two results would go to this file"));
  CHECK(here.names() == Names{});
}
