// The order of cushions that were tried.
#pragma once

#include <vector>

#include "choice/size_candidate.hpp"
#include "choice/size_rule.hpp"

namespace rimload {

/// Sorts candidates and gives them their ranks, from 1.
///
/// First those that fit, then those that seal as the inputs are taken, then those that don't, then
/// those excluded; the last two have no rank. Within a group by the rule's measure, over the draws:
///   worst_reading: median worst reading;
///   leak: median leak in steps of `leak_alike`, then median worst reading;
///   window: width of the strap window as the inputs are taken, in steps of `window_alike_n`, the
///   widest first, then median worst reading.
/// One that would come before the leader of its rank in `tie_share` of the draws that both seal, or
/// more, shares that rank. Windows are not drawn: by window only those as wide can tie.
void rank_candidates(const SizeRule& rule, std::vector<SizeCandidate>& candidates);

}  // namespace rimload
