#pragma once

#include <algorithm>
#include <chrono>
#include <limits>

/// Best of `runs`, in ms.
template <class Work>
double best_of(int runs, Work work) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < runs; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    const std::chrono::duration<double, std::milli> taken =
        std::chrono::steady_clock::now() - start;
    best = std::min(best, taken.count());
  }
  return best;
}
