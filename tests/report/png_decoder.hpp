// Reads PNG files back with a decoder that shares no code with the writer.
#pragma once

#include <string>

#include "report/image.hpp"

namespace rimload {

/// @throws std::runtime_error when it is no PNG.
Image decoded_png(const std::string& bytes);

}  // namespace rimload
