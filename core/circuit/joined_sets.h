#pragma once
#include <algorithm>
#include <cstddef>
#include <numeric>
#include <vector>

namespace yw::circuit {

/// Which of a count of things are joined with which.
class JoinedSets {
 public:
  explicit JoinedSets(std::size_t count) : parent_(count) {
    std::iota(parent_.begin(), parent_.end(), std::size_t{0});
  }
  /// The same for all that are joined: the lowest of them.
  std::size_t root(std::size_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(std::size_t a, std::size_t b) {
    a = root(a);
    b = root(b);
    parent_[std::max(a, b)] = std::min(a, b);
  }

 private:
  std::vector<std::size_t> parent_;
};

}  // namespace yw::circuit
