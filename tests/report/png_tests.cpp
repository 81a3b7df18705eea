#include <zlib.h>

#include <cstring>

#include "catch.hpp"
#include "png_decoder.hpp"
#include "report/png.hpp"

namespace rimload {
namespace {

Image speckled(int width, int height) {
  Image image(width, height, {0, 0, 0});
  std::uint32_t state = 12345;
  for (std::uint8_t& byte : image.rgb) {
    state = state * 1664525U + 1013904223U;
    byte = static_cast<std::uint8_t>(state >> 24);
  }
  return image;
}

std::uint32_t big_endian(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    value = value << 8 | static_cast<unsigned char>(bytes[at + k]);
  }
  return value;
}

TEST_CASE("A picture survives writing and reading as PNG") {
  for (const auto& [width, height] : {std::pair{1, 1}, {7, 3}, {120, 95}}) {
    const Image image = speckled(width, height);
    const Image back = decoded_png(png_bytes(image));
    CHECK(back.width == width);
    CHECK(back.height == height);
    CHECK(back.rgb == image.rgb);
  }
}

TEST_CASE("Every chunk of a PNG carries its right checksum") {
  const std::string bytes = png_bytes(speckled(40, 30));
  REQUIRE(bytes.substr(0, 8) == std::string("\x89PNG\r\n\x1a\n", 8));
  std::size_t at = 8;
  std::vector<std::string> names;
  while (at < bytes.size()) {
    const std::uint32_t length = big_endian(bytes, at);
    names.push_back(bytes.substr(at + 4, 4));
    const auto* data = reinterpret_cast<const Bytef*>(bytes.data() + at + 4);
    CHECK(big_endian(bytes, at + 8 + length) == crc32(0, data, length + 4));
    at += 12 + length;
  }
  CHECK(names == std::vector<std::string>{"IHDR", "IDAT", "IEND"});
}

}  // namespace
}  // namespace rimload
