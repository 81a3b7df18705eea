#include "case/dressing_catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <set>
#include <utility>

#include "case/entry_name.hpp"
#include "case/json_place.hpp"
#include "case/json_text.hpp"
#include "case/nearest_name.hpp"
#include "case/schema.hpp"
#include "units/error.hpp"
#include "units/units.hpp"

namespace rimload {

namespace {

constexpr std::array dressing_kinds{DressingKind::hydrocolloid, DressingKind::foam,
                                    DressingKind::hydrogel, DressingKind::film,
                                    DressingKind::barrier_film};

DressingKind dressing_kind_named(const std::string& name) {
  for (const DressingKind kind : dressing_kinds) {
    if (name_of(kind) == name) return kind;
  }
  return DressingKind::hydrocolloid;
}

// As in the reader of cushions: what is at fault by the schema is read as if it were absent.
class DressingReader {
 public:
  DressingReader(const std::string& file, std::vector<Fault>& faults, bool has_currency)
      : file_(file), faults_(faults), has_currency_(has_currency) {}

  Dressing read(const JsonPlace& place) {
    Dressing out;
    check_dressing_name(place["name"]);
    out.name = place["name"].text().value_or("");
    out.kind = dressing_kind_named(place["kind"].text().value_or(""));
    out.thickness_mm = place["thickness_mm"].number().value_or(0);
    read_stiffness(place, out);
    out.friction_on_cushion = place["friction_on_cushion"].number().value_or(0);
    out.friction_on_skin = place["friction_on_skin"].number().value_or(0);
    out.sticks_to_skin = place["sticks_to_skin"].truth().value_or(false);
    out.cut_to_size = place["cut_to_size"].truth().value_or(false);
    out.wear_h = place["wear_h"].number().value_or(0);
    read_sizes(place["sizes"], out);
    check_range(place["recalled_range"]["thickness_mm"], "mm");
    check_range(place["recalled_range"]["modulus_kPa"], "kPa");
    return out;
  }

 private:
  void fault(const JsonPlace& place, std::string message) {
    faults_.push_back({file_, place.pointer(), std::move(message)});
  }

  void check_dressing_name(const JsonPlace& place) {
    const auto name = place.text();
    if (!name) return;
    if (auto wrong = fault_of_name(*name, names_)) fault(place, std::move(*wrong));
  }

  void read_stiffness(const JsonPlace& place, Dressing& out) {
    const double dry_kpa = place["modulus_dry_kPa"].number().value_or(0);
    const double moist_kpa = place["modulus_moist_kPa"].number().value_or(0);
    const JsonPlace shear = place["shear_modulus_dry_kPa"];
    out.poisson = place["poisson"].number();
    if (place["poisson"].present() == shear.present()) {
      fault(place["poisson"],
            shear.present() ? "given beside shear_modulus_dry_kPa; needed: one of the two"
                            : "missing; needed: a number, 0 to 0.499, or shear_modulus_dry_kPa");
    }
    double share = 1 / (2 * (1 + out.poisson.value_or(0)));
    if (const auto shear_kpa = shear.number(); shear_kpa && dry_kpa > 0) {
      share = *shear_kpa / dry_kpa;
      if (*shear_kpa > dry_kpa) {
        fault(shear,
              fmt::format("{:g} kPa is above modulus_dry_kPa, {:g} kPa", *shear_kpa, dry_kpa));
      }
    }
    out.dry = {units::from_kpa(dry_kpa), units::from_kpa(share * dry_kpa)};
    out.moist = {units::from_kpa(moist_kpa), units::from_kpa(share * moist_kpa)};
  }

  void read_sizes(const JsonPlace& place, Dressing& out) {
    std::set<std::pair<double, double>> sold;
    for (const JsonPlace& size : place.entries()) {
      const auto length = size["length_mm"].number();
      const auto width = size["width_mm"].number();
      const auto cost = size["cost"].number();
      if (cost && !has_currency_) {
        fault(size["cost"], "a cost needs the file's currency, such as \"currency\": \"EUR\"");
      }
      if (!length || !width) continue;
      if (*width > *length) {
        fault(size["width_mm"], fmt::format("{:g} mm is above length_mm, {:g} mm; the longer side "
                                            "is the length",
                                            *width, *length));
      }
      if (!sold.emplace(*length, *width).second) {
        fault(size, fmt::format("{:g} mm x {:g} mm is given twice", *length, *width));
      }
      out.sizes.push_back({*length, *width, cost});
    }
  }

  void check_range(const JsonPlace& place, const char* unit) {
    const std::vector<JsonPlace> ends = place.entries();
    if (ends.size() != 2) return;
    const auto low = ends[0].number();
    const auto high = ends[1].number();
    if (low && high && *low > *high) {
      fault(place, fmt::format("{:g} to {:g} {} runs downwards", *low, *high, unit));
    }
  }

  const std::string& file_;
  std::vector<Fault>& faults_;
  bool has_currency_;
  std::set<std::string> names_;
};

}  // namespace

std::string_view name_of(DressingKind kind) {
  switch (kind) {
    case DressingKind::hydrocolloid: return "hydrocolloid";
    case DressingKind::foam: return "foam";
    case DressingKind::hydrogel: return "hydrogel";
    case DressingKind::film: return "film";
    case DressingKind::barrier_film: break;
  }
  return "barrier_film";
}

std::string_view words_for(DressingKind kind) {
  switch (kind) {
    case DressingKind::hydrocolloid: return "thin hydrocolloid";
    case DressingKind::foam: return "silicone-faced foam";
    case DressingKind::hydrogel: return "hydrogel sheet";
    case DressingKind::film: return "film";
    case DressingKind::barrier_film: break;
  }
  return "barrier film";
}

DressingCatalogue read_dressings(std::string_view text, const std::string& file) {
  const nlohmann::json document = parse_json(text, file);
  std::vector<Fault> faults = schema_faults(document, FileKind::dressings, file);
  const JsonPlace root(document);
  DressingCatalogue catalogue;
  catalogue.about = root["about"].text().value_or("");
  catalogue.currency = root["currency"].text().value_or("");
  DressingReader reader(file, faults, root["currency"].present());
  for (const JsonPlace& dressing : root["dressings"].entries()) {
    catalogue.dressings.push_back(reader.read(dressing));
  }
  if (!faults.empty()) throw InputError(std::move(faults));
  return catalogue;
}

const Dressing& dressing_named(const DressingCatalogue& catalogue, std::string_view name,
                               const std::string& file, const std::string& path) {
  std::vector<std::string> names;
  for (const Dressing& dressing : catalogue.dressings) {
    if (dressing.name == name) return dressing;
    names.push_back(dressing.name);
  }
  throw InputError(
      file, path,
      fmt::format("no dressing is called {}{}", in_quotes(name), name_hint(name, names)));
}

}  // namespace rimload
