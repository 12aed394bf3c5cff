#pragma once
#include "core/yard/yard.h"

namespace yw::data {

/// Bits of one frame of n pixels. Clocked chips send more than their pixels: start and end bits, and bits
/// that go with each pixel (pixels-and-data §1.4; public maker tutorials and driver notes).
std::int64_t frameBits(const yard::Product& product, std::int64_t pixels);

/// Slots that one pixel takes: a channel of more than 8 bits takes two (pixels-and-data §4.1).
std::int64_t slotsPerPixel(const yard::Product& product);

}  // namespace yw::data
