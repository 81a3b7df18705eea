// Pages as a PDF that prints at true size.
#pragma once

#include <span>
#include <string>

#include "report/vector_page.hpp"

namespace rimload {

/// The bytes of one PDF, its letters embedded and its text searchable. The creation date is a fixed
/// one: equal pages give equal bytes.
[[nodiscard]] std::string pdf_of(std::span<const VectorPage> pages, const std::string& title);

}  // namespace rimload
