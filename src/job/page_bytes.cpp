#include "job/page_bytes.hpp"

#ifdef RIMLOAD_PAGE
// Megabytes as an array in a source file would take a compiler minutes.
asm(".pushsection .rodata\n"
    ".global rimload_page_begin\n"
    ".global rimload_page_end\n"
    "rimload_page_begin:\n"
    ".incbin \"" RIMLOAD_PAGE
    "\"\n"
    "rimload_page_end:\n"
    ".popsection\n");
extern "C" const char rimload_page_begin[];
extern "C" const char rimload_page_end[];

namespace rimload {
std::string_view page_bytes() {
  return {rimload_page_begin, static_cast<std::size_t>(rimload_page_end - rimload_page_begin)};
}
}  // namespace rimload
#else
namespace rimload {
std::string_view page_bytes() { return {}; }
}  // namespace rimload
#endif
