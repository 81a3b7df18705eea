// Templates to cut dressings by, as pages to print at true size.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "dressing/cut_rule.hpp"
#include "dressing/sheet_layout.hpp"
#include "dressing/template.hpp"
#include "report/check_bar.hpp"
#include "report/vector_page.hpp"

namespace rimload {

enum class Paper { a4, letter };

struct TemplatePrint {
  std::string title;     ///< such as the case's name
  std::string note;      ///< beneath it, such as that the data are invented
  std::string material;  ///< the dressing's name
  SheetSold sheet;       ///< the size it is sold in
  CutRule rule;          ///< that the pieces were made with
  Paper paper = Paper::a4;
};

/// One page a sheet: the sheet's outline with the pieces on it at true size, a bar of 50 mm to
/// measure, how to read the page, each piece in words, cautions.
///
/// Of a sheet larger than the paper holds only that much is used, and the page says so.
/// @throws InputError for each piece that is too large for the sheet or the paper
[[nodiscard]] std::vector<VectorPage> template_pages(std::span<const TemplatePiece> pieces,
                                                     const TemplatePrint& print);

/// The pages as SVG in millimetres, one text a page.
[[nodiscard]] std::vector<std::string> template_svgs(std::span<const TemplatePiece> pieces,
                                                     const TemplatePrint& print);

}  // namespace rimload
