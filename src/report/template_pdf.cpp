#include "report/template_pdf.hpp"

#include "report/vector_pdf.hpp"

namespace rimload {

std::string template_pdf(std::span<const TemplatePiece> pieces, const TemplatePrint& print) {
  return pdf_of(template_pages(pieces, print), "Cut template: " + print.title);
}

}  // namespace rimload
