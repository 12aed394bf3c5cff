#include "core/circuit/top_system.h"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <utility>

namespace yw::circuit {

struct TopSystem::Inside {
  std::int32_t unknowns = 0;
  std::vector<std::pair<std::int32_t, std::int32_t>> places;  ///< column, row; row >= column
  Eigen::SparseMatrix<double, Eigen::ColMajor, std::int32_t> matrix;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double, Eigen::ColMajor, std::int32_t>, Eigen::Lower> factors;
};

TopSystem::TopSystem(std::int32_t unknowns) : in_(std::make_unique<Inside>()) {
  in_->unknowns = unknowns;
  for (std::int32_t i = 0; i < unknowns; ++i) in_->places.emplace_back(i, i);
}
TopSystem::~TopSystem() = default;
TopSystem::TopSystem(TopSystem&&) noexcept = default;
TopSystem& TopSystem::operator=(TopSystem&&) noexcept = default;

void TopSystem::announce(std::int32_t i, std::int32_t j) {
  in_->places.emplace_back(std::min(i, j), std::max(i, j));
}

void TopSystem::close() {
  auto& places = in_->places;
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end()), places.end());
  std::vector<Eigen::Triplet<double, std::int32_t>> triplets;
  triplets.reserve(places.size());
  for (const auto& [column, row] : places) triplets.emplace_back(row, column, 1.0);
  in_->matrix.resize(in_->unknowns, in_->unknowns);
  in_->matrix.setFromTriplets(triplets.begin(), triplets.end());
  in_->matrix.makeCompressed();
  in_->factors.analyzePattern(in_->matrix);
}

std::int32_t TopSystem::slot(std::int32_t i, std::int32_t j) const {
  const std::pair place{std::min(i, j), std::max(i, j)};
  const auto& places = in_->places;
  return static_cast<std::int32_t>(std::lower_bound(places.begin(), places.end(), place) - places.begin());
}

std::span<double> TopSystem::values() {
  return {in_->matrix.valuePtr(), static_cast<std::size_t>(in_->matrix.nonZeros())};
}

bool TopSystem::factor() {
  if (in_->unknowns == 0) return true;
  in_->factors.factorize(in_->matrix);
  if (in_->factors.info() != Eigen::Success) return false;
  const auto& pivots = in_->factors.vectorD();
  return pivots.minCoeff() > 0.0;
}

void TopSystem::solve(std::span<const double> right, std::span<double> answer) const {
  if (in_->unknowns == 0) return;
  const Eigen::Map<const Eigen::VectorXd> b(right.data(), in_->unknowns);
  Eigen::Map<Eigen::VectorXd>(answer.data(), in_->unknowns) = in_->factors.solve(b);
}

}  // namespace yw::circuit
