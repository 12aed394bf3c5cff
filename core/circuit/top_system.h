#pragma once
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

namespace yw::circuit {

/// A symmetric sparse system of the attachment nodes: pattern and order once, values again and again.
class TopSystem {
 public:
  explicit TopSystem(std::int32_t unknowns);
  ~TopSystem();
  TopSystem(TopSystem&&) noexcept;
  TopSystem& operator=(TopSystem&&) noexcept;

  /// Announces a place off the diagonal; order and side do not matter.
  void announce(std::int32_t i, std::int32_t j);
  /// Fixes the pattern and the order of elimination.
  void close();
  /// Index of an announced place, or of a diagonal place, in values().
  std::int32_t slot(std::int32_t i, std::int32_t j) const;
  std::span<double> values();

  /// Factors the values; false if a pivot is not positive (the matrix is not positive definite).
  bool factor();
  /// Solves with the last factors.
  void solve(std::span<const double> right, std::span<double> answer) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> in_;
};

}  // namespace yw::circuit
