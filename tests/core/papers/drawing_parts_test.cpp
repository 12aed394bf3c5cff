#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "core/papers/digest.h"
#include "core/papers/hatch.h"
#include "core/papers/label_placer.h"
#include "core/papers/paper_table.h"
#include "tests/core/papers/paper_yard.h"

namespace yw::papers {
namespace {

using paperyard::PaperYard;

TEST(Hatch, FillsASquareAtItsSpacing) {
  const auto strokes = hatchStrokes({{0, 0}, {20, 0}, {20, 20}, {0, 20}}, 2.0, 45.0);
  double total = 0.0;
  for (const auto& [a, b] : strokes) {
    total += std::hypot(a.x - b.x, a.y - b.y);
    EXPECT_NEAR(a.x - b.x, -(a.y - b.y), 1e-9);  // rises to the right; paper's y is down
    for (const Mm p : {a, b}) {
      EXPECT_GE(p.x, -1e-9);
      EXPECT_LE(p.x, 20 + 1e-9);
    }
  }
  EXPECT_NEAR(total * 2.0, 400.0, 25.0);  // strokes times spacing is the area
}

TEST(Hatch, LeavesAHoleOfAConcaveOutlineFree) {
  const std::vector<Mm> u{{0, 0}, {30, 0}, {30, 20}, {20, 20}, {20, 5}, {10, 5}, {10, 20}, {0, 20}};
  for (const auto& [a, b] : hatchStrokes(u, 1.5, 0.0)) {
    const Mm middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
    EXPECT_FALSE(middle.y > 5.01 && middle.x > 10.01 && middle.x < 19.99);
  }
  EXPECT_TRUE(hatchStrokes({{0, 0}, {1, 1}}, 1.0, 45).empty());
}

TEST(ArrowHead, StandsAtTheLastPointAlongTheLine) {
  const std::vector<Mm> head = arrowHead({{0, 0}, {10, 0}}, 0.35);
  ASSERT_EQ(head.size(), 3U);
  EXPECT_EQ(head[0], (Mm{10, 0}));
  EXPECT_LT(head[1].x, 10);
  EXPECT_NEAR(head[1].y, -head[2].y, 1e-12);
  EXPECT_TRUE(arrowHead({{1, 1}, {1, 1}}, 1).empty());
}

TEST(LabelPlacer, StandsClearOfWhatIsTaken) {
  Occupancy taken({0, 0, 100, 100});
  const Rect prop{40, 40, 20, 20};
  taken.markRect(prop, Occupancy::Weight::Hard);
  for (int i = 0; i < 6; ++i) {
    const PlacedLabel label = placeBeside(taken, prop, {}, 18, 5);
    EXPECT_TRUE(label.clear) << i;
    const bool apart = label.box.right() <= prop.x || label.box.x >= prop.right() ||
                       label.box.bottom() <= prop.y || label.box.y >= prop.bottom();
    EXPECT_TRUE(apart) << i;
  }
}

TEST(LabelPlacer, SaysWhenThereIsNoClearPlace) {
  Occupancy taken({0, 0, 60, 60});
  taken.markRect({0, 0, 60, 60}, Occupancy::Weight::Hard);
  EXPECT_FALSE(placeBeside(taken, {28, 28, 4, 4}, {}, 15, 5).clear);
}

TEST(LabelPlacer, AStepAsideHasALeaderToTheThing) {
  Occupancy taken({0, 0, 100, 100});
  taken.markRect({30, 30, 40, 40}, Occupancy::Weight::Hard);
  const PlacedLabel label = placeBeside(taken, {49, 49, 2, 2}, {{50, 50}}, 10, 4);
  ASSERT_TRUE(label.clear);
  EXPECT_EQ(label.leaderTo, (Mm{50, 50}));
  EXPECT_FALSE(label.leaderFrom == label.leaderTo);
}

TEST(LabelPlacer, TextAlongALineIsNeverUpsideDown) {
  for (const auto& [to, turn] : std::vector<std::pair<Mm, double>>{{{90, 50}, 0},
                                                                   {{10, 50}, 0},
                                                                   {{50, 10}, 90},
                                                                   {{50, 90}, 90},
                                                                   {{85, 15}, 45},
                                                                   {{15, 85}, 45},
                                                                   {{85, 85}, -45}}) {
    Occupancy taken({0, 0, 100, 100});
    const LineLabel label = placeAlong(taken, {{50, 50}, to}, 20, 3);
    ASSERT_TRUE(label.placed);
    EXPECT_NEAR(label.turn, turn, 1e-6);
  }
  Occupancy taken({0, 0, 100, 100});
  EXPECT_FALSE(placeAlong(taken, {{50, 50}, {60, 50}}, 20, 3).placed) << "too short a piece";
}

TEST(Naturally, TwoComesBeforeTen) {
  EXPECT_TRUE(naturalLess("Arch 2", "Arch 10"));
  EXPECT_FALSE(naturalLess("Arch 10", "Arch 2"));
  EXPECT_TRUE(naturalLess("K1-P09", "K1-P10"));
  EXPECT_TRUE(naturalLess("K1", "K1-P01"));
  EXPECT_FALSE(naturalLess("K1", "K1"));
}

TEST(PowerPoints, ShareARunWithoutGapOrOverlap) {
  const PaperYard y;
  const auto a = y.assessed();
  const Digest d(*a);
  for (const Id run : d.runs()) {
    std::int64_t next = 1;
    for (const PowerPoint& point : d.powerPoints(run)) {
      EXPECT_EQ(point.first, next);
      EXPECT_GE(point.last, point.first - 1);
      next = point.last + 1;
    }
    EXPECT_EQ(next, static_cast<std::int64_t>(a->layouts.at(run)->pixels.size()) + 1) << d.label(run);
  }
  const PowerPoint cut = d.powerPoint(y.feed2);
  EXPECT_TRUE(cut.cut);
  EXPECT_TRUE(cut.alone) << "V+ is cut before it and nothing feeds in after it";
  EXPECT_EQ(cut.first, cut.pixel) << "before the cut the port feeds";
  EXPECT_FALSE(d.powerPoint(y.feed1).alone);
}

TEST(Pieces, TellWhereDataEntersATurnedStretch) {
  const PaperYard y;
  const auto a = y.assessed();
  const Digest d(*a);
  const std::vector<Piece> pieces = d.pieces(y.run2);
  ASSERT_EQ(pieces.size(), 2U);
  const auto& tree = *a->shapes.at(y.tree);
  EXPECT_EQ(pieces[0].entered, static_cast<std::int64_t>(tree.pixels.size()));
  EXPECT_EQ(pieces[0].left, 1);
  EXPECT_EQ(pieces[0].enters, tree.out.landmark);
  EXPECT_EQ(pieces[0].leaves, tree.in.landmark);
  EXPECT_EQ(pieces[1].first, pieces[0].last + 1);
}

TEST(Pieces, LeaveOutWhatRestsThisYear) {
  const PaperYard y;
  edit::Editor editor(y.assessed()->yard);
  editor.update<yard::Prop>(y.tree, [](yard::Prop& p) { p.status = yard::PropStatus::NotThisYear; });
  const auto a = assess::assess(editor.yard());
  const std::vector<Piece> pieces = Digest(*a).pieces(y.run2);
  ASSERT_EQ(pieces.size(), 1U);
  EXPECT_EQ(pieces[0].item, 1);
  EXPECT_EQ(pieces[0].first, 1);
}

PaperTable wide(int rows, const std::string& words) {
  PaperTable table;
  table.column("Id").column("Words").column("Amps", Align::Right).column("Done", Align::Center);
  for (int i = 0; i < rows; ++i)
    table.row(Id{7}, {idCell("K1-P" + std::to_string(i)), textCell(words), textCell("1.20 A"), tickCell()});
  return table;
}

TEST(PaperTable, ColumnsFillTheWidthAndKeepShortWordsWhole) {
  const PaperTable table =
      wide(3, "a rather long sentence that has to be broken into several lines to fit into its column");
  const std::vector<double> widths = columnWidths(table, 120.0);
  EXPECT_NEAR(std::accumulate(widths.begin(), widths.end(), 0.0), 120.0, 1e-6);
  EXPECT_GE(widths[2], textWidth("1.20 A", kTextSize));
  const std::vector<double> narrow = columnWidths(table, 30.0);
  EXPECT_NEAR(std::accumulate(narrow.begin(), narrow.end(), 0.0), 30.0, 1e-6);
}

TEST(PaperTable, RepeatsItsHeadsOnEveryPage) {
  SheetPages sheet(yard::PaperSize::Letter, Id{7}, {"Title", "Yard", "Care.", "Not checked: x.", "", ""});
  draw(sheet, wide(60, "some words"));
  ASSERT_GT(sheet.count(), 2U);
  std::size_t heads = 0, rows = 0;
  for (const Page& page : sheet.pages())
    for (const Item& item : page.items) {
      heads += item.text == "Words" ? 1 : 0;
      rows += item.text == "some words" ? 1 : 0;
    }
  EXPECT_EQ(heads, sheet.count());
  EXPECT_EQ(rows, 60U);
}

TEST(PaperTable, ARowLongerThanAPageGoesOnAndLosesNoWord) {
  std::string words;
  for (int i = 0; i < 900; ++i) words += (i == 0 ? "w" : " w") + std::to_string(i);
  SheetPages sheet(yard::PaperSize::Letter, Id{7}, {"Title", "Yard", "Care.", "Not checked: x.", "", ""});
  draw(sheet, wide(1, words));
  EXPECT_GT(sheet.count(), 1U);
  std::string joined;
  for (const Page& page : sheet.pages())
    for (const Item& item : page.items)
      if (item.type == Item::Type::Text && item.text.starts_with("w"))
        joined += (joined.empty() ? "" : " ") + item.text;
  EXPECT_EQ(joined, words);
  for (const Page& page : sheet.pages())
    for (const Item& item : page.items)
      for (const Mm p : item.points) EXPECT_LE(p.y, sheet.bottom() + 1e-6);
}

}  // namespace
}  // namespace yw::papers
