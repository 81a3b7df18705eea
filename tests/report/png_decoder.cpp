#include "png_decoder.hpp"

#include <stdexcept>

#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_PNG
#define STBI_NO_STDIO
#include <stb/stb_image.h>

namespace rimload {

Image decoded_png(const std::string& bytes) {
  int width = 0;
  int height = 0;
  int channels = 0;
  stbi_uc* pixels =
      stbi_load_from_memory(reinterpret_cast<const stbi_uc*>(bytes.data()),
                            static_cast<int>(bytes.size()), &width, &height, &channels, 3);
  if (pixels == nullptr) throw std::runtime_error(stbi_failure_reason());
  Image image(width, height, {});
  image.rgb.assign(pixels, pixels + image.rgb.size());
  stbi_image_free(pixels);
  return image;
}

}  // namespace rimload
