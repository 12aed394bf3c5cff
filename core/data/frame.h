#pragma once
#include "core/yard/yard.h"

namespace yw::data {

/// Bits of one frame of n pixels. Clocked chips send more than their pixels: start and end bits, and bits
/// that go with each pixel (public maker tutorials and driver notes).
std::int64_t frameBits(const yard::Product& product, std::int64_t pixels);

/// Time of so many bits at so many a second, and the reset after them; a part of a nanosecond counts as one.
base::Duration timeOf(std::int64_t bits, std::int64_t bitRate, base::Duration reset);

/// Slots that one pixel takes: a channel of more than 8 bits takes two.
std::int64_t slotsPerPixel(const yard::Product& product);

}  // namespace yw::data
