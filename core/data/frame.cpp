#include "core/data/frame.h"

#include <algorithm>
#include <string_view>

#include "core/base/rational.h"
#include "core/data/data.h"

namespace yw::data {

namespace {

/// What a chip sends besides channels × bits.
struct Framing {
  std::string_view chip;
  std::int64_t start;          ///< bits before the first pixel
  std::int64_t withPixel;      ///< bits that go with each pixel
  std::int64_t end;            ///< bits after the last pixel, always
  std::int64_t pixelsPerByte;  ///< one more byte of end bits for each so many pixels begun; 0: none
};

// Sources: maker tutorials for APA102 and LPD8806; a public text digest of maker sheets for TM1814; the end
// rule of APA102 and the words of SK9822, LPD8806 and SM16716 are from memory.
constexpr Framing kFramings[] = {
    {"APA102", 32, 8, 0, 16},  // 111 + 5 bits of global level; data lags half a clock per pixel
    {"SK9822", 32, 8, 32, 16}, {"LPD8806", 0, 0, 0, 32},
    {"SM16716", 50, 1, 0, 0},  {"TM1814", 64, 0, 0, 0},  // current codes and their complement
};

const Framing* framingOf(const yard::Product& product) {
  for (const Framing& f : kFramings)
    if (product.chip == f.chip) return &f;
  return nullptr;
}

bool keeps(const yard::Product& product, base::Frequency rate, std::int64_t pixels) {
  // bits/bitRate + reset <= 1/rate, all multiplied out: no rounding before the comparison.
  const base::Int128 bits = frameBits(product, pixels);
  const base::Int128 taken = bits * 1'000'000'000 * rate.count +
                             static_cast<base::Int128>(product.reset.count) * product.bitRate * rate.count;
  return taken <= static_cast<base::Int128>(1'000'000'000'000) * product.bitRate;
}

}  // namespace

std::int64_t frameBits(const yard::Product& product, std::int64_t pixels) {
  const Framing* f = framingOf(product);
  std::int64_t bits = product.headerBits + pixels * product.channels * product.bits;
  if (f == nullptr) return bits;
  bits += std::max<std::int64_t>(f->start - product.headerBits, 0) + pixels * f->withPixel + f->end;
  if (f->pixelsPerByte > 0) bits += 8 * ((pixels + f->pixelsPerByte - 1) / f->pixelsPerByte);
  return bits;
}

std::int64_t slotsPerPixel(const yard::Product& product) {
  return std::max<std::int64_t>(product.channels, 1) * std::max<std::int64_t>((product.bits + 7) / 8, 1);
}

base::Duration timeOf(std::int64_t bits, std::int64_t bitRate, base::Duration reset) {
  const base::Int128 rate = std::max<std::int64_t>(bitRate, 1);
  const base::Int128 nanoseconds = (static_cast<base::Int128>(bits) * 1'000'000'000 + rate - 1) / rate;
  return base::Duration{static_cast<std::int64_t>(nanoseconds)} + reset;
}

base::Duration frameTime(const yard::Product& product, std::int64_t pixels) {
  return timeOf(frameBits(product, pixels), product.bitRate, product.reset);
}

std::int64_t mostPixels(const yard::Product& product, base::Frequency frameRate) {
  if (frameRate.count <= 0 || product.bitRate <= 0 || !keeps(product, frameRate, 0)) return 0;
  std::int64_t low = 0, high = 1;  // low keeps the rate, high will not
  constexpr std::int64_t kFarMore = std::int64_t{1} << 32;
  while (high < kFarMore && keeps(product, frameRate, high)) {
    low = high;
    high *= 2;
  }
  while (high - low > 1) {
    const std::int64_t middle = low + (high - low) / 2;
    (keeps(product, frameRate, middle) ? low : high) = middle;
  }
  return low;
}

}  // namespace yw::data
