// The colours of pages and faces.
#pragma once

#include "report/colour.hpp"

namespace rimload::palette {

inline constexpr Rgb paper{255, 255, 255};
inline constexpr Rgb ink{28, 33, 40};          ///< text
inline constexpr Rgb soft_ink{78, 86, 96};     ///< secondary text, 7:1 on paper
inline constexpr Rgb hairline{203, 207, 212};  ///< rules and frames, never text
inline constexpr Rgb leader{104, 112, 122};    ///< from a label to its place
inline constexpr Rgb alarm{150, 32, 24};       ///< the word before a caution, 8:1 on paper
inline constexpr Rgb rim{58, 70, 86};
inline constexpr Rgb strap{201, 208, 217};
inline constexpr Rgb strap_edge{112, 124, 141};
inline constexpr Rgb dressing{0, 88, 60};
inline constexpr Rgb hair{74, 54, 40};
inline constexpr Rgb tube{240, 232, 206};
inline constexpr Rgb tube_edge{112, 96, 48};
inline constexpr Rgb jet{0, 92, 148};

}  // namespace rimload::palette
