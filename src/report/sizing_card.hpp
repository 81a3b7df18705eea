// A card to print at true size: rulers for a face, with what each size of a catalogue goes with.
#pragma once

#include <string>
#include <vector>

#include "case/catalogue.hpp"
#include "report/vector_page.hpp"

namespace rimload {

struct CardPage {
  std::string name;  ///< such as `oronasal`, or `oronasal-2` of several
  VectorPage page;
};

/// A4 pages, one a type of the catalogue or more where it has more than seven sizes: a bar of 50 mm
/// to measure, and for each dimension of `size_guide` a ruler in mm to cut out, beneath it for each
/// size a bar over the values that go with it (`range_for`), how to measure, cautions. Nothing on
/// it is told by colour.
[[nodiscard]] std::vector<CardPage> sizing_card(const Catalogue& catalogue);

/// The title of a card's page, for those who can't see it.
[[nodiscard]] std::string card_title(const CardPage& page);

}  // namespace rimload
