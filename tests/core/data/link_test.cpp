#include <gtest/gtest.h>

#include "core/data/link.h"

namespace yw::data {
namespace {

constexpr std::int64_t kHundred = 100'000'000, kThousand = 1'000'000'000;

TEST(Link, PacketsTakeTheirPayloadAndTheOverheadOfEthernet) {
  EXPECT_EQ(wireOctets(e131Payload(512)), 704);
  EXPECT_EQ(wireOctets(e131Payload(510)), 702);
  EXPECT_EQ(wireOctets(49), 115) << "an E1.31 synchronization packet";
  EXPECT_EQ(wireOctets(artDmxPayload(512)), 596);
  EXPECT_EQ(wireOctets(14), 84) << "an ArtSync: a frame is 64 octets at least";
  EXPECT_EQ(wireOctets(ddpPayload(1440)), 1516);
}

TEST(Link, HoldsSoManyUniversesWhenFull) {
  struct Row {
    std::int64_t line, payload;
    std::int64_t most[7];
  };
  constexpr std::int64_t rates[] = {20, 25, 30, 40, 44, 50, 60};
  const Row rows[] = {{kHundred, e131Payload(512), {887, 710, 591, 443, 403, 355, 295}},
                      {kThousand, e131Payload(512), {8877, 7102, 5918, 4438, 4035, 3551, 2959}},
                      {kHundred, artDmxPayload(512), {1048, 838, 699, 524, 476, 419, 349}},
                      {kThousand, artDmxPayload(512), {10486, 8389, 6991, 5243, 4766, 4194, 3495}},
                      {kHundred, ddpPayload(1440), {412, 329, 274, 206, 187, 164, 137}}};
  for (const Row& row : rows)
    for (int i = 0; i < 7; ++i)
      EXPECT_EQ(packetsOnLine(row.line, row.payload, {rates[i] * 1'000}), row.most[i])
          << row.payload << ' ' << rates[i];
}

}  // namespace
}  // namespace yw::data
