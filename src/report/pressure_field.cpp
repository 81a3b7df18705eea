#include "report/pressure_field.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace rimload {

namespace {
constexpr int square_texels = 5;
constexpr double step_texels = 0.7;  // between points laid down: no texel is missed

Vec2 within_map(const SkinMap& skin, const Vec2& uv) {
  const GridFrame& frame = skin.frame();
  return uv.cwiseMax(Vec2(frame.u0_mm, frame.v0_mm))
      .cwiseMin(Vec2(frame.u_at(frame.n_u - 1), frame.v_at(frame.n_v - 1)));
}

}  // namespace

PressureField::PressureField(const Scene& scene, double texel_mm) : texel_mm_(texel_mm) {
  if (scene.skin == nullptr) return;
  const SkinMap& skin = *scene.skin;
  // One sample more at either end, without cover: the cell's edge is where cover is one half.
  const auto row_of = [&](const std::vector<Vec3>& points, const std::vector<double>& mmhg,
                          double open) {
    Row row;
    for (std::size_t k = 0; k < points.size(); ++k) {
      const double p = k < mmhg.size() ? std::max(mmhg[k], 0.0) : 0.0;
      row.push_back({within_map(skin, SkinMap::chart(points[k])), p, 1, open});
    }
    if (row.size() < 2) return Row{};
    const auto beyond = [](const Node& last, const Node& before) {
      return Node{2 * last.uv - before.uv, last.mmhg, 0, last.open};
    };
    const Node first = beyond(row[0], row[1]);
    const Node last = beyond(row.back(), row[row.size() - 2]);
    row.insert(row.begin(), first);
    row.push_back(last);
    return row;
  };
  std::vector<Row> rim;
  for (const SceneStation& station : scene.stations) {
    rim.push_back(row_of(station.points, station.pressure_mmhg, station.open ? 1 : 0));
  }
  std::vector<Row> pad;
  for (std::size_t k = 0; k < scene.pad_points.size(); ++k) {
    static const std::vector<double> nothing;
    const bool given = k < scene.pad_pressure_mmhg.size();
    pad.push_back(row_of(scene.pad_points[k], given ? scene.pad_pressure_mmhg[k] : nothing, 0));
  }

  Vec2 low(1e9, 1e9);
  Vec2 high(-1e9, -1e9);
  for (const auto* rows : {&rim, &pad}) {
    for (const Row& row : *rows) {
      for (const Node& node : row) {
        low = low.cwiseMin(node.uv);
        high = high.cwiseMax(node.uv);
      }
    }
  }
  if (low.x() > high.x()) return;
  u0_ = static_cast<float>(low.x() - 2 * texel_mm);
  v0_ = static_cast<float>(low.y() - 2 * texel_mm);
  n_u_ = static_cast<int>((high.x() - low.x()) / texel_mm) + 5;
  n_v_ = static_cast<int>((high.y() - low.y()) / texel_mm) + 5;
  texels_.resize(static_cast<std::size_t>(n_u_) * static_cast<std::size_t>(n_v_));
  for (std::size_t k = 0; k < rim.size(); ++k) spread(rim[k], rim[(k + 1) % rim.size()]);
  for (std::size_t k = 1; k < pad.size(); ++k) spread(pad[k - 1], pad[k]);
  for (Texel& texel : texels_) {
    if (texel.weight <= 0) continue;
    texel.value.mmhg /= texel.weight;
    texel.value.cover /= texel.weight;
    texel.value.open /= texel.weight;
  }
  mark_near();
}

void PressureField::mark_near() {
  const int columns = n_u_ / square_texels + 1;
  const int rows = n_v_ / square_texels + 1;
  near_.assign(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows), 0);
  for (int j = 0; j < n_v_; ++j) {
    for (int i = 0; i < n_u_; ++i) {
      const std::size_t k = static_cast<std::size_t>(j) * static_cast<std::size_t>(n_u_) +
                            static_cast<std::size_t>(i);
      if (texels_[k].value.cover <= 0) continue;
      const int column = i / square_texels;
      const int row = j / square_texels;
      for (int y = std::max(0, row - 1); y <= std::min(rows - 1, row + 1); ++y) {
        for (int x = std::max(0, column - 1); x <= std::min(columns - 1, column + 1); ++x) {
          near_[static_cast<std::size_t>(y) * static_cast<std::size_t>(columns) +
                static_cast<std::size_t>(x)] = 1;
        }
      }
    }
  }
}

