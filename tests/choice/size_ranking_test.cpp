// The rule of ranking on candidates made by hand.
#include "choice/size_ranking.hpp"

#include "catch.hpp"
#include "fit/fit.hpp"
#include "stored_case.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

SizeRequest by(SizeMeasure measure) {
  SizeRequest out;
  out.rank_by = measure;
  return out;
}

SizeRequest tied_from(double share) {
  SizeRequest out;
  out.tie_share = share;
  return out;
}

// One that fits; every draw reads the same but for what a test changes.
struct Tried {
  std::string name;
  double worst_mmhg = 50;
  double leak_l_min = 0;
  double window_n = 1;
};

// That there is one counts, not what it says.
const Estimate& some_estimate() {
  static const Estimate out = estimate_fit(case_of({}));
  return out;
}

SizeCandidate candidate(const Tried& tried) {
  SizeCandidate out;
  out.cushion.name = tried.name;
  out.fits = true;
  out.window.seals = true;
  out.window.sealing_n = 2;
  out.window.upper_n = 2 + tried.window_n;
  out.estimate = some_estimate();
  const SizeDraw draw{.seals = true,
                      .sealing_n = 2,
                      .worst = units::from_mmhg(tried.worst_mmhg),
                      .leak = units::from_l_per_min(tried.leak_l_min)};
  out.draws.assign(10, draw);
  out.worst_band = ValueBand{draw.worst, draw.worst, draw.worst};
  out.leak_band = ValueBand{draw.leak, draw.leak, draw.leak};
  return out;
}

std::string order(const SizeRequest& asked, std::vector<SizeCandidate> candidates) {
  rank_candidates(size_rule_for(asked), candidates);
  std::string out;
  for (const SizeCandidate& each : candidates) {
    out += each.cushion.name + (each.rank ? std::to_string(*each.rank) : "-") + " ";
  }
  return out;
}

// Each is the first by one measure.
std::vector<SizeCandidate> three() {
  return {candidate({.name = "soft", .worst_mmhg = 40, .leak_l_min = 5, .window_n = 1.5}),
          candidate({.name = "tight", .worst_mmhg = 60, .leak_l_min = 1, .window_n = 1}),
          candidate({.name = "easy", .worst_mmhg = 50, .leak_l_min = 8, .window_n = 3})};
}

}  // namespace

TEST_CASE("each measure puts first what it is lowest or widest in") {
  CHECK(order({}, three()) == "soft1 easy2 tight3 ");
  CHECK(order(by(SizeMeasure::worst_reading), three()) == "soft1 easy2 tight3 ");
  CHECK(order(by(SizeMeasure::leak), three()) == "tight1 soft2 easy3 ");
  CHECK(order(by(SizeMeasure::window), three()) == "easy1 soft2 tight3 ");
}

TEST_CASE("leaks and windows alike to what is shown leave it to the worst reading") {
  const std::vector<SizeCandidate> alike{
      candidate({.name = "a", .worst_mmhg = 60, .leak_l_min = 0.01, .window_n = 2.02}),
      candidate({.name = "b", .worst_mmhg = 40, .leak_l_min = 0.03, .window_n = 1.98})};
  CHECK(order(by(SizeMeasure::leak), alike) == "b1 a2 ");
  CHECK(order(by(SizeMeasure::window), alike) == "b1 a2 ");
}

TEST_CASE("a tie is an order reversed in the rule's share of the draws, by the rule's measure") {
  SizeCandidate first = candidate({.name = "first", .worst_mmhg = 40, .leak_l_min = 5});
  SizeCandidate second = candidate({.name = "second", .worst_mmhg = 50, .leak_l_min = 6});
  for (int k = 0; k < 2; ++k) second.draws[k].worst = units::from_mmhg(30);  // 2 of 10
  CHECK(order({}, {first, second}) == "first1 second1 ");
  CHECK(order(tied_from(0.3), {first, second}) == "first1 second2 ");
  CHECK(order(by(SizeMeasure::leak), {first, second}) == "first1 second2 ");
  for (int k = 0; k < 2; ++k) second.draws[k].leak = 0;
  CHECK(order(by(SizeMeasure::leak), {first, second}) == "first1 second1 ");
  // Draws in which one of the two doesn't seal count for neither.
  for (int k = 0; k < 2; ++k) second.draws[k].seals = false;
  CHECK(order(tied_from(0.01), {first, second}) == "first1 second2 ");
}

TEST_CASE("windows are not drawn: only those as wide tie, by their readings") {
  const auto reversed = [](double window_n) {
    SizeCandidate out = candidate({.name = "other", .worst_mmhg = 50, .window_n = window_n});
    for (int k = 0; k < 4; ++k) out.draws[k].worst = units::from_mmhg(30);
    return out;
  };
  const SizeCandidate wide = candidate({.name = "wide", .worst_mmhg = 40, .window_n = 2});
  CHECK(order(by(SizeMeasure::window), {wide, reversed(1)}) == "wide1 other2 ");
  CHECK(order(by(SizeMeasure::window), {wide, reversed(2)}) == "wide1 other1 ");
}

TEST_CASE("what doesn't fit comes after what does, whatever it is ranked by") {
  std::vector<SizeCandidate> all = three();
  all[1].fits = false;
  SizeCandidate open = candidate({.name = "open"});
  open.fits = false;
  open.estimate.reset();
  SizeCandidate barred = candidate({.name = "barred"});
  barred.fits = false;
  barred.excluded.emplace_back("a reason");
  all.insert(all.begin(), {barred, open});
  CHECK(order(by(SizeMeasure::leak), all) == "soft1 easy2 tight3 open- barred- ");
}

TEST_CASE("what a case leaves open of the rule is the usual one's") {
  const SizeRule usual = size_rule_for({});
  CHECK_FALSE((usual.rank_by_case || usual.strap_step_mm.by_case || usual.seals_in_share.by_case ||
               usual.tie_share.by_case));
  const SizeRule one = size_rule_for(tied_from(0.5));
  CHECK(one.tie_share.value == 0.5);
  CHECK(one.tie_share.by_case);
  CHECK(one.strap_step_mm.value == usual.strap_step_mm.value);
  CHECK_FALSE(one.strap_step_mm.by_case);
}
