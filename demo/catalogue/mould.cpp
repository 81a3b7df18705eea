#include "mould.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "geometry/skin_map.hpp"

namespace rimload {

namespace {

using Json = nlohmann::ordered_json;

double rounded(double value) { return std::round(value * 1000) / 1000 + 0.0; }

Json point(const Vec3& p) { return {rounded(p.x()), rounded(p.y()), rounded(p.z())}; }

struct Scale {
  double x, y;
};

Json scaled(const Json& p, const Scale& scale) {
  return point({p[0].get<double>() * scale.x, p[1].get<double>() * scale.y, p[2].get<double>()});
}

// From the apex [mm].
Json pad_centre(const Json& pad, const Json& apex, const Scale& scale, const SkinMap& skin) {
  const double apex_y = apex["y_mm"];
  const double y = apex_y + (pad.at("y_mm").get<double>() - apex_y) * scale.y;
  const Vec3 on_rim(0, apex_y, front_z(skin, 0, apex_y) - apex.value("proud_mm", 0.0));
  return point(Vec3(0, y, front_z(skin, 0, y) - pad.value("proud_mm", 0.0)) - on_rim);
}

Json traced_rim(const Json& outline, const Scale& scale, const SkinMap& skin, double follow) {
  const double apex_y = outline[0]["y_mm"];
  Json rim = Json::array();
  Vec3 apex = Vec3::Zero();
  for (const Json& at : outline) {
    const double x = at["x_mm"].get<double>() * scale.x;
    const double y = apex_y + (at["y_mm"].get<double>() - apex_y) * scale.y;
    Vec3 p(x, y, front_z(skin, x, y));
    Vec3 axis = (follow * skin.normal(SkinMap::chart(p)) + (1 - follow) * Vec3::UnitZ());
    if (x == 0) axis.x() = 0;
    p.z() -= at.value("proud_mm", 0.0);
    if (rim.empty()) apex = p;
    Json row{{"at_mm", point(p - apex)}, {"axis", point(axis.normalized())}};
    if (at.contains("stiffness_factor")) row["stiffness_factor"] = at["stiffness_factor"];
    rim.push_back(std::move(row));
  }
  return rim;
}

}  // namespace

std::string mould_catalogue(const std::string& moulds,
                            const std::function<FaceModel(const std::string&)>& face_named) {
  const Json input = Json::parse(moulds);
  const double follow = input.at("axis_follow");
  Json out{{"rimload_catalogue", 1},
           {"about", input.at("catalogue_about")},
           {"cushions", Json::array()}};
  for (const Json& mould : input.at("cushions")) {
    Json cushion = mould;
    const Json outline = cushion.at("outline");
    cushion.erase("outline");
    const bool padded = mould.contains("forehead_pad");
    if (padded) {
      cushion["forehead_pad"].erase("y_mm");
      cushion["forehead_pad"].erase("proud_mm");
    }
    for (Json& size : cushion.at("sizes")) {
      const Scale scale{size.at("scale_x"), size.at("scale_y")};
      size.erase("scale_x");
      size.erase("scale_y");
      const SkinMap skin(face_named(size.at("design_face")).landmarks);
      size["apex_below_sellion_mm"] = -outline[0]["y_mm"].get<double>();
      size["rim"] = traced_rim(outline, scale, skin, follow);
      if (padded) {
        const Json centre = pad_centre(mould["forehead_pad"], outline[0], scale, skin);
        size["pad_centre_mm"] = centre;
        cushion["forehead_pad"]["centre_mm"] = centre;  // as in the last size
      }
      Json anchors = Json::object();
      for (const Json& strap : cushion.at("straps")) {
        anchors[strap.at("name").get<std::string>()] = scaled(strap.at("anchor_mm"), scale);
      }
      size["strap_anchors_mm"] = std::move(anchors);
      Json masses = Json::array();
      for (const Json& mass : cushion.at("masses")) {
        masses.push_back(
            {{"point_mm", scaled(mass.at("point_mm"), scale)}, {"mass_kg", mass.at("mass_kg")}});
      }
      size["masses"] = std::move(masses);
    }
    out["cushions"].push_back(std::move(cushion));
  }
  return out.dump(1) + "\n";
}

}  // namespace rimload
