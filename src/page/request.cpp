#include "page/request.hpp"

#include <nlohmann/json.hpp>

#include "units/error.hpp"

namespace rimload {

namespace {

using nlohmann::json;

JobRequest request_of(const json& asked) {
  const auto command = asked.at("command").get<std::string>();
  const auto case_file = [&] { return asked.at("case").get<std::string>(); };
  if (command == "look") return LookRequest{case_file(), asked.value("moving", false)};
  if (command == "tell") return TellRequest{};
  if (command == "fit") {
    return FitRequest{.case_file = case_file(),
                      .pictures = asked.value("pictures", true),
                      .samples = asked.value("samples", false),
                      .band_draws = asked.value("bands", 0),
                      .seed = asked.value("seed", 1U)};
  }
  if (command == "straps") return StrapsRequest{case_file()};
  if (command == "section") return SectionRequest{case_file(), asked.at("site").get<std::string>()};
  if (command == "dressing") return DressingRequest{case_file()};
  if (command == "sizes") {
    return SizesRequest{.case_file = case_file(),
                        .n_draws = asked.value("draws", 100),
                        .seed = asked.value("seed", 1U)};
  }
  if (command == "seen") {
    return SeenRequest{.case_file = case_file(),
                       .n_draws = asked.value("draws", 300),
                       .seed = asked.value("seed", 1U)};
  }
  if (command == "measure") {
    return MeasureRequest{.file = asked.value("file", ""), .guide = asked.value("guide", false)};
  }
  if (command == "scan") {
    return ScanRequest{.scan_file = asked.at("file").get<std::string>(),
                       .unit = asked.value("unit", "")};
  }
  if (command == "check") return CheckRequest{asked.at("files").get<std::vector<std::string>>()};
  if (command == "schema") return SchemaRequest{asked.at("name").get<std::string>()};
  throw InputError("request", "/command", "'" + command + "' is no command");
}

}  // namespace

JobRequest read_request(std::string_view text) {
  try {
    return request_of(json::parse(text));
  } catch (const json::exception& error) {
    throw InputError("request", "", error.what());
  }
}

}  // namespace rimload
