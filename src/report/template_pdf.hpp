// Templates to cut dressings by, as a PDF that prints at true size.
#pragma once

#include <span>
#include <string>

#include "report/template_page.hpp"

namespace rimload {

/// The pages of `template_pages` as one PDF.
/// @throws InputError as `template_pages` does
[[nodiscard]] std::string template_pdf(std::span<const TemplatePiece> pieces,
                                       const TemplatePrint& print);

}  // namespace rimload
