#include "report/scene_of_estimate.hpp"

#include <algorithm>

#include "catch.hpp"
#include "fit/fit.hpp"
#include "report/heat_map.hpp"
#include "report/leak_drawing.hpp"
#include "reported_cases.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

namespace rimload {
namespace {

constexpr std::array all_views{View::front, View::left, View::right};

// The text of a label without its line breaks.
std::string text_of(const FigureLabel& label) {
  std::string out;
  for (const TextItem& line : label.lines) out += (out.empty() ? "" : " ") + line.text;
  return out;
}

// Views whose picture names a jet.
int n_views_naming(const Scene& scene, const SceneJet& jet) {
  return static_cast<int>(std::count_if(all_views.begin(), all_views.end(), [&](View view) {
    const Figure figure = layout_heat_map(scene, view).figure;
    return shows(view, jet, *scene.skin) &&
           std::any_of(figure.labels.begin(), figure.labels.end(),
                       [&](const FigureLabel& label) { return text_of(label) == jet.label; });
  }));
}

Estimate estimate_of(const CaseWords& words) { return estimate_fit(case_of(words)); }

const SceneJet* jet_named(const Scene& scene, const std::string& words) {
  for (const SceneJet& jet : scene.jets) {
    if (jet.label.find(words) != std::string::npos) return &jet;
  }
  return nullptr;
}

TEST_CASE("the largest jet and every jet at an eye are named in some view") {
  int n_cases = 0;
  for (const auto& [what, estimate] : reported_cases()) {
    const std::vector<LeakSegment>& segments = estimate.phases.back().leak.segments;
    if (segments.empty()) continue;
    ++n_cases;
    INFO(what);
    const Scene scene = scene_of(estimate);
    const auto largest =
        std::max_element(segments.begin(), segments.end(),
                         [](const auto& a, const auto& b) { return a.flow < b.flow; });
    for (const LeakSegment& segment : segments) {
      if (&segment != &*largest && !is_at_eye(segment.direction)) continue;
      const auto jet =
          std::find_if(scene.jets.begin(), scene.jets.end(), [&](const SceneJet& each) {
            return each.from == segment.at_face && each.towards == segment.towards;
          });
      REQUIRE(jet != scene.jets.end());
      CHECK(n_views_naming(scene, *jet) >= 1);
    }
  }
  CHECK(n_cases >= 5);
}

TEST_CASE("jets at the eyes are shown before larger ones, and a tube's is not lost") {
  Estimate estimate = estimate_of({.settings = R"({"cpap_cmH2O": 10})"});
  std::vector<LeakSegment>& segments = estimate.phases.back().leak.segments;
  segments.clear();
  const auto add = [&](JetDirection direction, LeakCause cause, double l_min) {
    LeakSegment segment;
    segment.direction = direction;
    segment.cause = cause;
    segment.flow = units::from_l_per_min(l_min);
    segment.at_face = estimate.face.skin.point({30, -40 - l_min});
    segment.towards = Vec3::UnitX();
    segments.push_back(segment);
  };
  // In the order in which leaks are listed.
  add(JetDirection::left_eye, LeakCause::fit, 2);
  add(JetDirection::right_eye, LeakCause::fit, 1.5);
  for (int k = 0; k < 6; ++k) add(JetDirection::cheek, LeakCause::beard, 20 - k);
  add(JetDirection::cheek, LeakCause::tube, 1);
  const Scene scene = scene_of(estimate);
  std::vector<std::string> labels;
  for (const SceneJet& jet : scene.jets) labels.push_back(jet.label);
  CHECK(labels == std::vector<std::string>{"leak 2.0 L/min to the left eye",
                                           "leak 1.5 L/min to the right eye", "leak 20.0 L/min",
                                           "leak 19.0 L/min", "leak 18.0 L/min", "leak 17.0 L/min",
                                           "leak 1.0 L/min beside the tube"});
}

TEST_CASE("gas that leaves by the mouth under a nasal mask is shown where it leaves") {
  const Estimate estimate =
      estimate_of({.cushion = "demo-nasal", .rest = R"("mouth": "mouth_breather")"});
  REQUIRE(estimate.phases.back().leak.mouth > units::from_l_per_min(10));
  const Scene scene = scene_of(estimate);
  const SceneJet* jet = jet_named(scene, "out of the mouth");
  REQUIRE(jet != nullptr);
  CHECK(jet->flow_l_min == Approx(units::to_l_per_min(estimate.phases.back().leak.mouth)));
  CHECK(jet == &scene.jets.front());
  CHECK(n_views_naming(scene, *jet) == 3);
  const Scene closed = scene_of(estimate_of({.cushion = "demo-nasal"}));
  CHECK(jet_named(closed, "out of the mouth") == nullptr);
}

TEST_CASE("what leaks at a tube's port is shown beside the tube") {
  Case input =
      case_of({.rest = R"("tube": {"kind": "nasogastric", "side": "left", "size_Fr": 12})"});
  input.tube->through_port = true;
  const Estimate estimate = estimate_fit(input);
  REQUIRE(estimate.phases.back().leak.port > 0);
  const Scene scene = scene_of(estimate);
  const SceneJet* jet = jet_named(scene, "port");
  REQUIRE(jet != nullptr);
  CHECK(jet->from.x() > 20);
  CHECK(n_views_naming(scene, *jet) >= 1);
}

TEST_CASE("injured skin is hatched, named and comes first of what to stop for") {
  const Estimate estimate = estimate_fit(demo_case("injured-skin"));
  const Scene scene = scene_of(estimate);
  REQUIRE(scene.injuries.size() == 1);  // the ear has no place on the map
  const SceneInjury& injury = scene.injuries.front();
  CHECK(injury.label == "injured: nasal bridge");
  CHECK(injury.hatch.size() > 4);
  double highest = -1e9;
  double lowest = 1e9;
  for (const std::vector<Vec3>& line : injury.hatch) {
    for (const Vec3& p : line) {
      CHECK(estimate.face.site_of(p).site == Site::nasal_bridge);
      highest = std::max(highest, p.y());
      lowest = std::min(lowest, p.y());
    }
  }
  CHECK(highest - lowest > 15);  // all of the site and not a corner of it

  REQUIRE(scene.stops.size() == 4);
  CHECK(scene.stops[0].find("nasal bridge") != std::string::npos);
  CHECK(scene.stops[0].find("Take the load off") != std::string::npos);
  CHECK(scene.stops[1].find("top of the ear (left)") != std::string::npos);
  const HeatMapLayout page = layout_heat_map(scene, View::front);
  const auto n_stops = std::count_if(page.texts.begin(), page.texts.end(),
                                     [](const TextItem& item) { return item.text == "Stop"; });
  CHECK(n_stops == 4);
  CHECK(std::any_of(page.figure.labels.begin(), page.figure.labels.end(),
                    [&](const FigureLabel& label) { return text_of(label) == injury.label; }));
  const Scene sound = scene_of(estimate_of({.rest = R"("safety": {"skin_checked": true})"}));
  CHECK(sound.injuries.empty());
  CHECK(sound.stops.empty());
}

TEST_CASE("no label of the demonstration cases stands across the face from its place") {
  for (const auto& [what, estimate] : reported_cases()) {
    if (what.size() > 40) continue;  // random cases can be fuller than both columns
    INFO(what);
    const Figure figure = layout_heat_map(scene_of(estimate), View::front).figure;
    CHECK_FALSE(figure.labels.empty());
    const double middle = figure.camera.centre_px.x();
    for (const FigureLabel& label : figure.labels) {
      const double off = label.anchor.x() - middle;
      INFO(text_of(label));
      CHECK((std::abs(off) <= 20 || (off < 0) == (label.leader_start.x() < middle)));
    }
  }
}

TEST_CASE("a strap that begins off the mask is held by an arm from the rim, another is not") {
  const auto n_arms = [](const char* cushion) {
    const Scene scene = scene_of(estimate_of({.cushion = cushion}));
    int n = 0;
    for (const SceneStrap& strap : scene.straps) {
      if (strap.arm.empty()) continue;
      ++n;
      CHECK(strap.arm.back() == strap.points.front());
      const bool on_rim = std::any_of(
          scene.stations.begin(), scene.stations.end(),
          [&](const SceneStation& station) { return station.rim == strap.arm.front(); });
      CHECK(on_rim);
    }
    return n;
  };
  CHECK(n_arms("demo-nasal") == 2);  // the upper ones
  CHECK(n_arms("demo-below-nose") == 0);
}

TEST_CASE("a jet that no side shows is shown from the front, and one seen end on is no arrow") {
  const Estimate estimate = estimate_of({});
  const SkinMap& skin = estimate.face.skin;
  const auto n_shown = [&](const SceneJet& jet) {
    return std::count_if(all_views.begin(), all_views.end(),
                         [&](View view) { return shows(view, jet, skin); });
  };
  // Inside the head: seen from nowhere.
  CHECK(n_shown({{0, -94, -30}, Vec3::UnitX(), 1, ""}) == 1);
  CHECK(shows(View::front, {{0, -94, -30}, Vec3::UnitX(), 1, ""}, skin));
  CHECK_FALSE(shows(View::right, {skin.point({50, -50}), Vec3::UnitX(), 1, ""}, skin));

  Scene scene;
  scene.skin = &skin;
  const Vec3 lips = skin.point({0, -70});
  const auto blue_at = [&](const Vec3& towards) {
    scene.jets = {{lips, towards, 1, ""}};
    const Image image = draw_heat_map(scene, View::front);
    const Vec2 at = layout_heat_map(scene, View::front).figure.camera.project(lips).head<2>();
    int n = 0;
    for (int y = -24; y <= 24; ++y) {
      for (int x = -24; x <= 24; ++x) {
        n += image.at(static_cast<int>(at.x()) + x, static_cast<int>(at.y()) + y) == palette::jet;
      }
    }
    return n;
  };
  CHECK(blue_at(Vec3::UnitZ()) > 300);  // a ring and a dot: (3.6^2 - 2.5^2 + 1.2^2) pi mm2
  CHECK(blue_at(Vec3::UnitZ()) < 700);
}

}  // namespace
}  // namespace rimload
