#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace yw::circuit {

/// A symmetric sparse system of the attachment nodes: pattern and order of elimination once, values again and
/// again. Two unknowns that belong together (V+ and 0 V of a pixel) are eliminated at once, so that the work
/// is on blocks of two by two. L·D·Lᵀ without pivoting; a pivot that is not positive is an answer of its own:
/// the system has left the region in which the network is stable.
///
/// What varies from step to step is told apart: all that can be eliminated without it is, once, and each step
/// takes up from there.
class TopSystem {
 public:
  explicit TopSystem(std::int32_t unknowns);

  /// Puts two unknowns into one block, unless one of them is in a block already.
  void couple(std::int32_t i, std::int32_t j);
  /// Announces a place off the diagonal; order and side do not matter.
  void announce(std::int32_t i, std::int32_t j);
  /// Places of this unknown will vary: on the diagonal, and with others that vary.
  void vary(std::int32_t i);
  /// Fixes the pattern and the order of elimination.
  void close();
  /// Index of an announced place, or of a diagonal place, in values().
  std::int32_t slot(std::int32_t i, std::int32_t j) const;
  /// Values to be set before begin(), and to be added to where they vary after each resume(). Places that
  /// were not announced stay 0, those in `ones()` 1.
  std::span<double> values() { return values_; }
  /// Diagonal places of the half-empty blocks.
  const std::vector<std::int32_t>& ones() const { return ones_; }

  /// Takes values and right side without what varies, and eliminates what does not wait for that. False if a
  /// pivot is not positive.
  bool begin(std::span<const double> right);
  /// Back to where begin() came to.
  void resume();
  /// Right side after resume(), of an unknown that varies.
  double& right(std::int32_t i) { return work_[place_[i]]; }
  /// Eliminates the rest and solves; false if a pivot is not positive.
  bool finish(std::span<double> answer);

 private:
  bool factor(std::int32_t from, std::int32_t to);
  void back();
  void makeBlocks();
  void order();
  void renumber(std::span<const std::int32_t> blocks);
  void layOut();
  std::int32_t blockAt(std::int32_t row, std::int32_t column) const;

  std::int32_t unknowns_ = 0, blocks_ = 0;
  std::vector<std::int32_t> partner_;                             ///< [unknown], -1: none
  std::vector<std::pair<std::int32_t, std::int32_t>> announced_;  ///< unknowns
  std::vector<std::int32_t> place_;    ///< [unknown] 2·block + 0 or 1; blocks are numbered by their turn
  std::vector<std::uint64_t> places_;  ///< column and row of announced blocks while the order is sought
  std::vector<double> values_;         ///< 4 a block, row by row: all diagonal blocks, then columns of L
  std::vector<std::int32_t> columnStart_, row_;  ///< blocks below the diagonal, by columns
  std::vector<std::int32_t> target_;  ///< where the products of each column's blocks are taken off, in turn
  std::vector<double> inverse_;       ///< 4 a block
  std::int32_t steady_ = 0;           ///< blocks that are eliminated by begin(): the first ones
  std::ptrdiff_t steadyTargets_ = 0;  ///< into target_
  std::vector<std::uint8_t> varies_;  ///< [unknown], until close()
  std::vector<double> keptDiagonal_, keptBelow_, keptWork_;  ///< of the other blocks, as begin() left them
  std::vector<double> work_, scaled_, solved_;
  std::vector<std::int32_t> ones_;
};

}  // namespace yw::circuit
