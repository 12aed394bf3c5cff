#include "core/catalog/catalog.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

namespace yw::catalog {
namespace {

nlohmann::json recordOf(const Entry& entry) { return nlohmann::json::parse(entry.record); }

TEST(Catalog, HasPixelsAndWires) {
  std::size_t products = 0, wires = 0;
  for (const Entry& entry : entries()) (entry.kind == "product" ? products : wires) += 1;
  EXPECT_GE(products, 12U);
  EXPECT_GE(wires, 15U);
}

TEST(Catalog, EveryEntryHasItsOwnKeyNameSourceAndEdition) {
  std::set<std::string> keys, names;
  for (const Entry& entry : entries()) {
    SCOPED_TRACE(entry.key);
    EXPECT_TRUE(keys.insert(entry.key).second);
    EXPECT_TRUE(names.insert(recordOf(entry).at("name")).second);
    EXPECT_FALSE(entry.source.empty());
    EXPECT_FALSE(entry.edition.empty());
    EXPECT_TRUE(entry.kind == "product" || entry.kind == "wire");
  }
}

TEST(Catalog, FindsByKey) {
  for (const Entry& entry : entries()) EXPECT_EQ(find(entry.key), &entry);
  EXPECT_EQ(find("no_such_part"), nullptr);
}

TEST(Catalog, RecordsStartWithTheirKindAndHoldNoIds) {
  for (const Entry& entry : entries()) {
    SCOPED_TRACE(entry.key);
    EXPECT_TRUE(entry.record.starts_with("{\"kind\":\"" + entry.kind + "\",\"name\":"));
    const nlohmann::json record = recordOf(entry);
    EXPECT_FALSE(record.contains("id"));
    EXPECT_FALSE(record.contains("string_wire"));
    EXPECT_EQ(entry.record.find('\n'), std::string::npos);
  }
}

TEST(Catalog, EveryStringHasAWireOfTheCatalog) {
  for (const Entry& entry : entries()) {
    SCOPED_TRACE(entry.key);
    if (entry.kind == "wire") {
      EXPECT_TRUE(entry.stringWireKey.empty());
      continue;
    }
    const Entry* wire = find(entry.stringWireKey);
    ASSERT_NE(wire, nullptr);
    EXPECT_EQ(wire->kind, "wire");
    EXPECT_EQ(recordOf(*wire).at("conductors"), "power_and_data");
  }
}

TEST(Catalog, PixelFiguresHangTogether) {
  for (const Entry& entry : entries()) {
    if (entry.kind != "product") continue;
    SCOPED_TRACE(entry.key);
    const nlohmann::json p = recordOf(entry);
    const auto count = [&](const char* field) { return p.at(field).get<std::int64_t>(); };
    EXPECT_GT(count("dark_volts"), 0);
    EXPECT_LT(count("dark_volts"), count("lowest_volts"));
    EXPECT_LT(count("lowest_volts"), count("voltage"));
    EXPECT_GE(count("idle"), 0);
    EXPECT_LT(count("idle"), count("full_white"));
    EXPECT_EQ(p.at("color_order").get<std::string>().size(), static_cast<std::size_t>(count("channels")));
    EXPECT_GT(count("wire_spacing"), 0);
    EXPECT_GT(count("mass"), 0);
  }
}

// Bench figures posted publicly by hobbyists lie between 24 and 55 mA for pixels sold under the same words;
// the planning figures are 40 mA at 12 V and 55 mA at 5 V.
TEST(Catalog, HoldsThePlanningFiguresOfNodes) {
  const nlohmann::json twelve = recordOf(*find("node_12v_resistor"));
  EXPECT_EQ(twelve.at("full_white"), 40'000);
  EXPECT_EQ(twelve.at("idle"), 2'000);
  EXPECT_EQ(twelve.at("origin"), "assumed");
  const nlohmann::json five = recordOf(*find("node_5v"));
  EXPECT_EQ(five.at("full_white"), 55'000);
  EXPECT_EQ(five.at("idle"), 1'000);
}

// WS2811 data sheet: 18.5 mA a channel, 12 V through 2.7 kΩ to a regulator of about 5 V.
TEST(Catalog, ThreeLedStripFollowsFromTheDataSheet) {
  const nlohmann::json strip = recordOf(*find("strip_12v_3led_30"));
  const double feed = (12.0 - 5.0) / 2700.0;
  EXPECT_NEAR(strip.at("idle").get<double>() * 1e-6, feed, 0.00001);
  EXPECT_NEAR(strip.at("full_white").get<double>() * 1e-6, 3 * 0.0185 + feed, 0.00005);
  // Three LEDs of at most 3.4 V and 0.6 V for the driver.
  EXPECT_EQ(strip.at("lowest_volts"), 10'800'000);
  EXPECT_EQ(recordOf(*find("node_5v")).at("lowest_volts"), 4'000'000);
}

// TM1814 data sheet: 64 header bits, 200 µs, four channels of at most 38 mA and 10 mA for the chip.
TEST(Catalog, SettableFourColorStripIsAtItsHighestSetting) {
  const nlohmann::json strip = recordOf(*find("strip_12v_tm1814"));
  EXPECT_EQ(strip.at("header_bits"), 64);
  EXPECT_EQ(strip.at("reset"), 200'000);
  EXPECT_EQ(strip.at("full_white"), (4 * 38 + 10) * 1'000);
}

}  // namespace
}  // namespace yw::catalog
