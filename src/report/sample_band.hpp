// The samples of a few rows of a picture while triangles are drawn over them.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "report/depth_map.hpp"
#include "report/raster.hpp"
#include "report/triangle.hpp"

namespace rimload {

/// 8 samples a pixel for a band of rows; one after the other can be drawn with the same memory.
/// A pixel is set up from the picture when it is first touched.
class SampleBand {
 public:
  /// Starts on other rows.
  void begin(PixelRect rows);
  /// @param number of the layer, from 1
  void draw(const Image& image, const RasterLayer& layer, const Triangle& triangle,
            std::int32_t number);
  /// Writes the mean colour and the nearest depth of each touched pixel.
  void finish(Image& image, DepthMap& depth) const;

 private:
  using Channel = std::array<float, samples::n>;
  struct Pixel {
    Channel z, r, g, b;
    samples::Mask layer;  ///< the last translucent one, 0 for none
  };
  /// While all samples of a pixel have one colour, only that of the first is kept up to date: most
  /// pixels stay that way.
  enum class Colours : char { untouched, one, many };

  static void set_up(Pixel& pixel, Rgb under);
  static bool keeps_front(const Pixel& pixel, const Channel& z, const RasterLayer& layer,
                          std::int32_t number, samples::Mask& mask);
  static void lay_over(Pixel& pixel, Colours& colours, const samples::Mask& mask, const Rgba& c);
  void colour_pixel(const Image& image, const RasterLayer& layer, const Triangle& triangle,
                    std::int32_t number, int x, int y, const Triangle::EdgeValues& edges,
                    samples::Mask& mask);
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y - rows_.top) * static_cast<std::size_t>(rows_.width()) +
           static_cast<std::size_t>(x - rows_.left);
  }

  PixelRect rows_;
  std::vector<Pixel> pixels_;
  std::vector<Colours> colours_;
};

}  // namespace rimload
