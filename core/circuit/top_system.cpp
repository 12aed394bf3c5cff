#include "core/circuit/top_system.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <array>
#include <cstring>
#include <numeric>
#include <utility>

namespace yw::circuit {

namespace {

constexpr std::size_t kBlock = 4;  ///< numbers in a block

typedef double Four __attribute__((vector_size(kBlock * sizeof(double))));

void loadBlock(Four& block, const double* from) { std::memcpy(&block, from, sizeof(block)); }
void storeBlock(const Four& block, double* to) { std::memcpy(to, &block, sizeof(block)); }

std::uint64_t keyOf(std::int32_t column, std::int32_t row) {
  return static_cast<std::uint64_t>(column) << 32 | static_cast<std::uint64_t>(row);
}

/// Inverse of a symmetric positive block; false if it is not positive.
bool invert(const double* block, double* inverse) {
  const double determinant = block[0] * block[3] - block[1] * block[1];
  if (!(block[0] > 0.0 && determinant > 0.0)) return false;
  const double one = 1.0 / determinant;
  inverse[0] = block[3] * one;
  inverse[1] = inverse[2] = -block[1] * one;
  inverse[3] = block[0] * one;
  return true;
}

/// Parents in the elimination tree (Liu 1990), -1: none. `places`: column and row of the blocks off the
/// diagonal, row by row rising.
std::vector<std::int32_t> parentsOf(std::int32_t blocks, const std::vector<std::uint64_t>& places) {
  std::vector<std::vector<std::int32_t>> before(blocks);  // [row] columns that have a block in it
  for (const std::uint64_t key : places)
    before[key & 0xffffffffu].push_back(static_cast<std::int32_t>(key >> 32));
  std::vector<std::int32_t> parent(blocks, -1), ancestor(blocks, -1);
  for (std::int32_t k = 0; k < blocks; ++k)
    for (std::int32_t at : before[k])
      while (at != -1 && at < k) {
        const std::int32_t next = ancestor[at];
        ancestor[at] = k;
        if (next == -1) parent[at] = k;
        at = next;
      }
  return parent;
}

}  // namespace

TopSystem::TopSystem(std::int32_t unknowns)
    : unknowns_(unknowns), partner_(unknowns, -1), varies_(unknowns, 0) {}

void TopSystem::vary(std::int32_t i) { varies_[i] = 1; }

void TopSystem::couple(std::int32_t i, std::int32_t j) {
  if (i == j || partner_[i] >= 0 || partner_[j] >= 0) return;
  partner_[i] = j;
  partner_[j] = i;
}

void TopSystem::announce(std::int32_t i, std::int32_t j) { announced_.emplace_back(i, j); }

void TopSystem::close() {
  makeBlocks();
  order();
  layOut();
}

/// Numbers the blocks by their lowest unknown.
void TopSystem::makeBlocks() {
  place_.assign(unknowns_, -1);
  for (std::int32_t i = 0; i < unknowns_; ++i) {
    if (place_[i] >= 0) continue;
    place_[i] = 2 * blocks_;
    if (partner_[i] >= 0) place_[partner_[i]] = 2 * blocks_ + 1;
    ++blocks_;
  }
  places_.reserve(announced_.size());
  for (const auto& [i, j] : announced_) {
    const std::int32_t a = place_[i] / 2, b = place_[j] / 2;
    if (a != b) places_.push_back(keyOf(std::min(a, b), std::max(a, b)));
  }
  std::sort(places_.begin(), places_.end());
  places_.erase(std::unique(places_.begin(), places_.end()), places_.end());
}

/// Which block is eliminated when, and numbers them so: approximate minimum degree, then those first that
/// wait for nothing that varies, and of each kind all that wait for none before all that wait for those, and
/// so on. The fill stays the same, but a machine that works at several things at once has neighbors in turn
/// that do not wait for each other.
void TopSystem::order() {
  if (blocks_ == 0) return;
  using Pattern = Eigen::SparseMatrix<double, Eigen::ColMajor, std::int32_t>;
  Eigen::VectorXi degree = Eigen::VectorXi::Ones(blocks_);
  for (const std::uint64_t key : places_) {
    ++degree[static_cast<Eigen::Index>(key >> 32)];
    ++degree[static_cast<Eigen::Index>(key & 0xffffffffu)];
  }
  Pattern pattern(blocks_, blocks_);
  pattern.reserve(degree);
  for (std::int32_t b = 0; b < blocks_; ++b) pattern.insert(b, b) = 1.0;
  for (const std::uint64_t key : places_) {
    const auto a = static_cast<std::int32_t>(key >> 32), b = static_cast<std::int32_t>(key & 0xffffffffu);
    pattern.insert(b, a) = 1.0;
    pattern.insert(a, b) = 1.0;
  }
  pattern.makeCompressed();
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, std::int32_t> when;
  Eigen::AMDOrdering<std::int32_t>()(pattern, when);
  renumber({when.indices().data(), static_cast<std::size_t>(blocks_)});
  const std::vector<std::int32_t> parent = parentsOf(blocks_, places_);
  std::vector<std::int32_t> height(blocks_, 0), level(blocks_);
  std::vector<std::uint8_t> varies(blocks_, 0);
  for (std::int32_t i = 0; i < unknowns_; ++i) varies[place_[i] / 2] |= varies_[i];
  for (std::int32_t k = 0; k < blocks_; ++k)
    if (parent[k] >= 0) {
      height[parent[k]] = std::max(height[parent[k]], height[k] + 1);
      varies[parent[k]] |= varies[k];
    }
  steady_ = static_cast<std::int32_t>(std::count(varies.begin(), varies.end(), std::uint8_t{0}));
  std::iota(level.begin(), level.end(), 0);
  std::stable_sort(level.begin(), level.end(), [&](std::int32_t a, std::int32_t b) {
    return varies[a] != varies[b] ? varies[a] < varies[b] : height[a] < height[b];
  });
  renumber(level);
}

/// `blocks`: the block that comes first, second, …
void TopSystem::renumber(std::span<const std::int32_t> blocks) {
  std::vector<std::int32_t> turn(blocks_);
  for (std::int32_t k = 0; k < blocks_; ++k) turn[blocks[k]] = k;
  for (std::int32_t& place : place_) place = 2 * turn[place / 2] + place % 2;
  for (std::uint64_t& key : places_) {
    const std::int32_t a = turn[key >> 32], b = turn[key & 0xffffffffu];
    key = keyOf(std::min(a, b), std::max(a, b));
  }
  std::sort(places_.begin(), places_.end());
}

/// Lays out the factors: which blocks fill in, and where every product of two blocks of a column goes.
void TopSystem::layOut() {
  std::vector<std::vector<std::int32_t>> below(blocks_);  // rows of each column
  for (const std::uint64_t key : places_)
    below[key >> 32].push_back(static_cast<std::int32_t>(key & 0xffffffffu));
  columnStart_.assign(1, 0);
  std::vector<std::vector<std::int32_t>> child(blocks_);
  std::vector<std::int32_t> mark(blocks_, -1);
  for (std::int32_t k = 0; k < blocks_; ++k) {
    std::vector<std::int32_t>& rows = below[k];
    for (const std::int32_t r : rows) mark[r] = k;
    for (const std::int32_t c : child[k])
      for (const std::int32_t r : below[c])
        if (r > k && mark[r] != k) {
          mark[r] = k;
          rows.push_back(r);
        }
    std::sort(rows.begin(), rows.end());
    if (!rows.empty()) child[rows.front()].push_back(k);
    row_.insert(row_.end(), rows.begin(), rows.end());
    columnStart_.push_back(static_cast<std::int32_t>(row_.size()));
  }
  for (std::int32_t k = 0; k < blocks_; ++k) {
    if (k == steady_) steadyTargets_ = static_cast<std::ptrdiff_t>(target_.size());
    const std::int32_t *rows = row_.data() + columnStart_[k], *end = row_.data() + columnStart_[k + 1];
    for (const std::int32_t* column = rows; column != end; ++column) {
      target_.push_back(*column);  // its diagonal block
      // Both lists rise, so one walk finds all.
      std::int32_t at = columnStart_[*column];
      for (const std::int32_t* row = column + 1; row != end; ++row) {
        while (row_[at] != *row) ++at;
        target_.push_back(blocks_ + at);
      }
    }
  }
  values_.assign(kBlock * (static_cast<std::size_t>(blocks_) + row_.size()), 0.0);
  inverse_.assign(kBlock * static_cast<std::size_t>(blocks_), 0.0);
  work_.assign(2 * static_cast<std::size_t>(blocks_), 0.0);
  std::vector<std::uint8_t> used(work_.size(), 0);
  for (const std::int32_t place : place_) used[place] = 1;
  std::size_t longest = 0;
  for (std::int32_t k = 0; k < blocks_; ++k) {
    longest = std::max(longest, static_cast<std::size_t>(columnStart_[k + 1] - columnStart_[k]));
    if (!used[2 * static_cast<std::size_t>(k) + 1]) ones_.push_back(4 * k + 3);
  }
  scaled_.assign(kBlock * longest, 0.0);
  solved_ = work_;
  varies_ = {};
  announced_ = {};
  places_ = {};
}

std::int32_t TopSystem::blockAt(std::int32_t row, std::int32_t column) const {
  if (row == column) return row;
  const auto from = row_.begin() + columnStart_[column], to = row_.begin() + columnStart_[column + 1];
  return blocks_ + static_cast<std::int32_t>(std::lower_bound(from, to, row) - row_.begin());
}

std::int32_t TopSystem::slot(std::int32_t i, std::int32_t j) const {
  const std::int32_t low = std::min(place_[i], place_[j]), high = std::max(place_[i], place_[j]);
  const std::int32_t block = blockAt(high / 2, low / 2);
  // A diagonal block keeps its upper half; below it the row is the later one.
  if (high / 2 == low / 2) return 4 * block + 2 * (low % 2) + high % 2;
  return 4 * block + 2 * (high % 2) + low % 2;
}

namespace {

/// One column of N blocks below its diagonal, or of `count` where N is 0. The right side goes along as the
/// factors come, so that neither waits for the other. Returns the targets of the next column.
template <std::int32_t N>
__attribute__((always_inline)) inline const std::int32_t* eliminate(
    std::int32_t count, const double* inverse, double* column, double* values, const std::int32_t* rows,
    const double* own, double* work, double* room, const std::int32_t* target) {
  const std::int32_t n = N > 0 ? N : count;
  const Four first = {inverse[0], inverse[1], inverse[0], inverse[1]};
  const Four second = {inverse[2], inverse[3], inverse[2], inverse[3]};
  const Four right = {own[0], own[1], own[0], own[1]};
  Four before[N > 0 ? N : 1], after[N > 0 ? N : 1];
#pragma GCC unroll 4
  for (std::int32_t e = 0; e < n; ++e) {
    Four u, l;
    loadBlock(u, column + kBlock * e);
    l = __builtin_shufflevector(u, u, 0, 0, 2, 2) * first +
        __builtin_shufflevector(u, u, 1, 1, 3, 3) * second;
    storeBlock(l, column + kBlock * e);
    if constexpr (N > 0) {
      before[e] = u;
      after[e] = l;
    } else {
      storeBlock(u, room + kBlock * e);
    }
    const Four share = l * right;
    double* const to = work + 2 * static_cast<std::size_t>(rows[e]);
    to[0] -= share[0] + share[1];
    to[1] -= share[2] + share[3];
  }
#pragma GCC unroll 4
  for (std::int32_t c = 0; c < n; ++c) {
    // Taken off at row r, column c: (block r of L) · (block c before scaling)ᵀ.
    Four u, l, taken;
    if constexpr (N > 0)
      u = before[c];
    else
      loadBlock(u, room + kBlock * c);
    const Four left = __builtin_shufflevector(u, u, 0, 2, 0, 2);
    const Four other = __builtin_shufflevector(u, u, 1, 3, 1, 3);
#pragma GCC unroll 4
    for (std::int32_t r = c; r < n; ++r) {
      if constexpr (N > 0)
        l = after[r];
      else
        loadBlock(l, column + kBlock * r);
      double* const at = values + kBlock * static_cast<std::size_t>(*target++);
      loadBlock(taken, at);
      taken -= __builtin_shufflevector(l, l, 0, 0, 2, 2) * left +
               __builtin_shufflevector(l, l, 1, 1, 3, 3) * other;
      storeBlock(taken, at);
    }
  }
  return target;
}

}  // namespace

/// Eliminates blocks from .. to - 1.
__attribute__((target_clones("avx2", "default"))) bool TopSystem::factor(std::int32_t from, std::int32_t to) {
  double* const values = values_.data();
  double* const work = work_.data();
  const std::int32_t* target = target_.data() + (from == 0 ? 0 : steadyTargets_);
  for (std::int32_t k = from; k < to; ++k) {
    double* const inverse = &inverse_[kBlock * static_cast<std::size_t>(k)];
    if (!invert(values + kBlock * static_cast<std::size_t>(k), inverse)) return false;
    const std::int32_t count = columnStart_[k + 1] - columnStart_[k];
    double* const column = values + kBlock * static_cast<std::size_t>(blocks_ + columnStart_[k]);
    const std::int32_t* const rows = row_.data() + columnStart_[k];
    const double* const own = work + 2 * static_cast<std::size_t>(k);
    double* const room = scaled_.data();
    switch (count) {
      case 0:
        break;
      case 1:
        target = eliminate<1>(count, inverse, column, values, rows, own, work, room, target);
        break;
      case 2:
        target = eliminate<2>(count, inverse, column, values, rows, own, work, room, target);
        break;
      case 3:
        target = eliminate<3>(count, inverse, column, values, rows, own, work, room, target);
        break;
      default:
        target = eliminate<0>(count, inverse, column, values, rows, own, work, room, target);
    }
  }
  return true;
}

bool TopSystem::begin(std::span<const double> right) {
  for (std::int32_t i = 0; i < unknowns_; ++i) work_[place_[i]] = right[i];
  for (const std::int32_t one : ones_)
    work_[(one - 3) / 2 + 1] = 0.0;  // 4·block + 3: no unknown stands there
  if (!factor(0, steady_)) return false;
  const double* const below =
      std::as_const(values_).data() + kBlock * static_cast<std::size_t>(blocks_ + columnStart_[steady_]);
  keptDiagonal_.assign(values_.data() + kBlock * static_cast<std::size_t>(steady_),
                       values_.data() + kBlock * static_cast<std::size_t>(blocks_));
  keptBelow_.assign(below, std::as_const(values_).data() + values_.size());
  keptWork_.assign(work_.begin() + 2 * static_cast<std::ptrdiff_t>(steady_), work_.end());
  return true;
}

void TopSystem::resume() {
  const auto varying = static_cast<std::ptrdiff_t>(steady_);
  std::copy(keptDiagonal_.begin(), keptDiagonal_.end(),
            values_.begin() + static_cast<std::ptrdiff_t>(kBlock) * varying);
  std::copy(keptBelow_.begin(), keptBelow_.end(),
            values_.end() - static_cast<std::ptrdiff_t>(keptBelow_.size()));
  std::copy(keptWork_.begin(), keptWork_.end(), work_.begin() + 2 * varying);
}

bool TopSystem::finish(std::span<double> answer) {
  if (!factor(steady_, blocks_)) return false;
  back();
  for (std::int32_t i = 0; i < unknowns_; ++i) answer[i] = solved_[place_[i]];
  return true;
}

void TopSystem::back() {
  const double* const work = work_.data();
  double* const solved = solved_.data();
  const double* const lower = values_.data() + kBlock * static_cast<std::size_t>(blocks_);
  for (std::int32_t k = blocks_ - 1; k >= 0; --k) {
    const double* const inverse = &inverse_[kBlock * static_cast<std::size_t>(k)];
    double a = inverse[0] * work[2 * k] + inverse[1] * work[2 * k + 1];
    double b = inverse[2] * work[2 * k] + inverse[3] * work[2 * k + 1];
    for (std::int32_t e = columnStart_[k]; e < columnStart_[k + 1]; ++e) {
      const double* const l = lower + kBlock * static_cast<std::size_t>(e);
      const double* const from = solved + 2 * static_cast<std::size_t>(row_[e]);
      a -= l[0] * from[0] + l[2] * from[1];
      b -= l[1] * from[0] + l[3] * from[1];
    }
    solved[2 * k] = a;
    solved[2 * k + 1] = b;
  }
}

}  // namespace yw::circuit
