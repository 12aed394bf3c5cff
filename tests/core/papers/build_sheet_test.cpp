#include <gtest/gtest.h>

#include <cmath>

#include "core/edit/change.h"
#include "core/papers/gallery.h"
#include "core/papers/papers.h"

namespace yw::papers {
namespace {

struct Bench {
  edit::Editor editor{yard::emptyYard()};
  Id add(const std::string& kind, const std::string& name,
         const std::map<std::string, std::int64_t>& sizes = {}) {
    yard::Prop prop = shapes::usualProp(kind);
    prop.name = name;
    for (const auto& [size, value] : sizes) prop.sizes[size] = value;
    return editor.add(prop);
  }
  Document print(Id prop) const {
    const auto assessment = assess::assess(editor.yard());
    return document(*assessment, findings::report(*assessment), {{yard::SheetKind::Build, prop}});
  }
};

bool says(const Document& document, const std::string& words) {
  for (const Page& page : document.pages)
    for (const Item& item : page.items)
      if (item.type == Item::Type::Text && item.text.find(words) != std::string::npos) return true;
  return false;
}

TEST(BuildSheet, IsOneForPropsBuiltAlike) {
  Bench bench;
  const Id first = bench.add("arch", "Arch 1");
  bench.add("arch", "Arch 2");
  const Id other = bench.add("arch", "Arch 3", {{"radius", base::inches(30).count}});
  const auto assessment = assess::assess(bench.editor.yard());
  const auto sheets = buildSheetsOf(*assessment);
  ASSERT_EQ(sheets.size(), 2u);
  EXPECT_EQ(sheets[0].subject, first);
  EXPECT_EQ(sheets[1].subject, other);
  EXPECT_TRUE(says(bench.print(first), "Arch 2"));
}

TEST(BuildSheet, IsNotMadeForWhatIsNotBuiltThisYear) {
  Bench bench;
  const Id later = bench.add("arch", "Arch 1");
  const Id idea = bench.add("ring", "Ring");
  bench.editor.update<yard::Prop>(later, [](auto& p) { p.status = yard::PropStatus::NotThisYear; });
  bench.editor.update<yard::Prop>(idea, [](auto& p) { p.status = yard::PropStatus::Idea; });
  const auto sheets = buildSheetsOf(*assess::assess(bench.editor.yard()));
  ASSERT_EQ(sheets.size(), 1u);
  EXPECT_EQ(sheets[0].subject, idea);
}

TEST(BuildSheet, HasBothViewsRowsCutsAndTruePitch) {
  Bench bench;
  const Document sheet = bench.print(bench.add("cone_tree", "Tree"));
  for (const char* words : {"FRONT VIEW", "BACK VIEW, mirrored", "strip 16, down", "12′", "hook or screw",
                            "1 1/2 in thin-wall conduit, 10 ft", "perforated strip, 8 ft"})
    EXPECT_TRUE(says(sheet, words)) << words;
  const Document panel =
      bench.print(bench.add("mesh_panel", "Panel", {{"pitch", base::kNanometresPerInch * 23 / 10}}));
  EXPECT_TRUE(says(panel, "2 1/2″ as built (2 5/16″"));
}

// Holes 50 mm apart lie 50 mm apart on the paper, and the rule is 100 mm long.
TEST(DrillTemplate, IsTrueToSizeWithARuleThatShowsIt) {
  Bench bench;
  const Id prop = bench.add("mesh_panel", "Small panel",
                            {{"width", base::millimetres(150).count},
                             {"height", base::millimetres(200).count},
                             {"pitch", base::inches(2).count}});
  const Document sheet = bench.print(prop);
  const Page& page = sheet.pages.back();
  bool rule = false;
  std::vector<Mm> crosses;
  for (const Item& item : page.items) {
    if (item.type != Item::Type::Line || item.points.size() != 2) continue;
    const double length =
        std::hypot(item.points[1].x - item.points[0].x, item.points[1].y - item.points[0].y);
    rule = rule || std::abs(length - 100) < 0.01;
    if (std::abs(length - 6) < 0.001 && item.points[0].y == item.points[1].y)
      crosses.push_back({(item.points[0].x + item.points[1].x) / 2, item.points[0].y});
  }
  EXPECT_TRUE(rule);
  ASSERT_EQ(crosses.size(), 6u);  // floor(150 / 50.8) x floor(200 / 50.8)
  EXPECT_NEAR(std::abs(crosses[1].y - crosses[0].y), 50.8, 0.01);
  EXPECT_TRUE(says(sheet, "print again at 100 %"));
}

TEST(Gallery, DrawsEveryKind) {
  const std::string html = gallery(base::UnitSystem::FeetInches);
  for (const shapes::Kind& kind : shapes::kinds())
    EXPECT_NE(html.find("<h2>" + kind.label + "</h2>"), std::string::npos) << kind.name;
  EXPECT_EQ(html, gallery(base::UnitSystem::FeetInches));
  EXPECT_EQ(html.find("[papers_"), std::string::npos);
}

}  // namespace
}  // namespace yw::papers
