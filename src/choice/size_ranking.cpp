#include "choice/size_ranking.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rimload {

namespace {

// What comes before what: the lower first number, of equal ones the lower second.
using Key = std::pair<double, double>;

double in_steps(double value, double step) { return std::round(value / step); }

double window_key(const SizeRule& rule, const SizeCandidate& candidate) {
  const double width = candidate.window.upper_n - candidate.window.sealing_n;
  return -in_steps(width, rule.window_alike_n);
}

Key key_of(const SizeRule& rule, const SizeCandidate& candidate) {
  const double worst = candidate.median_worst();
  switch (rule.rank_by) {
    case SizeMeasure::leak: return {in_steps(candidate.median_leak(), rule.leak_alike), worst};
    case SizeMeasure::window: return {window_key(rule, candidate), worst};
    case SizeMeasure::worst_reading: break;
  }
  return {worst, 0};
}

Key key_of(const SizeRule& rule, const SizeCandidate& candidate, const SizeDraw& draw) {
  switch (rule.rank_by) {
    case SizeMeasure::leak: return {in_steps(draw.leak, rule.leak_alike), draw.worst};
    case SizeMeasure::window: return {window_key(rule, candidate), draw.worst};
    case SizeMeasure::worst_reading: break;
  }
  return {draw.worst, 0};
}

bool is_tie(const SizeRule& rule, const SizeCandidate& leader, const SizeCandidate& other) {
  int both = 0;
  int reversed = 0;
  for (std::size_t k = 0; k < std::min(leader.draws.size(), other.draws.size()); ++k) {
    if (!leader.draws[k].seals || !other.draws[k].seals) continue;
    ++both;
    reversed += key_of(rule, other, other.draws[k]) < key_of(rule, leader, leader.draws[k]);
  }
  return both > 0 && reversed >= rule.tie_share.value * both;
}

// Those that fit, seal, don't, are excluded.
int group_of(const SizeCandidate& candidate) {
  if (!candidate.excluded.empty()) return 3;
  if (candidate.fits) return 0;
  return candidate.estimate ? 1 : 2;
}

}  // namespace

void rank_candidates(const SizeRule& rule, std::vector<SizeCandidate>& candidates) {
  std::stable_sort(candidates.begin(), candidates.end(),
                   [&](const SizeCandidate& a, const SizeCandidate& b) {
                     const int of_a = group_of(a);
                     const int of_b = group_of(b);
                     if (of_a != of_b) return of_a < of_b;
                     return of_a < 2 && key_of(rule, a) < key_of(rule, b);
                   });
  std::size_t leader = 0;
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    if (group_of(candidates[k]) > 1) break;
    const bool tie = k > 0 && group_of(candidates[k]) == group_of(candidates[leader]) &&
                     is_tie(rule, candidates[leader], candidates[k]);
    if (!tie) leader = k;
    candidates[k].rank = leader + 1;
  }
}

}  // namespace rimload
