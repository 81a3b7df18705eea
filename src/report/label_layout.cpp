#include "report/label_layout.hpp"

#include <algorithm>
#include <cmath>

namespace rimload {

namespace {

// Tops of labels of given heights in order, as near as possible to where they want to be.
//
// With s_k = sum of (height + gap) before k, the tops minus s_k may only rise: pool neighbours that
// would fall into their mean, then keep everything inside the column.
std::vector<double> fitted_tops(const std::vector<double>& wanted,
                                const std::vector<double>& heights, double gap, double top,
                                double bottom) {
  struct Pool {
    double sum;
    int n;
    [[nodiscard]] double mean() const { return sum / n; }
  };
  std::vector<double> before(wanted.size(), 0.0);
  double used = 0;
  std::vector<Pool> pools;
  for (std::size_t k = 0; k < wanted.size(); ++k) {
    before[k] = used;
    used += heights[k] + gap;
    pools.push_back({wanted[k] - before[k], 1});
    while (pools.size() > 1 && pools[pools.size() - 2].mean() >= pools.back().mean()) {
      const Pool last = pools.back();
      pools.pop_back();
      pools.back().sum += last.sum;
      pools.back().n += last.n;
    }
  }
  const double lowest = std::max(top, bottom - (used - gap));
  std::vector<double> tops;
  for (const Pool& pool : pools) {
    for (int i = 0; i < pool.n; ++i) {
      tops.push_back(std::clamp(pool.mean(), top, lowest) + before[tops.size()]);
    }
  }
  return tops;
}

bool cross(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  const auto side = [](const Vec2& p, const Vec2& q, const Vec2& r) {
    return (q - p).x() * (r - p).y() - (q - p).y() * (r - p).x();
  };
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

// Places one column; changes the order while leaders cross.
std::vector<LabelPlace> placed(std::span<const LabelWish> wishes, std::vector<std::size_t> order,
                               const Box& box, Column column, double gap) {
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return wishes[a].anchor.y() < wishes[b].anchor.y();
  });
  const double inner = column == Column::left ? box.right : box.left;
  std::vector<double> tops;
  const auto place = [&] {
    std::vector<double> wanted;
    std::vector<double> heights;
    for (const std::size_t k : order) {
      heights.push_back(wishes[k].height_px);
      wanted.push_back(wishes[k].anchor.y() - 0.5 * wishes[k].height_px);
    }
    tops = fitted_tops(wanted, heights, gap, box.top, box.bottom);
  };
  place();
  const auto start = [&](std::size_t i) {
    return Vec2(inner, tops[i] + 0.5 * wishes[order[i]].height_px);
  };
  const std::size_t most_swaps = order.size() * order.size();
  for (std::size_t swaps = 0; swaps < most_swaps;) {
    bool swapped = false;
    for (std::size_t i = 0; i + 1 < order.size() && !swapped; ++i) {
      for (std::size_t j = i + 1; j < order.size() && !swapped; ++j) {
        if (cross(start(i), wishes[order[i]].anchor, start(j), wishes[order[j]].anchor)) {
          std::swap(order[i], order[j]);
          swapped = true;
        }
      }
    }
    if (!swapped) break;
    ++swaps;
    place();
  }
  std::vector<LabelPlace> out;
  for (std::size_t i = 0; i < order.size(); ++i) out.push_back({order[i], column, tops[i]});
  return out;
}

}  // namespace

LabelLayout place_labels(std::span<const LabelWish> wishes, const Box& left, const Box& right,
                         double gap_px, double middle_px) {
  std::vector<std::size_t> in_left;
  std::vector<std::size_t> in_right;
  double used_left = -gap_px;
  double used_right = -gap_px;
  LabelLayout layout;
  for (std::size_t k = 0; k < wishes.size(); ++k) {
    const double need = wishes[k].height_px + gap_px;
    const double off = wishes[k].anchor.x() - middle_px;
    const bool wants_left = std::abs(off) < 4 ? used_left < used_right : off < 0;
    const bool fits_left = used_left + need <= left.height();
    const bool fits_right = used_right + need <= right.height();
    if (fits_left && (wants_left || !fits_right)) {
      in_left.push_back(k);
      used_left += need;
    } else if (fits_right) {
      in_right.push_back(k);
      used_right += need;
    } else {
      layout.left_out.push_back(k);
    }
  }
  layout.places = placed(wishes, std::move(in_left), left, Column::left, gap_px);
  const auto others = placed(wishes, std::move(in_right), right, Column::right, gap_px);
  layout.places.insert(layout.places.end(), others.begin(), others.end());
  return layout;
}

}  // namespace rimload
