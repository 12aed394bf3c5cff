// Placing by two tapes: from fixed points and typed lengths, over other tools and for what is selected.
#include <gtest/gtest.h>

#include <QLineEdit>
#include <cmath>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/tools/draw_tool.h"
#include "ui/canvas/tools/inline_entry.h"
#include "ui/canvas/tools/place_tool.h"
#include "ui/canvas/tools/tape_tool.h"

namespace yw::ui {
namespace {

using yard::FeatureKind;

QLineEdit* entryOf(CanvasView& view) {
  for (QLineEdit* edit : view.viewport()->findChildren<QLineEdit*>(QStringLiteral("inlineLength")))
    if (edit->isVisible()) return edit;
  return nullptr;
}

void type(CanvasView& view, const QString& text) {
  QLineEdit* edit = entryOf(view);
  ASSERT_NE(edit, nullptr) << text.toStdString();
  edit->setText(text);
  QTest::keyClick(edit, Qt::Key_Return);
}

double apart(base::Point a, base::Point b) { return base::distance(base::vec(a), base::vec(b)); }

struct TapeBench : Bench<> {
  base::Id bed;
  TapeBench() {
    yard::GroundFeature made;
    made.name = "Deck";
    made.outline = {base::point(base::Vec2{-2, -1}), base::point(base::Vec2{2, -1}),
                    base::point(base::Vec2{0, -2})};
    bed = add(made);
    lookAtOrigin();
  }
  base::Point corner(std::size_t i) const { return get<yard::GroundFeature>(bed).outline[i]; }
};

TEST(TapeTool, PlacesAnOutletAtTheTypedLengthsFromTwoCornersOnTheClickedSide) {
  TapeBench bench;
  bench.view.placeGear(yard::RecordKind::Outlet);
  key(bench.view, Qt::Key_T);
  click(bench.view, bench.at(-2, -1));
  click(bench.view, bench.at(2, -1));
  type(bench.view, QStringLiteral("8' 6\""));
  type(bench.view, QStringLiteral("7'"));
  hover(bench.view, bench.at(0, 1));
  click(bench.view, bench.at(0, 1));
  const auto outlets = yard::all<yard::Outlet>(bench.document.yard());
  ASSERT_EQ(outlets.size(), 1U);
  EXPECT_NEAR(apart(outlets[0].second->at, bench.corner(0)), base::metres(base::inches(102)).si, 1e-6);
  EXPECT_NEAR(apart(outlets[0].second->at, bench.corner(1)), base::metres(base::feet(7)).si, 1e-6);
  EXPECT_GT(outlets[0].second->at.y.count, bench.corner(0).y.count);
  EXPECT_EQ(bench.undoName(), "Place Outlet");
  bench.document.undo();
  EXPECT_TRUE(yard::all<yard::Outlet>(bench.document.yard()).empty());
}

TEST(TapeTool, DrawsCornersByKeyboardAloneAndKeepsTheFixedPoints) {
  TapeBench bench;
  bench.view.drawFeature(FeatureKind::Walk);
  key(bench.view, Qt::Key_T);
  // The deck's corners come first among the fixed points.
  key(bench.view, Qt::Key_PageDown);
  key(bench.view, Qt::Key_Return);
  key(bench.view, Qt::Key_PageDown);
  key(bench.view, Qt::Key_Return);
  const std::pair<const char*, const char*> tapes[] = {{"3m", "3m"}, {"3.5m", "3.5m"}, {"2.2m", "3.2m"}};
  for (const auto& [a, b] : tapes) {
    if (entryOf(bench.view) == nullptr) key(bench.view, Qt::Key_T);
    type(bench.view, QString::fromLatin1(a));
    type(bench.view, QString::fromLatin1(b));
    key(bench.view, Qt::Key_Up);
    key(bench.view, Qt::Key_Return);
  }
  key(bench.view, Qt::Key_Return);
  const auto features = yard::all<yard::GroundFeature>(bench.document.yard());
  ASSERT_EQ(features.size(), 2U);
  const auto& outline = features.back().second->outline;
  ASSERT_EQ(outline.size(), 3U);
  const auto& fixed = bench.view.tapes().points;
  ASSERT_EQ(fixed.size(), 2U);
  EXPECT_NEAR(apart(outline[2], pointOf(fixed[0].at)), 2.2, 1e-6);
  EXPECT_NEAR(apart(outline[2], pointOf(fixed[1].at)), 3.2, 1e-6);
}

TEST(TapeTool, SaysByHowMuchTapesMissAndLetsTheLengthBeMended) {
  TapeBench bench;
  bench.view.drawFeature(FeatureKind::Walk);
  key(bench.view, Qt::Key_T);
  click(bench.view, bench.at(-2, -1));
  click(bench.view, bench.at(2, -1));
  type(bench.view, QStringLiteral("1.5m"));
  type(bench.view, QStringLiteral("2m"));
  auto* tool = dynamic_cast<TapeTool*>(&bench.view.tool());
  ASSERT_NE(tool, nullptr);
  EXPECT_FALSE(tool->candidate());
  EXPECT_TRUE(tool->status().contains(QStringLiteral("too short"))) << tool->status().toStdString();
  type(bench.view, QStringLiteral("3m"));
  ASSERT_TRUE(tool->candidate());
  EXPECT_TRUE(tool->note().join(' ').contains(QStringLiteral("within")));
}

TEST(TapeTool, TellsTheErrorOfThePlaceFromThatOfTheTapes) {
  TapeBench bench;
  bench.view.drawFeature(FeatureKind::Walk);
  key(bench.view, Qt::Key_T);
  click(bench.view, bench.at(-2, -1));
  click(bench.view, bench.at(2, -1));
  const double square = 4.0 / std::sqrt(2.0);  // the tapes cross squarely
  type(bench.view, QString::number(square, 'f', 6) + "m");
  type(bench.view, QString::number(square, 'f', 6) + "m");
  key(bench.view, Qt::Key_1, {}, false, QStringLiteral("1"));
  type(bench.view, QStringLiteral("1in"));
  auto* tool = dynamic_cast<TapeTool*>(&bench.view.tool());
  ASSERT_NE(tool, nullptr);
  EXPECT_EQ(bench.view.tapes().error, base::inches(1));
  const QString note = tool->note().join('\n');
  EXPECT_TRUE(note.contains(QStringLiteral("90°"))) << note.toStdString();
  EXPECT_TRUE(note.contains(QStringLiteral("1 7/16″")) || note.contains(QStringLiteral("1 13/32″")))
      << note.toStdString();
}

TEST(TapeTool, MovesTheSelectedThingInOneStepAndEscapeGivesTheToolBack) {
  TapeBench bench;
  const base::Id ring = bench.addProp("ring", "Ring", 0, 3);
  bench.document.selection().set({ring});
  bench.view.placeByTapes();
  click(bench.view, bench.at(-2, -1));
  click(bench.view, bench.at(2, -1));
  type(bench.view, QStringLiteral("4m"));
  type(bench.view, QStringLiteral("5m"));
  hover(bench.view, bench.at(0, 2));
  key(bench.view, Qt::Key_Return);
  const auto* prop = yard::find<yard::Prop>(bench.document.yard(), ring);
  EXPECT_NEAR(apart(prop->at, bench.corner(0)), 4.0, 1e-6);
  EXPECT_NEAR(apart(prop->at, bench.corner(1)), 5.0, 1e-6);
  EXPECT_TRUE(bench.view.selecting());
  bench.view.drawFeature(FeatureKind::Walk);
  click(bench.view, bench.at(1, 1));
  key(bench.view, Qt::Key_T);
  EXPECT_NE(dynamic_cast<TapeTool*>(&bench.view.tool()), nullptr);
  key(bench.view, Qt::Key_Escape);
  auto* draw = dynamic_cast<DrawTool*>(&bench.view.tool());
  if (!draw) {  // the first Escape put the field away
    key(bench.view, Qt::Key_Escape);
    draw = dynamic_cast<DrawTool*>(&bench.view.tool());
  }
  ASSERT_NE(draw, nullptr);
  EXPECT_EQ(draw->corners().size(), 1U);
}

}  // namespace
}  // namespace yw::ui
