// How near two pressures may lie and still differ by rounding alone.
#pragma once

namespace rimload {

/// Of balances found from two sides, or on the two sides of a symmetric face [N/mm2]; about 1e-4
/// mmHg. Of two places nearer than this the first is named.
inline constexpr double told_apart = 1e-8;

}  // namespace rimload
