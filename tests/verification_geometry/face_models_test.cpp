// The stored face models against published dimensions, and against their own derivation.
#include <cstdio>
#include <map>

#include "catch.hpp"
#include "derive.hpp"
#include "geometry/skin_map.hpp"
#include "stored_face.hpp"

using namespace rimload;

namespace {

struct Published {
  double mean_mm = 0;
  double sd_mm = 0;
};

// tests/data/face-dimensions.csv: rows of the evidence by measure, sex and source.
std::map<std::string, Published> published() {
  std::map<std::string, Published> table;
  std::istringstream in(stored_text("tests/data/face-dimensions.csv"));
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (const char c : line) {
      if (c == '"') {
        quoted = !quoted;
      } else if (c == ',' && !quoted) {
        cells.emplace_back();
      } else {
        cells.back() += c;
      }
    }
    REQUIRE(cells.size() == 11);
    table[cells[0] + " " + cells[3] + " " + cells[8]] = {std::stod(cells[6]), std::stod(cells[7])};
  }
  return table;
}

std::string source_of(const MeasureTarget& target) {
  return target.source.find("3DFN2016") != std::string::npos ? "3DFN2016" : "ZHUANG2005";
}

std::vector<face_models::FaceRequest> requests(double assumed_correlation) {
  return face_models::face_requests(stored_text("face-models/targets.json"), assumed_correlation);
}

}  // namespace

TEST_CASE("each face model has the dimensions it states to 0.5 mm, the reference to 1 mm") {
  for (const char* name : face_names) {
    const FaceModel face = stored_face(name);
    CHECK(face.name == name);
    CHECK(face.targets.size() >= 10);
    for (const MeasureTarget& target : face.targets) {
      INFO(name << " " << name_of(target.measure));
      const double margin = std::string(name) == "reference" ? 1 : 0.5;
      CHECK(std::abs(measure(face.landmarks, target.measure) - target.target_mm) < margin);
    }
  }
}

TEST_CASE("the mean faces have the published means of their sex, the medium one those of both") {
  const auto table = published();
  const FaceModel female = stored_face("adult-female");
  const FaceModel male = stored_face("adult-male");
  const FaceModel medium = stored_face("medium");
  for (const MeasureTarget& target : female.targets) {
    const std::string measure_name(name_of(target.measure));
    INFO(measure_name);
    const double f = table.at(measure_name + " F " + source_of(target)).mean_mm;
    const double m = table.at(measure_name + " M " + source_of(target)).mean_mm;
    CHECK(measure(female.landmarks, target.measure) == Approx(f).margin(0.5));
    CHECK(measure(male.landmarks, target.measure) == Approx(m).margin(0.5));
    CHECK(measure(medium.landmarks, target.measure) == Approx(0.5 * (f + m)).margin(0.5));
  }
}

TEST_CASE("means quoted from memory lie near the published ones of the same survey") {
  const auto table = published();
  int n_compared = 0;
  for (const auto& [key, beside] : table) {
    const std::size_t at = key.find(" NIOSH2003");
    if (at == std::string::npos) continue;
    const Published& quoted = table.at(key.substr(0, at) + " ZHUANG2005");
    INFO(key);
    ++n_compared;
    // Weighted to the population against unweighted quota sampling: farthest for nose breadth.
    CHECK(std::abs(quoted.mean_mm - beside.mean_mm) < 0.7 * quoted.sd_mm);
  }
  CHECK(n_compared == 14);
}

TEST_CASE("the five shapes span the published spread of face width and length") {
  const auto value = [](const char* name, Measure what) {
    return measure(stored_face(name).landmarks, what);
  };
  for (const Measure what : {Measure::face_width, Measure::face_length}) {
    CHECK(value("small", what) < value("adult-female", what));
    CHECK(value("large", what) > value("adult-male", what));
  }
  CHECK(value("long-narrow", Measure::face_length) > value("adult-male", Measure::face_length));
  CHECK(value("long-narrow", Measure::face_width) < value("adult-female", Measure::face_width));
  CHECK(value("short-wide", Measure::face_length) < value("adult-female", Measure::face_length));
  CHECK(value("short-wide", Measure::face_width) > value("adult-male", Measure::face_width));
}