bool PressureField::is_near(float u, float v) const {
  const auto square_mm = static_cast<float>(square_texels * texel_mm_);
  const float x = (u - u0_) / square_mm;
  const float y = (v - v0_) / square_mm;
  const int columns = n_u_ / square_texels + 1;
  const int rows = n_v_ / square_texels + 1;
  if (near_.empty() || x < 0 || y < 0 || x >= static_cast<float>(columns) ||
      y >= static_cast<float>(rows)) {
    return false;
  }
  return near_[static_cast<std::size_t>(y) * static_cast<std::size_t>(columns) +
               static_cast<std::size_t>(x)] != 0;
}

// Lays down points of the bilinear patches between two rows.
void PressureField::spread(const Row& one, const Row& next) {
  const std::size_t n = std::min(one.size(), next.size());
  const double step_mm = step_texels * texel_mm_;
  for (std::size_t k = 1; k < n; ++k) {
    const std::array<const Node*, 4> c{&one[k - 1], &one[k], &next[k - 1], &next[k]};
    const double across = std::max((c[1]->uv - c[0]->uv).norm(), (c[3]->uv - c[2]->uv).norm());
    const double along = std::max((c[2]->uv - c[0]->uv).norm(), (c[3]->uv - c[1]->uv).norm());
    const int n_across = static_cast<int>(std::clamp(across / step_mm, 1.0, 60.0)) + 1;
    const int n_along = static_cast<int>(std::clamp(along / step_mm, 1.0, 60.0)) + 1;
    for (int i = 0; i < n_along; ++i) {
      for (int j = 0; j < n_across; ++j) {
        const double s = (i + 0.5) / n_along;
        const double t = (j + 0.5) / n_across;
        const std::array<double, 4> w{(1 - s) * (1 - t), (1 - s) * t, s * (1 - t), s * t};
        Node node;
        for (std::size_t m = 0; m < 4; ++m) {
          node.uv += w[m] * c[m]->uv;
          node.mmhg += w[m] * c[m]->mmhg;
          node.cover += w[m] * c[m]->cover;
          node.open += w[m] * c[m]->open;
        }
        add(node);
      }
    }
  }
}

// Shares a point among the four texels around it.
void PressureField::add(const Node& node) {
  const double x = (node.uv.x() - u0_) / texel_mm_;
  const double y = (node.uv.y() - v0_) / texel_mm_;
  const int i = static_cast<int>(x);
  const int j = static_cast<int>(y);
  for (int dj = 0; dj < 2; ++dj) {
    for (int di = 0; di < 2; ++di) {
      const double wx = di == 0 ? 1 - (x - i) : x - i;
      const double wy = dj == 0 ? 1 - (y - j) : y - j;
      const auto w = static_cast<float>(wx * wy);
      Texel& texel = texels_[static_cast<std::size_t>(j + dj) * static_cast<std::size_t>(n_u_) +
                             static_cast<std::size_t>(i + di)];
      // Pressure and openness count by cover, so that they do not fade before the cover does.
      const float covered = w * static_cast<float>(node.cover);
      texel.weight += w;
      texel.value.cover += covered;
      texel.value.mmhg += covered * static_cast<float>(node.mmhg);
      texel.value.open += covered * static_cast<float>(node.open);
    }
  }
}

FieldPicture PressureField::picture() const {
  FieldPicture out{n_u_, n_v_, u0_, v0_, texel_mm_, {}};
  out.texels.reserve(texels_.size());
  for (const Texel& texel : texels_) out.texels.push_back(texel.value);
  return out;
}

PressureField::Value PressureField::at(float u, float v) const {
  const float x = (u - u0_) * static_cast<float>(1 / texel_mm_);
  const float y = (v - v0_) * static_cast<float>(1 / texel_mm_);
  if (!(x >= 0 && y >= 0 && x < static_cast<float>(n_u_ - 1) && y < static_cast<float>(n_v_ - 1))) {
    return {};
  }
  const int i = static_cast<int>(x);
  const int j = static_cast<int>(y);
  const float s = x - static_cast<float>(i);
  const float t = y - static_cast<float>(j);
  const Texel* row = &texels_[static_cast<std::size_t>(j) * static_cast<std::size_t>(n_u_) +
                              static_cast<std::size_t>(i)];
  const Texel* above = row + n_u_;
  const auto mix = [&](float Value::*what) {
    return (1 - t) * ((1 - s) * row[0].value.*what + s * row[1].value.*what) +
           t * ((1 - s) * above[0].value.*what + s * above[1].value.*what);
  };
  const float cover = mix(&Value::cover);
  if (cover <= 1e-4F) return {};
  return {mix(&Value::mmhg) / cover, cover, mix(&Value::open) / cover};
}

}  // namespace rimload
