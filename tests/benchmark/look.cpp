// The look that a screen follows a hand with. Target: 40 ms from input to picture in the page,
// where the engine runs at about half this speed.
#include <benchmark/benchmark.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "job/look.hpp"

namespace {

using namespace rimload;

std::string text_of(const std::string& path) {
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

// Straps of the demonstration's case moved by a step each time, files at hand as in the page.
void look(benchmark::State& state, bool moving) {
  const std::string folder = std::string(RIMLOAD_SOURCE_DIR) + "/demo/cases/";
  nlohmann::json document = nlohmann::json::parse(text_of(folder + "first-fit.json"));
  std::map<std::string, std::string> files;
  std::string case_text;
  const ReadFile read = [&](const std::string& path) {
    if (path.ends_with("first-fit.json")) return case_text;
    auto& text = files[path];
    if (text.empty()) text = text_of(path);
    return text;
  };
  Looker looker;
  int step = 0;
  for (auto _ : state) {
    document["straps"] = {{"tension_N", 3.5 + 0.05 * (++step % 20)}};
    case_text = document.dump();
    benchmark::DoNotOptimize(looker.look({folder + "first-fit.json", moving}, read));
  }
}

}  // namespace

BENCHMARK_CAPTURE(look, at_rest, false)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(look, moving, true)->Unit(benchmark::kMillisecond);
