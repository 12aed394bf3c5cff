#pragma once
#include <cstdint>
#include <span>
#include <vector>

namespace yw::circuit {

/// A symmetric sparse system of the attachment nodes: pattern and order of elimination once, values again and
/// again. L·D·Lᵀ without pivoting, row by row; a pivot that is not positive is an answer of its own: the
/// system has left the region in which the network is stable.
class TopSystem {
 public:
  explicit TopSystem(std::int32_t unknowns);

  /// Announces a place off the diagonal; order and side do not matter.
  void announce(std::int32_t i, std::int32_t j);
  /// Fixes the pattern and the order of elimination.
  void close();
  /// Index of an announced place, or of a diagonal place, in values().
  std::int32_t slot(std::int32_t i, std::int32_t j) const;
  std::span<double> values() { return values_; }

  /// Factors the values; false if a pivot is not positive.
  bool factor();
  /// Solves with the last factors.
  void solve(std::span<const double> right, std::span<double> answer);

 private:
  void order();
  void layOut();

  std::int32_t unknowns_;
  std::vector<std::uint64_t> keys_;        ///< column and row of each slot, sorted; row >= column
  std::vector<std::int32_t> columnStart_;  ///< slots of each column
  std::vector<double> values_;
  std::vector<std::int32_t> turn_;      ///< [unknown] when it is eliminated; below, numbers are turns
  std::vector<std::int32_t> diagonal_;  ///< slots
  std::vector<std::int32_t> entryStart_, entryColumn_, entrySlot_;  ///< given places of each row
  std::vector<std::int32_t> patternStart_, pattern_;                ///< columns of each row of L, rising
  std::vector<std::int32_t> lowerStart_, lowerRow_, filled_;        ///< L by columns
  std::vector<double> lower_, inverse_, work_;
};

}  // namespace yw::circuit
