#include "core/data/link.h"

#include <algorithm>

#include "core/base/rational.h"

namespace yw::data {

std::int64_t wireOctets(std::int64_t payload) {
  return std::max<std::int64_t>(payload + 8 + 20 + 14 + 4, 64) + 8 + 12;
}

std::int64_t e131Payload(std::int64_t slots) { return 126 + slots; }
std::int64_t artDmxPayload(std::int64_t slots) { return 18 + slots; }
std::int64_t ddpPayload(std::int64_t octets) { return 10 + octets; }

std::int64_t packetsOnLine(std::int64_t bitsPerSecond, std::int64_t payload, base::Frequency frameRate) {
  if (frameRate.count <= 0) return 0;
  const base::Int128 bits = static_cast<base::Int128>(8 * wireOctets(payload)) * frameRate.count;
  return static_cast<std::int64_t>(static_cast<base::Int128>(bitsPerSecond) * 1'000 / bits);
}

}  // namespace yw::data
