#include "fit/parts.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace rimload {

void run_parts(int n, int n_threads, const std::function<void(int)>& work,
               const Progress& progress) {
  std::atomic<int> next{0};
  std::exception_ptr failure;
  std::mutex told;
  int n_done = 0;
  const auto take = [&] {
    for (int k = next++; k < n; k = next++) {
      try {
        work(k);
      } catch (...) {
        const std::lock_guard lock(told);
        if (!failure) failure = std::current_exception();
        next = n;
        return;
      }
      const std::lock_guard lock(told);
      ++n_done;
      if (progress) progress(n_done, n);
    }
  };
  std::vector<std::thread> others;
  for (int k = 1; k < std::min(n_threads, n); ++k) others.emplace_back(take);
  take();
  for (std::thread& each : others) each.join();
  if (failure) std::rethrow_exception(failure);
}

}  // namespace rimload
