#include <fmt/format.h>

#include "case/catalogue.hpp"
#include "job/commands.hpp"
#include "report/check_bar.hpp"
#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"
#include "report/sizing_card.hpp"
#include "report/vector_pdf.hpp"

namespace rimload {

JobOutput run_card(const CardRequest& request, const ReadFile& read_file) {
  const Catalogue catalogue =
      read_catalogue(read_file(request.catalogue_file), request.catalogue_file);
  std::vector<VectorPage> pages;
  JobOutput out;
  for (const CardPage& card : sizing_card(catalogue)) {
    out.files.push_back({"sizing-card-" + card.name + ".svg", svg_of(card.page, card_title(card))});
    pages.push_back(card.page);
  }
#ifndef __EMSCRIPTEN__  // a browser prints the pages as they are
  out.files.insert(out.files.begin(), {"sizing-card.pdf", pdf_of(pages, "Sizing card")});
#endif
  FindingLines words;
  words.add(FindingLines::always,
            fmt::format("A sizing card of {} page{} for {} cushions and sizes.", pages.size(),
                        pages.size() == 1 ? "" : "s", catalogue.cushions.size()));
  words.add(FindingLines::always, print_words());
  words.add(FindingLines::always,
            "A paper card picks where to start; 'rimload sizes' ranks cushions on a face from "
            "measurements; look at the face with the mask on.");
  words.add(FindingLines::always, standing_line());
  out.printed = words.text();
  return out;
}

}  // namespace rimload
