// The page that was built beside the program.
#pragma once

#include <string_view>

namespace rimload {

/// Its bytes; empty when the program was built without it (CMake's RIMLOAD_PAGE).
[[nodiscard]] std::string_view page_bytes();

}  // namespace rimload
