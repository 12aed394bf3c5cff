#include "core/circuit/top_system.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <utility>

namespace yw::circuit {

namespace {

std::uint64_t keyOf(std::int32_t i, std::int32_t j) {
  const auto column = static_cast<std::uint64_t>(std::min(i, j)),
             row = static_cast<std::uint64_t>(std::max(i, j));
  return column << 32 | row;
}

}  // namespace

TopSystem::TopSystem(std::int32_t unknowns) : unknowns_(unknowns) {
  for (std::int32_t i = 0; i < unknowns; ++i) keys_.push_back(keyOf(i, i));
}

void TopSystem::announce(std::int32_t i, std::int32_t j) { keys_.push_back(keyOf(i, j)); }

void TopSystem::close() {
  std::sort(keys_.begin(), keys_.end());
  keys_.erase(std::unique(keys_.begin(), keys_.end()), keys_.end());
  values_.assign(keys_.size(), 0.0);
  columnStart_.assign(1, 0);
  for (std::size_t s = 0; s < keys_.size(); ++s)
    if (s + 1 == keys_.size() || keys_[s + 1] >> 32 != keys_[s] >> 32)
      columnStart_.push_back(static_cast<std::int32_t>(s) + 1);
  order();
  layOut();
}

/// Approximate minimum degree: which unknown is eliminated when.
void TopSystem::order() {
  std::vector<Eigen::Triplet<double, std::int32_t>> places;
  places.reserve(2 * keys_.size());
  for (const std::uint64_t key : keys_) {
    const auto column = static_cast<std::int32_t>(key >> 32),
               row = static_cast<std::int32_t>(key & 0xffffffffu);
    places.emplace_back(row, column, 1.0);
    if (row != column) places.emplace_back(column, row, 1.0);
  }
  Eigen::SparseMatrix<double, Eigen::ColMajor, std::int32_t> pattern(unknowns_, unknowns_);
  pattern.setFromTriplets(places.begin(), places.end());
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, std::int32_t> when;
  Eigen::AMDOrdering<std::int32_t> amd;
  if (unknowns_ > 0) amd(pattern, when);
  turn_.assign(unknowns_, 0);
  for (std::int32_t k = 0; k < unknowns_; ++k) turn_[when.indices()[k]] = k;
}

/// Lays out the factors: which places fill in, row by row.
void TopSystem::layOut() {
  std::vector<std::pair<std::pair<std::int32_t, std::int32_t>, std::int32_t>> entries;  // (row, column), slot
  diagonal_.assign(unknowns_, 0);
  for (std::size_t s = 0; s < keys_.size(); ++s) {
    const std::int32_t a = turn_[keys_[s] >> 32], b = turn_[keys_[s] & 0xffffffffu],
                       slot = static_cast<std::int32_t>(s);
    if (a == b)
      diagonal_[a] = slot;
    else
      entries.push_back({{std::max(a, b), std::min(a, b)}, slot});
  }
  std::sort(entries.begin(), entries.end());
  entryStart_.assign(1, 0);
  entryColumn_.clear();
  entrySlot_.clear();
  patternStart_.assign(1, 0);
  pattern_.clear();
  std::vector<std::int32_t> parent(unknowns_, -1), mark(unknowns_, -1), length(unknowns_, 0);
  std::size_t next = 0;
  for (std::int32_t k = 0; k < unknowns_; ++k) {
    mark[k] = k;
    for (; next < entries.size() && entries[next].first.first == k; ++next) {
      entryColumn_.push_back(entries[next].first.second);
      entrySlot_.push_back(entries[next].second);
      // Up the elimination tree from the entry to what this row has already.
      for (std::int32_t i = entries[next].first.second; mark[i] != k; i = parent[i]) {
        if (parent[i] < 0) parent[i] = k;
        mark[i] = k;
        pattern_.push_back(i);
        ++length[i];
      }
    }
    std::sort(pattern_.begin() + patternStart_.back(), pattern_.end());
    entryStart_.push_back(static_cast<std::int32_t>(entryColumn_.size()));
    patternStart_.push_back(static_cast<std::int32_t>(pattern_.size()));
  }
  lowerStart_.assign(1, 0);
  for (std::int32_t i = 0; i < unknowns_; ++i) lowerStart_.push_back(lowerStart_.back() + length[i]);
  lowerRow_.assign(lowerStart_.back(), 0);
  lower_.assign(lowerStart_.back(), 0.0);
  filled_.assign(lowerStart_.begin(), lowerStart_.end() - 1);
  for (std::int32_t k = 0; k < unknowns_; ++k)
    for (std::int32_t p = patternStart_[k]; p < patternStart_[k + 1]; ++p)
      lowerRow_[filled_[pattern_[p]]++] = k;
  inverse_.assign(unknowns_, 0.0);
  work_ = inverse_;
}

std::int32_t TopSystem::slot(std::int32_t i, std::int32_t j) const {
  const std::int32_t column = std::min(i, j);
  const auto from = keys_.begin() + columnStart_[column], to = keys_.begin() + columnStart_[column + 1];
  return static_cast<std::int32_t>(std::lower_bound(from, to, keyOf(i, j)) - keys_.begin());
}

bool TopSystem::factor() {
  std::copy(lowerStart_.begin(), lowerStart_.end() - 1, filled_.begin());
  std::fill(work_.begin(), work_.end(), 0.0);
  for (std::int32_t k = 0; k < unknowns_; ++k) {
    double pivot = values_[diagonal_[k]];
    for (std::int32_t e = entryStart_[k]; e < entryStart_[k + 1]; ++e)
      work_[entryColumn_[e]] = values_[entrySlot_[e]];
    for (std::int32_t p = patternStart_[k]; p < patternStart_[k + 1]; ++p) {
      const std::int32_t i = pattern_[p];
      const double y = work_[i];
      work_[i] = 0.0;
      const std::int32_t end = filled_[i]++;
      for (std::int32_t q = lowerStart_[i]; q < end; ++q) work_[lowerRow_[q]] -= lower_[q] * y;
      const double l = y * inverse_[i];
      pivot -= l * y;
      lower_[end] = l;
    }
    if (!(pivot > 0.0)) return false;
    inverse_[k] = 1.0 / pivot;
  }
  return true;
}

void TopSystem::solve(std::span<const double> right, std::span<double> answer) {
  for (std::int32_t i = 0; i < unknowns_; ++i) work_[turn_[i]] = right[i];
  for (std::int32_t i = 0; i < unknowns_; ++i) {
    const double y = work_[i];
    for (std::int32_t q = lowerStart_[i]; q < lowerStart_[i + 1]; ++q) work_[lowerRow_[q]] -= lower_[q] * y;
  }
  for (std::int32_t i = unknowns_ - 1; i >= 0; --i) {
    double y = work_[i] * inverse_[i];
    for (std::int32_t q = lowerStart_[i]; q < lowerStart_[i + 1]; ++q) y -= lower_[q] * work_[lowerRow_[q]];
    work_[i] = y;
  }
  for (std::int32_t i = 0; i < unknowns_; ++i) answer[i] = work_[turn_[i]];
}

}  // namespace yw::circuit
