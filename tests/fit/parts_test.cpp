#include "fit/parts.hpp"

#include <numeric>
#include <stdexcept>
#include <vector>

#include "catch.hpp"

using namespace rimload;

TEST_CASE("every part is done once, whatever the number of threads, and told in turn") {
  for (const int n_threads : {1, 2, 5}) {
    std::vector<int> times(37, 0);
    std::vector<int> told;
    run_parts(
        37, n_threads, [&](int k) { ++times[static_cast<std::size_t>(k)]; },
        [&](int done, int all) {
          CHECK(all == 37);
          told.push_back(done);
        });
    CHECK(times == std::vector<int>(37, 1));
    std::vector<int> expected(37);
    std::iota(expected.begin(), expected.end(), 1);
    CHECK(told == expected);
  }
}

TEST_CASE("an exception of a part ends the work and is thrown on") {
  const auto fail = [](int k) {
    if (k == 3) throw std::runtime_error("part three");
  };
  CHECK_THROWS_WITH(run_parts(8, 2, fail), "part three");
  CHECK_NOTHROW(run_parts(0, 2, fail));
}
