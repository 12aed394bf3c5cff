// Two yards side by side: the figures are the engine's, what differs is named.
#include "core/papers/compare.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/core/papers/paper_yard.h"

namespace yw::papers {
namespace {

using paperyard::PaperYard;
using Json = nlohmann::json;

Side sideOf(const char* name, const yard::Yard& yard) {
  auto a = assess::assess(yard);
  auto report = std::make_shared<const findings::Report>(findings::report(*a));
  return {name, a, report};
}

struct Two {
  PaperYard y;
  Side first, second;
  base::Id star;
  Two() : first(sideOf("The yard", y.e.yard())) {
    edit::Editor e(y.e.yard());
    e.remove(y.feed1);
    e.update<yard::Prop>(y.arch, [](yard::Prop& p) {
      p.name = "Other arch";
      p.at.x.count += 1'000'000'000;
    });
    second = sideOf("One feed less", e.yard());
  }
  std::vector<Side> both() const { return {first, second}; }
};

const std::vector<std::string>& rowOf(const Table& table, const std::string& what) {
  for (const auto& row : table.rows)
    if (row[0].starts_with(what)) return row;
  throw std::runtime_error("no row " + what);
}

TEST(Compare, FiguresAreTheEnginesOnEachSide) {
  const Two t;
  const Table table = comparedFigures(t.both());
  EXPECT_EQ(table.heads, (std::vector<std::string>{"", "The yard", "One feed less", "Difference"}));
  EXPECT_EQ(rowOf(table, "Props")[1], std::to_string(t.first.assessment->totals.props));
  EXPECT_EQ(rowOf(table, "Feeds")[2], std::to_string(t.second.assessment->totals.feeds));
  EXPECT_EQ(rowOf(table, "Feeds")[3], "-1");
  EXPECT_EQ(rowOf(table, "Props")[3], "");
  EXPECT_EQ(rowOf(table, "Danger")[1],
            std::to_string(findings::countOf(*t.first.report, findings::Severity::Danger)));
  double lowest = 1e9;
  for (const auto& [id, run] : t.second.assessment->limit.runs)
    if (run.lowestPixel) lowest = std::min(lowest, run.lowestVolts);
  EXPECT_NEAR(std::stod(rowOf(table, "Lowest volts")[2]), lowest, 0.006);
  double amps = 0.0;
  for (const auto& [id, supply] : t.first.assessment->fullWhite.supplies) amps += supply.amps;
  EXPECT_NEAR(std::stod(rowOf(table, "Amps at full white")[1]), amps, 0.06);
  EXPECT_EQ(rowOf(table, "Cost")[1], "") << "nothing has a price: no cost is not no money";
  const std::vector<Side> three{t.first, t.second, t.first};
  EXPECT_EQ(comparedFigures(three).keys.size(), 4u);
}

TEST(Compare, NamesWhatIsOtherwise) {
  const Two t;
  const Table table = differences(t.first, t.second);
  EXPECT_TRUE(std::any_of(table.rows.begin(), table.rows.end(), [](const auto& row) {
    return row[0] == "Other arch" && row[1] == "Prop" && row[2] == "changed: Name, Place";
  })) << tsv(table);
  EXPECT_TRUE(std::any_of(table.rows.begin(), table.rows.end(), [](const auto& row) {
    return row[1] == "Cable" && row[2] == "only in The yard";
  })) << tsv(table);
  EXPECT_EQ(table.rows.size(), table.rowRecord.size());
  EXPECT_TRUE(differences(t.first, t.first).rows.empty());
  EXPECT_TRUE(comparedParts({t.first, t.first}).rows.empty());
  const Table parts = comparedParts(t.both()), all = sideBySide(t.both());
  ASSERT_FALSE(parts.rows.empty());
  EXPECT_EQ(all.rows.size(), comparedFigures(t.both()).rows.size() + parts.rows.size());
  EXPECT_EQ(all.rows.back()[0], "To buy: " + parts.rows.back()[0]);
  for (const auto& cells : all.rows) EXPECT_EQ(cells.size(), all.keys.size());
}

TEST(Compare, TextAndJsonSayTheSame) {
  const Two t;
  const Json json = Json::parse(compareJson(t.both()));
  EXPECT_EQ(json.at("format"), "yardwright-compare");
  EXPECT_EQ(json.at("sides").size(), 2u);
  EXPECT_EQ(json.at("sides").at(1).at("name"), "One feed less");
  EXPECT_EQ(json.at("sides").at(1).at("figures").at("feeds"), t.second.assessment->totals.feeds);
  const std::string text = compareText(t.both());
  for (const char* said : {"Props", "Difference", "Other arch", "changed: Name, Place"})
    EXPECT_NE(text.find(said), std::string::npos) << text;
  EXPECT_NE(compareText({t.first, t.first}).find("Nothing."), std::string::npos);
  EXPECT_EQ(compareText(t.both()), text);
}

}  // namespace
}  // namespace yw::papers