TEST_CASE("small and large lie 1.645 SD along the size axis of width and length") {
  // By hand from the rows: pooled SDs 7.909 and 8.045 mm, correlation 0.4445; each dimension moves
  // by 1.645 sqrt((1 + r)/2) = 1.3980 of its SD.
  const FaceModel large = stored_face("large");
  CHECK(measure(large.landmarks, Measure::face_width) ==
        Approx(139.3 + 1.3980 * 7.909).margin(0.02));
  CHECK(measure(large.landmarks, Measure::face_length) ==
        Approx(118.05 + 1.3980 * 8.045).margin(0.02));
}

TEST_CASE("generating the face models again gives the stored files") {
  const FaceModel reference = stored_face("reference");
  const auto all = face_models::face_requests(stored_text("face-models/targets.json"));
  REQUIRE(all.size() == face_names.size());
  for (const auto& request : all) {
    INFO(request.name);
    const FaceModel made = face_models::make_face(reference, request);
    const FaceModel stored = stored_face(request.name);
    CHECK(made.title == stored.title);
    CHECK(made.provenance == stored.provenance);
    REQUIRE(made.targets.size() == stored.targets.size());
    for (std::size_t k = 0; k < made.targets.size(); ++k) {
      CHECK(made.targets[k].target_mm == stored.targets[k].target_mm);
      CHECK(made.targets[k].source == stored.targets[k].source);
    }
    REQUIRE(made.landmarks.size() == stored.landmarks.size());
    double worst = 0;
    for (std::size_t k = 0; k < made.landmarks.size(); ++k) {
      worst = std::max(worst, (made.landmarks[k].position_face - stored.landmarks[k].position_face)
                                  .lpNorm<Eigen::Infinity>());
      CHECK(made.landmarks[k].tissue_depth_mm == stored.landmarks[k].tissue_depth_mm);
    }
    CHECK(worst < 1e-4);  // the files round to 1e-4 mm: half of that, and the next libm's rounding
  }
}

TEST_CASE("the assumed correlations move the shapes' dimensions by less than one SD") {
  const auto table = published();
  const auto low = requests(0);
  const auto high = requests(0.5);
  for (std::size_t i = 0; i < low.size(); ++i) {
    double widest = 0;
    std::string which;
    for (std::size_t k = 0; k < low[i].targets.size(); ++k) {
      const MeasureTarget& target = low[i].targets[k];
      const std::string measure_name(name_of(target.measure));
      const double sd = table.at(measure_name + " M " + source_of(target)).sd_mm;
      const double moved = std::abs(high[i].targets[k].target_mm - target.target_mm);
      INFO(low[i].name << " " << measure_name);
      CHECK(moved < sd);
      if (moved > widest) {
        widest = moved;
        which = measure_name;
      }
    }
    std::printf("assumed correlation 0 to 0.5: %-12s at most %.2f mm (%s)\n", low[i].name.c_str(),
                widest, which.c_str());
  }
  CHECK(low[4].name == "small");
  CHECK(low[4].targets[3].target_mm > high[4].targets[3].target_mm + 0.5);  // it does move them
}

TEST_CASE("every face model's skin is smooth and passes its landmarks") {
  for (const char* name : face_names) {
    const FaceModel face = stored_face(name);
    const SkinMap skin(face.landmarks);
    INFO(name);
    double worst = 0;
    for (const Landmark& landmark : face.landmarks) {
      worst = std::max(worst, std::abs(skin.closest(landmark.position_face).distance));
    }
    CHECK(worst < 0.2);  // smoothing 0.2 mm2 of the spline
    CHECK(mirror_images(face.landmarks).has_value());
  }
}
