#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/core/papers/paper_yard.h"

namespace yw::papers {
namespace {

using paperyard::PaperYard;
using paperyard::Printed;
using Json = nlohmann::ordered_json;

/// A yard with a fuse that is too large for its wire, twice, and one run that is too long a chain.
yard::Yard troubled() {
  PaperYard y(12);
  for (const Id fuse : {y.fuses1[0], y.fuses2[1]})
    y.e.update<yard::FusePosition>(fuse, [](yard::FusePosition& f) { f.fuse = {40'000'000}; });
  return y.e.yard();
}

TEST(CheckText, HasTheWorstFirstWithFigureLimitSourceAndRemedy) {
  const Printed p(troubled());
  ASSERT_FALSE(p.report.groups.empty());
  const std::string text = checkText(*p.a, p.report);
  EXPECT_TRUE(text.starts_with("Maple corner: Danger "));
  std::size_t before = 0;
  for (const findings::Group& group : p.report.groups) {
    const std::size_t at = text.find(base::text(group.sentence, base::UnitSystem::FeetInches));
    ASSERT_NE(at, std::string::npos);
    EXPECT_GT(at, before);
    before = at;
    const findings::Finding& worst = p.report.findings[group.findings.front()];
    EXPECT_NE(text.find(worst.source, at), std::string::npos);
    if (worst.advice.key.empty()) continue;
    EXPECT_NE(text.find("Remedy: " + base::text(worst.advice, base::UnitSystem::FeetInches), at),
              std::string::npos);
  }
  EXPECT_NE(text.find("▲ Danger: "), std::string::npos);
  EXPECT_NE(text.find("Not checked: wind"), std::string::npos);
  EXPECT_TRUE(text.ends_with("Something is dangerous or will not work.\n"));
  EXPECT_EQ(text.find('\x1b'), std::string::npos);
  EXPECT_EQ(text.find("[papers_"), std::string::npos);
}

TEST(CheckText, AllOfAKindReadAsOneEntryWithTheOthersNamed) {
  const Printed p(troubled());
  const std::string text = checkText(*p.a, p.report);
  std::size_t entries = 0;
  for (std::size_t i = 0; (i = text.find("▲ Danger: ", i)) != std::string::npos; ++i) ++entries;
  std::size_t groups = 0;
  for (const findings::Group& group : p.report.groups)
    groups += group.severity == findings::Severity::Danger ? 1 : 0;
  EXPECT_EQ(entries, groups);
  EXPECT_NE(text.find("    Also: "), std::string::npos);
}

TEST(CheckText, SaysNoFigureWhereThereIsNone) {
  PaperYard y(12);
  const Id prop = yard::all<yard::Prop>(y.e.yard()).front().first;
  y.e.update<yard::Prop>(prop, [](yard::Prop& p) { p.status = yard::PropStatus::NotThisYear; });
  const Printed p(y.e.yard());
  const std::string text = checkText(*p.a, p.report);
  EXPECT_NE(text.find("is not built this year"), std::string::npos);
  EXPECT_EQ(text.find(" against ,"), std::string::npos) << text;
}

TEST(CheckText, SaysThatNothingIsWrong) {
  const Printed p(yard::emptyYard());
  const std::string text = checkText(*p.a, p.report);
  EXPECT_NE(text.find("Nothing needs attention."), std::string::npos);
  EXPECT_TRUE(text.ends_with("Nothing dangerous, nothing that will not work.\n"));
}

TEST(CheckText, TellsWhatIsLeftAsIsAndNotWired) {
  PaperYard y;
  y.addProp("arch", "Spare arch", paperyard::at(12, 5));
  edit::Editor e(y.e.yard());
  e.update<yard::FusePosition>(y.fuses1[0], [](yard::FusePosition& f) { f.fuse = {40'000'000}; });
  const Printed before(e.yard());
  ASSERT_FALSE(before.report.findings.empty());
  const findings::Finding& worst = before.report.findings.front();
  yard::LeftAsIs left;
  left.rule = worst.rule;
  left.subjects = worst.subjects;
  left.condition = worst.condition;
  left.figure = static_cast<std::int64_t>(worst.used * 1e6) + 1;
  left.reason = "a smaller fuse is on order";
  e.add(left);
  const Printed after(e.yard());
  const std::string text = checkText(*after.a, after.report);
  EXPECT_NE(text.find("because a smaller fuse is on order"), std::string::npos) << text;
  EXPECT_NE(text.find("Not wired yet (1): Spare arch"), std::string::npos) << text;
}

TEST(CheckJson, CarriesWhatTheHouseGives) {
  const Printed p{PaperYard{}};
  const Json mains = Json::parse(checkJson(*p.a, p.report))["mains"];
  EXPECT_EQ(mains["code_edition"], "NEC 2023");
  ASSERT_EQ(mains["supplies"].size(), p.a->limit.supplies.size());
  EXPECT_NEAR(mains["supplies"][0]["line_A"].get<double>(), p.a->limit.supplies.begin()->second.lineAmps,
              1e-4);
  EXPECT_EQ(mains["cords"].size(), p.a->limit.mains.cords.size());
  EXPECT_EQ(mains["circuits"].size(), p.a->limit.circuits.size());
  EXPECT_FALSE(mains["fuses"].empty());
  double lines = 0.0, circuits = 0.0;
  for (const Json& supply : mains["supplies"]) lines += supply["line_A"].get<double>();
  for (const Json& circuit : mains["circuits"])
    circuits += circuit["amps"].get<double>() - circuit["other_loads_A"].get<double>();
  EXPECT_NEAR(lines, circuits, 1e-3) << "every supply of this yard is plugged in";
  EXPECT_TRUE(mains["energy"]["cost"].is_null());
}

TEST(CheckText, TellsWhatTheHouseGives) {
  PaperYard y;
  y.e.update<yard::Site>(yard::siteId(y.e.yard()), [](yard::Site& s) {
    s.showFrom = s.showTo = "2026-12-24";
    s.hoursANight = {static_cast<std::int64_t>(5 * 3600) * 1'000'000'000};
  });
  y.e.update<yard::Settings>(yard::settingsId(y.e.yard()),
                             [](yard::Settings& s) { s.energyPrice = {2'000}; });
  const Printed p{y};
  const std::string text = checkText(*p.a, p.report);
  EXPECT_NE(text.find("From the house: "), std::string::npos);
  EXPECT_NE(text.find("in 1 night: $"), std::string::npos) << text;
}

TEST(CheckJson, IsVersionedAndInAStableOrder) {
  const Printed p(troubled());
  const std::string bytes = checkJson(*p.a, p.report);
  EXPECT_EQ(bytes, checkJson(*p.a, p.report));
  const Json read = Json::parse(bytes);
  std::vector<std::string> keys;
  for (const auto& [key, value] : read.items()) keys.push_back(key);
  EXPECT_EQ(keys,
            (std::vector<std::string>{"format", "version", "yard", "failing", "counts", "groups", "findings",
                                      "left_as_is", "not_wired", "totals", "mains", "margins", "measured",
                                      "origins", "conditions", "faults", "not_checked"}));
  EXPECT_EQ(read["format"], "yardwright-check");
  EXPECT_EQ(read["version"], 1);
  EXPECT_EQ(read["failing"], p.report.failing);
  EXPECT_EQ(read["findings"].size(), p.report.findings.size());
  EXPECT_EQ(read["groups"].size(), p.report.groups.size());
  EXPECT_EQ(read["counts"]["danger"].get<std::int64_t>() + read["counts"]["wont_work"].get<std::int64_t>() +
                read["counts"]["close_to_limit"].get<std::int64_t>() +
                read["counts"]["note"].get<std::int64_t>(),
            static_cast<std::int64_t>(p.report.findings.size()));
}

TEST(CheckJson, AFindingHasPlaceFigureLimitAndUnits) {
  const Printed p(troubled());
  const Json read = Json::parse(checkJson(*p.a, p.report));
  const Json& first = read["findings"][0];
  const findings::Finding& finding = p.report.findings.front();
  EXPECT_EQ(first["rule"], finding.rule);
  EXPECT_NEAR(first["place"]["x_m"].get<double>(), finding.place.x, 1e-4);
  EXPECT_NEAR(first["used"].get<double>(), finding.used, 1e-6);
  if (const auto* amps = std::get_if<base::Current>(&finding.figure)) {
    EXPECT_EQ(first["figure"]["unit"], "A");
    EXPECT_DOUBLE_EQ(first["figure"]["value"].get<double>(), static_cast<double>(amps->count) / 1e6);
  }
  EXPECT_EQ(first["figure"]["text"], base::text(finding.figure, base::UnitSystem::FeetInches));
  EXPECT_EQ(first["subjects"][0]["id"], finding.subjects.front().value);
}

TEST(FindingsTable, HasOneRowAFinding) {
  const Printed p(troubled());
  const Table table = findingsTable(*p.a, p.report);
  ASSERT_EQ(table.rows.size(), p.report.findings.size());
  EXPECT_EQ(table.rows[0][0], "Danger");
  EXPECT_EQ(table.rows[0][3], base::text(p.report.findings[0].sentence, base::UnitSystem::FeetInches));
}

}  // namespace
}  // namespace yw::papers
