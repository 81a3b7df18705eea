// The checker of includes itself: it finds what it is meant to find, and nothing else.
#include "architecture/includes.hpp"
#include "catch.hpp"

using namespace rimload::architecture;

namespace {
std::vector<std::string> faults_of(std::string path, std::string text) {
  const std::vector<SourceFile> files{{std::move(path), std::move(text)}};
  return include_faults(files);
}
}  // namespace

TEST_CASE("a file belongs to the module of its folder") {
  CHECK(module_of("geometry/rim.hpp")->name == "geometry");
  CHECK(module_of("src/leak/seal.hpp")->name == "leak");
  CHECK_FALSE(module_of("src/utils/misc.hpp"));
  CHECK_FALSE(module_of("src/stray.cpp"));
}

TEST_CASE("an include of the own module, of one to the left or of a library is in order") {
  CHECK(faults_of("src/contact/a.cpp",
                  "#include \"contact/a.hpp\"\n#include <vector>\n#include <Eigen/Core>\n"
                  "#include \"geometry/rim.hpp\"\n#include \"units/units.hpp\"\n")
            .empty());
}

TEST_CASE("an include of a module to the right is found, with its line") {
  CHECK(faults_of("geometry/a.cpp", "\n  # include \"contact/mask.hpp\"\n") ==
        std::vector<std::string>{
            "geometry/a.cpp:2: include of contact/mask.hpp: geometry may not use contact"});
}

TEST_CASE("modules side by side may not include each other") {
  CHECK(faults_of("src/leak/a.cpp", "#include \"skin/site_pressure.hpp\"\n").size() == 1);
  CHECK(faults_of("src/skin/a.cpp", "#include \"leak/seal.hpp\"\n").size() == 1);
  CHECK(faults_of("src/cli/a.cpp", "#include \"page/page.hpp\"\n").size() == 1);
}

TEST_CASE("ways round the include table are found") {
  CHECK(faults_of("src/leak/a.cpp", "#include \"../skin/site_pressure.hpp\"\n").size() == 1);
  CHECK(faults_of("src/leak/a.cpp", "#include <skin/site_pressure.hpp>\n").size() == 1);
  CHECK(faults_of("src/leak/a.cpp", "#include \"site_pressure.hpp\"\n").size() == 1);
  CHECK(faults_of("src/utils/a.cpp", "").size() == 1);
}

TEST_CASE("embedded data is for its own module alone") {
  CHECK(faults_of("src/skin/a.cpp", "#include \"skin_data.hpp\"\n").empty());
  CHECK(faults_of("src/leak/a.cpp", "#include \"skin_data.hpp\"\n").size() == 1);
}

TEST_CASE("a ring of includes inside one module is found, a shared header is none") {
  const std::vector<SourceFile> ring{{"src/skin/a.hpp", "#include \"skin/b.hpp\"\n"},
                                     {"src/skin/b.hpp", "#include \"skin/c.hpp\"\n"},
                                     {"src/skin/c.hpp", "#include \"skin/a.hpp\"\n"}};
  CHECK(include_cycles(ring).size() == 3);
  const std::vector<SourceFile> shared{
      {"src/skin/a.hpp", "#include \"skin/b.hpp\"\n#include \"skin/c.hpp\"\n"},
      {"src/skin/b.hpp", "#include \"skin/c.hpp\"\n"},
      {"src/skin/c.hpp", ""}};
  CHECK(include_cycles(shared).empty());
}
