#include <algorithm>

#include "core/data/data.h"

namespace yw::data {

namespace {
constexpr std::int64_t kSlots = 512;  // of a universe; ANSI E1.31-2018 7.7
}

Address addressOf(Address start, std::int64_t number, std::int64_t channels, yard::AddressMode mode) {
  const std::int64_t before = number - 1;
  if (mode == yard::AddressMode::Packed || channels > kSlots) {
    const std::int64_t slot = start.slot - 1 + before * channels;
    return {start.universe + slot / kSlots, slot % kSlots + 1};
  }
  const std::int64_t inFirst = (kSlots - (start.slot - 1)) / channels, inEach = kSlots / channels;
  if (before < inFirst) return {start.universe, start.slot + before * channels};
  const std::int64_t left = before - inFirst;
  return {start.universe + 1 + left / inEach, left % inEach * channels + 1};
}

}  // namespace yw::data
