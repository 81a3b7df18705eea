#include "report/figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/face_drawing.hpp"
#include "report/leak_drawing.hpp"
#include "report/rim_drawing.hpp"
#include "report/stroke.hpp"

namespace rimload {

namespace {

// All in units.
constexpr double px_per_mm = 4.9;
constexpr double height_mm = 197;
constexpr double middle_height_mm = -33;
constexpr double side_middle_mm = 22;  // of a side view: this far behind sellion
constexpr double column = 262;
constexpr double mark_height = 96;
constexpr double leader_gap = 10;  // between text and the start of its leader

struct Note {
  std::string name;   // may wrap, empty for none
  std::string value;  // one line, empty for none
  Rgb colour;
  Vec2 anchor;
};

// How labels are set: roomy, or closer when not all would fit on their own side.
struct Setting {
  double value_size;
  double gap;
};
constexpr Setting roomy{29, 16};
constexpr Setting close{24, 7};

// The corner of an outline that is farthest to the side on which the outline lies.
Vec2 outermost(const std::vector<Vec2>& outline, double middle) {
  double sum = 0;
  for (const Vec2& p : outline) sum += p.x() - middle;
  const auto less = [&](const Vec2& a, const Vec2& b) {
    return sum < 0 ? a.x() > b.x() : a.x() < b.x();
  };
  return *std::max_element(outline.begin(), outline.end(), less);
}

void add_sites(const Scene& scene, const Camera& camera, std::vector<Note>& notes) {
  for (const SceneLabel& label : scene.labels) {
    if (!is_visible(*scene.skin, label.anchor, camera.view)) continue;
    notes.push_back(
        {label.text, label.value, palette::ink, camera.project(label.anchor).head<2>()});
  }
}

void add_gaps(const Scene& scene, const Camera& camera, std::size_t most,
              std::vector<Note>& notes) {
  std::vector<GapRun> runs = gap_runs(scene.stations);
  std::stable_sort(runs.begin(), runs.end(), [](const GapRun& a, const GapRun& b) {
    return a.gap_mm * static_cast<double>(a.n_stations) >
           b.gap_mm * static_cast<double>(b.n_stations);
  });
  runs.resize(std::min(runs.size(), most));
  for (const GapRun& run : runs) {
    const std::size_t n = scene.stations.size();
    const SceneStation& middle = scene.stations[(run.first + run.n_stations / 2) % n];
    if (middle.points.empty()) continue;
    const Vec3& point = middle.points[middle.points.size() / 2];
    if (!is_visible(*scene.skin, point, camera.view)) continue;
    const std::string value =
        run.gap_mm < 0.1 ? "gap under 0.1 mm" : fmt::format("gap {:.1f} mm", run.gap_mm);
    notes.push_back({"", value, palette::ink, camera.project(point).head<2>()});
  }
}

void add_injuries(const Scene& scene, const Camera& camera, std::vector<Note>& notes) {
  for (const SceneInjury& injury : scene.injuries) {
    const std::vector<Vec3>& line = injury.hatch[injury.hatch.size() / 2];
    const Vec3& middle = line[line.size() / 2];
    if (!is_visible(*scene.skin, middle, camera.view)) continue;
    notes.push_back({injury.label, "", palette::alarm, camera.project(middle).head<2>()});
  }
}

// Of a place and its mirror image only the wearer's left one is named where both are seen.
bool is_twin(const ScenePatch& patch, const Scene& scene) {
  const auto middle = [](const ScenePatch& each) {
    Vec3 sum = Vec3::Zero();
    for (const Vec3& p : each.outline) sum += p;
    return Vec3(sum / static_cast<double>(std::max<std::size_t>(1, each.outline.size())));
  };
  constexpr double alike_mm = 3;
  const Vec3 here = middle(patch);
  const Vec3 mirrored(-here.x(), here.y(), here.z());
  return here.x() < -alike_mm &&
         std::any_of(scene.patches.begin(), scene.patches.end(), [&](const ScenePatch& other) {
           return other.label == patch.label && (middle(other) - mirrored).norm() < alike_mm;
         });
}

void add_patches(const Scene& scene, const Camera& camera, std::vector<Note>& notes) {
  for (const ScenePatch& patch : scene.patches) {
    if (patch.label.empty()) continue;
    if (camera.view == View::front && is_twin(patch, scene)) continue;
    std::vector<Vec2> seen;
    for (const Vec3& p : patch.outline) {
      if (is_visible(*scene.skin, p, camera.view)) seen.emplace_back(camera.project(p).head<2>());
    }
    if (2 * seen.size() < patch.outline.size() || seen.empty()) continue;
    notes.push_back({patch.label, "", palette::dressing, outermost(seen, camera.centre_px.x())});
  }
}

void add_jets(const Scene& scene, const Camera& camera, std::vector<Note>& notes) {
  for (const SceneJet& jet : scene.jets) {
    if (jet.label.empty() || !shows(camera.view, jet, *scene.skin)) continue;
    notes.push_back({jet.label, "", palette::jet, jet_anchor(jet, camera)});
  }
}

// The lines of a label, from the top of a box downwards, towards the figure.
FigureLabel label_of(const Note& note, const Box& box, Column side, const Setting& setting,
                     double unit) {
  const TextStyle name{24 * unit, note.value.empty() ? Weight::semibold : Weight::regular,
                       note.value.empty() ? note.colour : palette::soft_ink};
  const TextStyle value{setting.value_size * unit, Weight::semibold, note.colour};
  FigureLabel label;
  label.anchor = note.anchor;
  label.box = {box.right, box.top, box.left, box.top};
  const auto add = [&](const std::string& text, const TextStyle& style) {
    const double left = side == Column::left ? box.right - text_width(text, style) : box.left;
    label.lines.push_back({text, style, {left, label.box.bottom + 0.92 * style.size_px}});
    label.box.left = std::min(label.box.left, left);
    label.box.right = std::max(label.box.right, left + text_width(text, style));
    label.box.bottom += 1.2 * style.size_px;
  };
  for (const std::string& line : wrapped(note.name, name, box.width(), 2)) add(line, name);
  if (!note.value.empty()) add(shortened(note.value, value, box.width()), value);
  label.leader_start = {
      side == Column::left ? box.right + leader_gap * unit : box.left - leader_gap * unit,
      0.5 * (label.box.top + label.box.bottom)};
  return label;
}

// Which side is which.
std::vector<TextItem> marks_of(View view, const Box& box, double unit) {
  const TextStyle big{46 * unit, Weight::semibold, palette::ink};
  const TextStyle small{24 * unit, Weight::regular, palette::soft_ink};
  std::vector<TextItem> marks;
  const auto add = [&](Column side, const std::string& letter, const std::string& words) {
    const auto put = [&](const std::string& text, const TextStyle& style, double baseline) {
      const double x = side == Column::left ? box.left : box.right - text_width(text, style);
      if (!text.empty()) marks.push_back({text, style, {x, box.top + baseline * unit}});
    };
    put(letter, big, 42);
    put(words, small, 76);
  };
  switch (view) {
    case View::front:
      add(Column::left, "R", "wearer\u2019s right");
      add(Column::right, "L", "wearer\u2019s left");
      break;
    case View::left:
      add(Column::left, "", "nose this way");
      add(Column::right, "", "back of the head");
      break;
    case View::right:
      add(Column::left, "", "back of the head");
      add(Column::right, "", "nose this way");
      break;
  }
  return marks;
}

}  // namespace

double figure_height(double unit_px) { return px_per_mm * height_mm * unit_px; }

Figure layout_figure(const Scene& scene, View view, const Box& box, FigureOptions options) {
  const double unit = options.unit_px;
  Figure figure;
  figure.camera.view = view;
  figure.camera.px_per_mm = px_per_mm * unit;
  figure.camera.centre_px = box.centre();
  figure.camera.centre_sight = {view == View::front  ? 0
                                : view == View::left ? side_middle_mm
                                                     : -side_middle_mm,
                                middle_height_mm};
  figure.face = {static_cast<int>(std::ceil(box.left + column * unit)),
                 static_cast<int>(std::ceil(box.top)), static_cast<int>(box.right - column * unit),
                 static_cast<int>(box.bottom)};
  figure.marks = marks_of(view, box, unit);
  if (scene.skin == nullptr) return figure;

  std::vector<Note> notes;
  add_injuries(scene, figure.camera, notes);
  add_jets(scene, figure.camera, notes);
  add_sites(scene, figure.camera, notes);
  add_gaps(scene, figure.camera, options.most_gap_labels, notes);
  add_patches(scene, figure.camera, notes);
  const double top = box.top + mark_height * unit;
  const double bottom = box.bottom - 40 * unit;  // room for a remark
  const Box left{box.left, top, box.left + column * unit, bottom};
  const Box right{box.right - column * unit, top, box.right, bottom};
  const auto place = [&](const Setting& setting) {
    std::vector<LabelWish> wishes;
    for (const Note& note : notes) {
      const Box box_needed = label_of(note, left, Column::left, setting, unit).box;
      wishes.push_back({note.anchor, box_needed.height()});
    }
    return place_labels(wishes, left, right, setting.gap * unit, figure.camera.centre_px.x());
  };
  const auto n_across_the_face = [&](const LabelLayout& layout) {
    return std::count_if(layout.places.begin(), layout.places.end(), [&](const LabelPlace& each) {
      const double off = notes[each.wish].anchor.x() - figure.camera.centre_px.x();
      return std::abs(off) > 20 * unit && (off < 0) != (each.column == Column::left);
    });
  };
  Setting setting = roomy;
  LabelLayout placed = place(setting);
  if (!placed.left_out.empty() || n_across_the_face(placed) > 0) {
    LabelLayout closer = place(close);
    if (closer.left_out.size() < placed.left_out.size() ||
        n_across_the_face(closer) < n_across_the_face(placed)) {
      setting = close;
      placed = std::move(closer);
    }
  }
  for (const LabelPlace& label : placed.places) {
    Box at = label.column == Column::left ? left : right;
    at.top = label.top_px;
    figure.labels.push_back(label_of(notes[label.wish], at, label.column, setting, unit));
  }
  if (!placed.left_out.empty()) {
    const TextStyle style{24 * unit, Weight::regular, palette::soft_ink};
    figure.remarks.push_back({fmt::format("{} more: see the result", placed.left_out.size()),
                              style,
                              {box.left, box.bottom - 8 * unit}});
  }
  return figure;
}

void draw_figure(Image& image, const Figure& figure, const Scene& scene, const ColourScale& scale,
                 double unit_px) {
  draw_face(image, figure.face, scene, figure.camera, scale);
  const auto flat = [](const Vec2& p) { return Vec3(p.x(), p.y(), 0); };
  for (const FigureLabel& label : figure.labels) {
    const StrokePath leader{flat(label.leader_start), flat(label.anchor)};
    draw_stroke(image, leader,
                {.width_px = 4.5 * unit_px, .colour = palette::paper, .cover = 0.75});
    draw_stroke(image, leader, {.width_px = 1.8 * unit_px, .colour = palette::leader});
  }
  for (const FigureLabel& label : figure.labels) {
    draw_dot(image, label.anchor, 6.5 * unit_px, palette::paper);
    draw_dot(image, label.anchor, 4.5 * unit_px, palette::ink);
    for (const TextItem& line : label.lines) draw_text(image, line);
  }
  for (const TextItem& item : figure.marks) draw_text(image, item);
  for (const TextItem& item : figure.remarks) draw_text(image, item);
}

}  // namespace rimload
