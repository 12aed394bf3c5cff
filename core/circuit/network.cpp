#include "core/circuit/network.h"

namespace yw::circuit {

namespace {

std::int64_t pixelsBefore(const std::vector<Chain>& chains, std::size_t count) {
  std::int64_t sum = 0;
  for (std::size_t c = 0; c < count; ++c) sum += static_cast<std::int64_t>(chains[c].load.size());
  return sum;
}

}  // namespace

std::int32_t Network::positiveNode(std::size_t chain, std::size_t pixel) const {
  const std::int64_t number = pixelsBefore(chains, chain) + static_cast<std::int64_t>(pixel);
  return extraNodes + static_cast<std::int32_t>(2 * number);
}

std::int32_t Network::zeroNode(std::size_t chain, std::size_t pixel) const {
  return positiveNode(chain, pixel) + 1;
}

std::int64_t Network::pixelCount() const { return pixelsBefore(chains, chains.size()); }

}  // namespace yw::circuit
