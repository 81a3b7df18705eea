// Pictures as files.
#pragma once

#include <string>

#include "report/image.hpp"

namespace rimload {

/// The picture as a PNG file [ISO/IEC 15948], 8-bit RGB.
/// @throws InternalError when memory runs out.
[[nodiscard]] std::string png_bytes(const Image& image);

}  // namespace rimload
