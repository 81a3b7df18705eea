#include "report/png.hpp"

#include <cstdlib>

#include "units/error.hpp"

#ifndef __EMSCRIPTEN__  // there stb's own compressor serves
#include <zlib.h>

namespace {

// Level 1: a third of the time of stb's own compressor. stb frees the result with free().
unsigned char* deflate_fast(unsigned char* data, int size, int* out_size, int /*quality*/) {
  uLongf length = compressBound(static_cast<uLong>(size));
  auto* out = static_cast<unsigned char*>(std::malloc(length));
  if (out == nullptr) return nullptr;
  if (compress2(out, &length, data, static_cast<uLong>(size), 1) != Z_OK) {
    std::free(out);
    return nullptr;
  }
  *out_size = static_cast<int>(length);
  return out;
}

unsigned int checksum(unsigned char* data, int size) {
  return static_cast<unsigned int>(crc32(0, data, static_cast<uInt>(size)));
}

}  // namespace

#define STBIW_ZLIB_COMPRESS deflate_fast
#define STBIW_CRC32 checksum
#endif

#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STB_IMAGE_WRITE_STATIC
#define STBI_WRITE_NO_STDIO
#include <stb/stb_image_write.h>

namespace rimload {

// One filter for all rows (2: difference to the row above): choosing one for each row costs more
// than it saves.
[[maybe_unused]] static const int row_filter = stbi_write_force_png_filter = 2;

std::string png_bytes(const Image& image) {
  std::string bytes;
  const auto append = [](void* out, void* data, int size) {
    static_cast<std::string*>(out)->append(static_cast<const char*>(data),
                                           static_cast<std::size_t>(size));
  };
  const int written = stbi_write_png_to_func(append, &bytes, image.width, image.height, 3,
                                             image.rgb.data(), 3 * image.width);
  if (written == 0) throw InternalError("the PNG encoder ran out of memory");
  return bytes;
}

}  // namespace rimload
