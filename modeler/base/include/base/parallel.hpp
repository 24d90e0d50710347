#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <thread>
#include <vector>

namespace ribbay {

/// Calls work(i) for each i below `count`, on up to `jobs` threads. Each call writes to its own
/// slot only, so the result does not depend on who ran when.
template <class F>
void for_each_slot(std::size_t count, int jobs, F work) {
  const std::size_t threads = std::min(count, static_cast<std::size_t>(std::max(jobs, 1)));
  std::atomic<std::size_t> next = 0;
  const auto run = [&] {
    for (std::size_t i = next++; i < count; i = next++) work(i);
  };
  std::vector<std::jthread> others;
  for (std::size_t t = 1; t < threads; ++t) others.emplace_back(run);
  run();
}

}  // namespace ribbay
