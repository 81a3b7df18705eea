#include "job/commands.hpp"
#include "job/page_bytes.hpp"
#include "units/error.hpp"

namespace rimload {

JobOutput run_page(const PageRequest& /*request*/) {
  const std::string_view page = page_bytes();
  if (page.empty()) {
    throw InternalError(
        "this program was built without the page. '.setup/page' builds it as "
        "build/page/rimload.html; './demo/run' then takes it in");
  }
  JobOutput out;
  out.printed =
      "One file for any browser, offline; it opens no connection and keeps nothing by itself.\n"
      "A planning and teaching aid, not a medical device.\n";
  out.files.push_back({"rimload.html", std::string(page)});
  return out;
}

}  // namespace rimload
