// Corners of triangles and what is known at a pixel inside one.
#pragma once

#include "report/colour.hpp"

namespace rimload {

/// A corner of a triangle: picture coordinates [px], depth towards the viewer [mm], colour, and
/// two values of the caller's own that are interpolated with it.
struct RasterVertex {
  float x = 0;
  float y = 0;
  float z = 0;
  Rgba colour;
  float u = 0;
  float v = 0;
};

/// Which sides of triangles are drawn: the front is the one whose corners are seen
/// counter-clockwise.
enum class Faces { both, front };

/// What is known at a pixel when its colour is asked for.
struct Fragment {
  int x = 0;
  int y = 0;
  Rgba colour;
  float u = 0;
  float v = 0;
};

/// Whole pixels, from the first up to but without the last.
struct PixelRect {
  int left = 0;
  int top = 0;
  int right = 0;
  int bottom = 0;
  [[nodiscard]] int width() const { return right - left; }
  [[nodiscard]] int height() const { return bottom - top; }
};

}  // namespace rimload
