#include "skin/check_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "skin/tolerance_words.hpp"
#include "skin_data.hpp"

namespace rimload {

namespace {

using nlohmann::json;

const json& practice_file() {
  static const json file = json::parse(data::check_practice_json());
  return file;
}

double practice_hours(const char* key) { return practice_file().at(key).at("value").get<double>(); }

std::string practice_words(const char* key) {
  return practice_file().at("words").at(key).get<std::string>();
}

double rounded_down(double hours) {
  constexpr double rounding = 1e-9;  // hours that meant to be whole steps
  const double step = practice_hours("step");
  return step * std::floor(hours / step + rounding);
}

struct Bound {
  double hours;
  std::string what;
};

void take_sooner(Bound& bound, double hours, std::string what) {
  if (hours < bound.hours) bound = {hours, std::move(what)};
}

CheckPlan act_at_once(CheckAct act, std::vector<std::string> words) {
  return {.act = act, .next_h = {}, .every_h = {}, .bound = {}, .words = std::move(words)};
}

// The interval by practice alone.
Bound practice_bound(const WearPlan& plan) {
  Bound bound{practice_hours("guideline"), "the guideline, twice a day"};
  take_sooner(bound, practice_hours("bundle"), "bundles in use");
  if (plan.policy_h) take_sooner(bound, *plan.policy_h, "local policy");
  return bound;
}

void add_words(const WearPlan& plan, CheckPlan& out) {
  out.words.push_back(fmt::format("Check and relieve every {:g} h, first in {:g} h; set by {}.",
                                  *out.every_h, *out.next_h, out.bound));
  if (plan.policy_h && *plan.policy_h > *out.every_h) {
    out.words.push_back(
        fmt::format("Local policy allows {:g} h; the sooner counts.", *plan.policy_h));
  }
  out.words.push_back(practice_words("check"));
  out.words.push_back(practice_words("relieve"));
}

}  // namespace

std::string_view name_of(CheckAct act) {
  switch (act) {
    case CheckAct::check: return "check";
    case CheckAct::relieve_now: return "relieve_now";
    case CheckAct::change_now: return "change_now";
    case CheckAct::off_load_and_call: break;
  }
  return "off_load_and_call";
}

CheckPlan check_plan(const SiteQuestion& question, const WearPlan& plan,
                     std::span<const CurveReading> readings) {
  if (!question.skin.injuries.empty()) {
    return act_at_once(CheckAct::off_load_and_call,
                       {practice_words("injury"), practice_words("no_cover")});
  }
  if (question.place.site == Site::eyelid && is_pressed(question)) {
    return act_at_once(CheckAct::change_now, {practice_words("change_now")});
  }
  Bound fresh = practice_bound(plan);
  Bound left = fresh;
  for (const CurveReading& reading : readings) {
    if (!reading.hours) continue;
    const std::string what =
        fmt::format("the cautious end of \"{}\"", record_of(reading.curve).title);
    take_sooner(fresh, rounded_down(reading.hours->low_fresh_h), what);
    take_sooner(left, rounded_down(reading.hours->low_h), what);
  }
  const std::string rotate = rotation_practice().text;
  if (fresh.hours <= 0) {
    return act_at_once(CheckAct::change_now, {practice_words("change_now"), rotate});
  }
  CheckPlan out{.act = left.hours > 0 ? CheckAct::check : CheckAct::relieve_now,
                .next_h = left.hours,
                .every_h = fresh.hours,
                .bound = fresh.what,
                .words = {}};
  if (out.act == CheckAct::relieve_now) out.words.push_back(practice_words("relieve_now"));
  add_words(plan, out);
  if (fresh.hours < practice_bound(plan).hours) out.words.push_back(rotate);
  return out;
}

RotationPractice rotation_practice() {
  const json& row = practice_file().at("rotate");
  return {row.at("text").get<std::string>(), row.at("source").get<std::string>()};
}

}  // namespace rimload
