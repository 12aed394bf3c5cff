#pragma once
#include <algorithm>
#include <atomic>
#include <cstddef>
#include <future>
#include <thread>
#include <vector>

namespace yw::base {

/// Calls each(i) for every i below `count`, on as many threads as the machine has cores where `worthThreads`,
/// else on this one. Calls must not touch what another call writes; then the result does not depend on the
/// threads. What a call throws is thrown here.
template <class Each>
void sideBySide(std::size_t count, bool worthThreads, Each&& each) {
  const std::size_t cores = worthThreads ? std::max(1U, std::thread::hardware_concurrency()) : 1;
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next++; i < count; i = next++) each(i);
  };
  std::vector<std::future<void>> others;
  for (std::size_t t = 1; t < std::min(cores, count); ++t)
    others.push_back(std::async(std::launch::async, work));
  work();
  for (auto& other : others) other.get();
}

}  // namespace yw::base
