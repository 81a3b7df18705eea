#include <cmath>

#include "case/face_file.hpp"
#include "catch.hpp"
#include "report/face_drawing.hpp"
#include "report/heat_map.hpp"
#include "report/rim_drawing.hpp"
#include "sample_scene.hpp"

namespace rimload {
namespace {

constexpr std::array all_views{View::front, View::left, View::right};

Scene crowded() {
  Scene s = sample::scene();
  s.title =
      "A title that is far too long for two lines of the page and has to be cut somewhere, "
      "though nobody would call a case that, one hopes, in earnest or in jest";
  for (int k = 0; k < 20; ++k) {
    const double a = 0.31 * k;
    const double x = 33 * std::sin(a);
    const double y = -55 + 38 * std::cos(a);
    s.labels.push_back({"a place with a rather long name " + std::to_string(k),
                        std::to_string(10 + k) + " mmHg",
                        {x, y, front_z(*s.skin, x, y)}});
  }
  return s;
}

// Every box of text on the page.
std::vector<Box> text_boxes(const HeatMapLayout& page) {
  std::vector<Box> boxes;
  const auto add = [&](const std::vector<TextItem>& items) {
    for (const TextItem& item : items) {
      Box box = item.box();
      // The font's highest and lowest letters reach into the line spacing; what text here needs
      // is from the top of an l to the bottom of a g.
      box.top = item.pen.y() - 0.77 * item.style.size_px;
      box.bottom = item.pen.y() + 0.24 * item.style.size_px;
      boxes.push_back(box);
    }
  };
  add(page.texts);
  add(page.figure.marks);
  add(page.figure.remarks);
  add(page.legend.texts);
  for (const FigureLabel& label : page.figure.labels) add(label.lines);
  return boxes;
}

TEST_CASE("No two texts overlap and none leaves the page, however crowded") {
  Scene nothing;
  nothing.skin = &sample::face();
  for (const Scene& scene : {sample::scene(), crowded(), nothing}) {
    for (const View view : all_views) {
      const HeatMapLayout page = layout_heat_map(scene, view);
      const Box whole{40, 20, page.width_px - 40.0, page.height_px - 10.0};
      const std::vector<Box> boxes = text_boxes(page);
      for (std::size_t i = 0; i < boxes.size(); ++i) {
        CHECK(whole.holds(boxes[i]));
        for (std::size_t j = i + 1; j < boxes.size(); ++j) {
          CHECK_FALSE(boxes[i].overlaps(boxes[j]));
        }
      }
    }
  }
}

TEST_CASE("All text is at least 9 pt on A4") {
  const HeatMapLayout page = layout_heat_map(crowded(), View::front);
  const double px_per_mm = page.width_px / 190.0;  // A4 less 10 mm at either side
  const double smallest = 9 * 25.4 / 72 * px_per_mm;
  for (const auto* items : {&page.texts, &page.legend.texts, &page.figure.marks}) {
    for (const TextItem& item : *items) CHECK(item.style.size_px >= smallest);
  }
  for (const FigureLabel& label : page.figure.labels) {
    for (const TextItem& line : label.lines) CHECK(line.style.size_px >= smallest);
  }
}

TEST_CASE("Every label of the ordinary scene that is seen from the front is there") {
  const HeatMapLayout page = layout_heat_map(sample::scene(), View::front);
  std::vector<std::string> texts;
  for (const FigureLabel& label : page.figure.labels) {
    for (const TextItem& line : label.lines) texts.push_back(line.text);
  }
  const auto has = [&](const std::string& text) {
    return std::find(texts.begin(), texts.end(), text) != texts.end();
  };
  CHECK(has("nasal bridge"));
  CHECK(has("91 mmHg"));
  CHECK(has("cheek, left"));
  CHECK(has("dressing 34 x 28 mm"));
  CHECK(std::count_if(texts.begin(), texts.end(),
                      [](const std::string& t) { return t.starts_with("gap "); }) == 2);
  CHECK(page.figure.remarks.empty());
}

TEST_CASE("Of a dressing place and its mirror image one is named where both are seen") {
  Scene scene = sample::scene();
  ScenePatch twin = sample::mirrored(scene).patches[1];
  scene.patches.push_back(twin);
  const auto n_named = [&](View view) {
    const HeatMapLayout layout = layout_heat_map(scene, view);
    return std::count_if(
        layout.figure.labels.begin(), layout.figure.labels.end(),
        [&](const FigureLabel& label) { return label.lines.front().text == twin.label; });
  };
  CHECK(n_named(View::front) == 1);
  CHECK(n_named(View::left) == 1);
  CHECK(n_named(View::right) == 1);
  scene.patches.back().label = "dressing 9 x 9 mm";  // no twin any more
  CHECK(n_named(View::front) == 1);
}

TEST_CASE("Side views label their own side only") {
  for (const auto& [view, own, other] :
       {std::tuple{View::left, "left", "right"}, std::tuple{View::right, "right", "left"}}) {
    bool any_own = false;
    for (const FigureLabel& label : layout_heat_map(sample::scene(), view).figure.labels) {
      for (const TextItem& line : label.lines) {
        CHECK(line.text.find(other) == std::string::npos);
        any_own = any_own || line.text.find(own) != std::string::npos;
      }
    }
    CHECK(any_own);
  }
}

TEST_CASE("The wearer's left is on the right of the front view and the nose leads in side views") {
  Camera camera;
  CHECK(camera.project({10, 0, 0}).x() > camera.project({0, 0, 0}).x());
  camera.view = View::left;
  CHECK(camera.project({0, 0, 10}).x() < camera.project({0, 0, 0}).x());
  CHECK(camera.project({10, 0, 0}).z() > camera.project({0, 0, 0}).z());
  camera.view = View::right;
  CHECK(camera.project({0, 0, 10}).x() > camera.project({0, 0, 0}).x());
  CHECK(camera.project({10, 0, 0}).z() < camera.project({0, 0, 0}).z());
  for (const View view : all_views) {
    Camera upright{.view = view};
    CHECK(upright.project({0, 10, 0}).y() < upright.project({0, 0, 0}).y());
  }
}

TEST_CASE("The same scene gives the same pixels") {
  for (const View view : all_views) {
    const Image once = draw_heat_map(sample::scene(), view);
    const Image again = draw_heat_map(sample::scene(), view);
    CHECK(once.rgb == again.rgb);
  }
}

// Mean and largest difference of brightness between a picture and the mirror image of another.
struct Difference {
  double mean = 0;
  int n_large = 0;
};
Difference to_mirror_image(const Image& a, const Image& b) {
  Difference d;
  for (int y = 0; y < a.height; ++y) {
    for (int x = 0; x < a.width; ++x) {
      const int difference = std::abs(a.at(x, y).g - b.at(a.width - 1 - x, y).g);
      d.mean += difference;
      d.n_large += difference > 24 ? 1 : 0;
    }
  }
  d.mean /= a.width * a.height;
  return d;
}

Image face_only(const Scene& scene, View view) {
  Image image(700, 900, palette::paper);
  Camera camera;
  camera.view = view;
  camera.px_per_mm = 4.5;
  camera.centre_px = {350, 450};
  camera.centre_sight = {view == View::left ? 22.0 : view == View::right ? -22.0 : 0.0, -33};
  draw_face(image, {0, 0, 700, 900}, scene, camera, ColourScale(100));
  return image;
}

TEST_CASE("A mirrored scene gives the mirrored face") {
  Scene scene = sample::scene();
  for (SceneStation& s : scene.stations) s.open = false;  // hatching leans the same way on both
  const Scene mirror = sample::mirrored(scene);
  // Samples of a pixel are not symmetric, and edges round to 1/16 px: a few pixels on edges
  // differ by more than a tenth of the range, 0.2 % of the picture at most.
  const std::array<std::pair<View, View>, 2> pairs{
      {{View::front, View::front}, {View::left, View::right}}};
  for (const auto& [view, other] : pairs) {
    const Difference d = to_mirror_image(face_only(scene, view), face_only(mirror, other));
    CHECK(d.mean < 0.2);
    CHECK(d.n_large < 0.002 * 700 * 900);
  }
  // The test can fail: the scene itself is not symmetric.
  CHECK(to_mirror_image(face_only(scene, View::front), face_only(scene, View::front)).mean > 0.4);
}

TEST_CASE("Pressure colours on the face can be read back from the scale") {
  Scene scene = sample::scene();
  scene.straps.clear();
  scene.patches.clear();
  for (SceneStation& s : scene.stations) {
    s.open = false;
    std::fill(s.pressure_mmhg.begin(), s.pressure_mmhg.end(), 50.0);
  }
  const Image image = face_only(scene, View::front);
  const Vec3 meant = oklab(ColourScale(100).at(50));
  const Camera camera{.px_per_mm = 4.5, .centre_px = {350, 450}, .centre_sight = {0, -33}};
  int n_read = 0;
  for (std::size_t k = 0; k < scene.stations.size(); k += 8) {
    const Vec3 p = camera.project(scene.stations[k].points[5]);  // beside the line of the rim
    const Rgb seen = image.at(static_cast<int>(p.x()), static_cast<int>(p.y()));
    // A seventh of the skin's shading is kept and the rim's glass lies over it: up to 8 mmHg
    // worth of colour (one mmHg is 0.0085 in OKLab).
    n_read += (oklab(seen) - meant).norm() < 0.07 ? 1 : 0;
  }
  CHECK(n_read >= 25);  // of 30: lines of the rim cross the rest
}

TEST_CASE("Scenes with little or nothing in them can be drawn") {
  for (const View view : all_views) {
    CHECK(draw_heat_map(Scene{}, view).width == 1400);
    Scene bare;
    bare.skin = &sample::face();
    const Image face = draw_heat_map(bare, view, {.width_px = 900});
    CHECK(face.width == 900);
    CHECK_FALSE(face.at(450, 500) == palette::paper);
    bare.stations.resize(3);  // without samples
    bare.straps.resize(1);
    bare.patches.resize(1);
    CHECK(draw_heat_map(bare, view, {.width_px = 900}).rgb.size() > 0);
  }
}

TEST_CASE("Neighbouring open stations make one gap, also across the first") {
  std::vector<SceneStation> stations(20);
  for (const std::size_t k : {0, 1, 19, 8, 9, 12}) {
    stations[k].open = true;
    stations[k].gap_mm = static_cast<double>(k);
  }
  const auto runs = gap_runs(stations, 2);
  REQUIRE(runs.size() == 3);
  CHECK((runs[0].first == 8 && runs[0].n_stations == 2 && runs[0].gap_mm == 9));
  CHECK((runs[1].first == 12 && runs[1].n_stations == 1));
  CHECK((runs[2].first == 19 && runs[2].n_stations == 3 && runs[2].gap_mm == 19));
  CHECK(gap_runs(stations, 3).size() == 2);
  for (SceneStation& s : stations) s.open = true;
  CHECK(gap_runs(stations).front().n_stations == 20);
}

TEST_CASE("The legend names the highest pressure when it exceeds the scale") {
  Scene scene = sample::scene();
  scene.stations[3].pressure_mmhg[3] = 143;
  const HeatMapLayout page = layout_heat_map(scene, View::front);
  CHECK(std::any_of(page.legend.texts.begin(), page.legend.texts.end(), [](const TextItem& t) {
    return t.text.find("143 mmHg") != std::string::npos;
  }));
}

TEST_CASE("The legend says what the numbers beside the face are, where there are any") {
  const auto says = [](const Scene& scene) {
    const HeatMapLayout page = layout_heat_map(scene, View::front);
    return std::any_of(page.legend.texts.begin(), page.legend.texts.end(), [](const TextItem& t) {
      return t.text == "Numbers: largest mean over 1 cm\u00b2";
    });
  };
  Scene scene = sample::scene();
  CHECK(says(scene));
  scene.labels.clear();
  CHECK_FALSE(says(scene));
}

TEST_CASE("The lower edge of the face is smooth: no bite out of the chin") {
  for (const char* name : {"reference", "adult-female", "adult-male", "small", "large"}) {
    const auto model = face_model_named(name);
    REQUIRE(model);
    INFO(name);
    const SkinMap map(model->landmarks);
    Scene scene;
    scene.skin = &map;
    scene.chin_end_mm = find_landmark(model->landmarks, "menton", Side::midline).position_face.y();
    const Image image = face_only(scene, View::front);
    const auto cover = [&](int x, int y) { return 255 - image.at(x, y).b; };
    // From the lip down the skin fades once and does not come back.
    for (int x = 350 - 60; x <= 350 + 60; x += 5) {
      int y = 700;
      while (y < 899 && cover(x, y) > 3) ++y;
      for (; y < 899; ++y) CHECK(cover(x, y) <= 6);
    }
    // Its end is as low in the middle as at either side, to 5 mm.
    const auto end = [&](int x) {
      int y = 899;
      while (y > 0 && cover(x, y) < 12) --y;
      return y;
    };
    for (int x = 350 - 90; x <= 350 + 90; x += 5) CHECK(std::abs(end(x) - end(350)) < 5 * 4.5);
  }
}

TEST_CASE("Neither tube nor strap reaches into the labels, however thick") {
  Scene scene;
  scene.skin = &sample::face();
  scene.straps = sample::scene().straps;
  SceneTube tube;
  tube.width_mm = 8;  // the thickest, 24 Fr
  for (double u = 20; u <= 140; u += 4) tube.points.push_back(sample::face().point({u, -40}));
  scene.tube = tube;
  const auto is_tube = [](Rgb c) { return c == palette::tube || c == palette::tube_edge; };
  for (const View view : all_views) {
    const PixelRect face = layout_heat_map(scene, view).figure.face;
    const Image image = draw_heat_map(scene, view);
    int n_stray = 0;
    int n_tube = 0;
    const int below_marks = face.top + 110;
    for (int y = below_marks; y < face.bottom; ++y) {
      for (int x = 0; x < image.width; ++x) {
        const bool in_face = x >= face.left && x < face.right;
        n_stray += !in_face && !(image.at(x, y) == palette::paper) ? 1 : 0;
        const bool beside_labels = x < face.left + 8 || x >= face.right - 8;
        n_stray += beside_labels && is_tube(image.at(x, y)) ? 1 : 0;
        n_tube += is_tube(image.at(x, y)) ? 1 : 0;
      }
    }
    CHECK(n_stray == 0);
    CHECK((view == View::right || n_tube > 1000));
  }
}

TEST_CASE("kPa and mmHg of the legend agree") {
  const HeatMapLayout page = layout_heat_map(sample::scene(), View::front);
  const Box& bar = page.legend.bar;
  // 12 kPa = 90.01 mmHg of 100.
  const double x = bar.left + 0.9001 * bar.width();
  CHECK(std::any_of(page.legend.ticks.begin(), page.legend.ticks.end(),
                    [&](const LegendTick& t) { return t.above && std::abs(t.x_px - x) < 0.5; }));
  CHECK(round_ticks(100, 6) == std::vector<double>{0, 20, 40, 60, 80, 100});
  CHECK(round_ticks(7, 5).back() == Approx(6));
}

}  // namespace
}  // namespace rimload
