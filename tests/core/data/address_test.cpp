#include <gtest/gtest.h>

#include "core/data/data.h"

namespace yw::data {
namespace {

using yard::AddressMode;

// ANSI E1.31-2018: 512 slots in a universe; the standard itself knows no pixels.
TEST(Address, OfPixel171StartsTheSecondUniverseInWholePixelMode) {
  EXPECT_EQ(addressOf({1, 1}, 171, 3, AddressMode::WholePixel), (Address{2, 1}));
}
TEST(Address, OfPixel171StraddlesWhenPacked) {
  EXPECT_EQ(addressOf({1, 1}, 171, 3, AddressMode::Packed), (Address{1, 511}));
  EXPECT_EQ(addressOf({1, 1}, (171 - 1) * 3 + 2, 1, AddressMode::Packed), (Address{1, 512}));
  EXPECT_EQ(addressOf({1, 1}, (171 - 1) * 3 + 3, 1, AddressMode::Packed), (Address{2, 1}));
}
TEST(Address, OfPixel341IsAtSlot509WhenPacked) {
  EXPECT_EQ(addressOf({1, 1}, 341, 3, AddressMode::Packed), (Address{2, 509}));
}
TEST(Address, OfPixel512InBothModes) {
  EXPECT_EQ(addressOf({1, 1}, 512, 3, AddressMode::WholePixel), (Address{4, 4}));
  EXPECT_EQ(addressOf({1, 1}, 512, 3, AddressMode::Packed), (Address{3, 510}));
}
TEST(Address, HoldsWholePixelsOnlyPerUniverse) {
  const std::pair<std::int64_t, std::int64_t> most[] = {{3, 170}, {4, 128}, {6, 85}, {8, 64}};
  for (const auto& [channels, pixels] : most) {
    EXPECT_EQ(addressOf({1, 1}, pixels, channels, AddressMode::WholePixel).universe, 1);
    EXPECT_EQ(addressOf({1, 1}, pixels + 1, channels, AddressMode::WholePixel), (Address{2, 1}));
  }
}
TEST(Address, FromAStartInsideAUniverseNeverStraddlesInWholePixelMode) {
  for (std::int64_t start = 1; start <= 512; ++start)
    for (std::int64_t k = 1; k <= 400; ++k) {
      const Address a = addressOf({7, start}, k, 3, AddressMode::WholePixel);
      ASSERT_LE(a.slot, 510);
      if (k > 1) {
        const Address before = addressOf({7, start}, k - 1, 3, AddressMode::WholePixel);
        ASSERT_GE((a.universe - before.universe) * 512 + a.slot - before.slot, 3);
      }
    }
}

}  // namespace
}  // namespace yw::data
