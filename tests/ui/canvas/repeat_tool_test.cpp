// Repeating: as many copies as asked, at even steps, in one step of the history.
#include <gtest/gtest.h>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/front_view.h"
#include "ui/canvas/tools/repeat_tool.h"

namespace yw::ui {
namespace {

std::vector<base::Vec2> places(const Document& document) {
  std::vector<base::Vec2> all;
  for (const auto& [id, prop] : yard::all<yard::Prop>(document.yard())) all.push_back(base::vec(prop->at));
  return all;
}

struct One : Bench<> {
  base::Id arch;
  One() {
    arch = addProp("arch", "Arch 1", -2, 0);
    lookAtOrigin();
    view.setSnaps(false);
    document.selection().set({arch});
  }
};

TEST(RepeatTool, ALineOfFiveAtEvenSteps) {
  One one;
  one.view.repeatSelected(RepeatKind::Line);
  hover(one.view, one.at(2, 0));
  key(one.view, Qt::Key_5, {}, false, QStringLiteral("5"));
  const std::size_t steps = one.steps();
  click(one.view, one.at(2, 0));
  EXPECT_EQ(one.steps(), steps + 1);
  EXPECT_EQ(one.undoName(), "Repeat Arch 1");
  const auto all = places(one.document);
  ASSERT_EQ(all.size(), 5U);
  for (std::size_t i = 0; i < 5; ++i) EXPECT_NEAR(all[i].x, -2.0 + static_cast<double>(i), 0.01);
  EXPECT_EQ(one.chosen().size(), 5U);
  const auto arrays = yard::all<yard::PropArray>(one.document.yard());
  ASSERT_EQ(arrays.size(), 1U);
  EXPECT_EQ(arrays[0].second->members.size(), 5U);
  one.document.undo();
  EXPECT_EQ(places(one.document).size(), 1U);
}

TEST(RepeatTool, AGridOfThreeByTwo) {
  One one;
  one.view.repeatSelected(RepeatKind::Grid);
  click(one.view, one.at(0, 0));
  key(one.view, Qt::Key_Plus);
  key(one.view, Qt::Key_Minus);
  click(one.view, one.at(-2, -1.5));
  const auto all = places(one.document);
  ASSERT_EQ(all.size(), 6U);
  EXPECT_EQ(std::count_if(all.begin(), all.end(), [](base::Vec2 p) { return p.y < -1.4; }), 3);
}

TEST(RepeatTool, ACircleTurnsTheCopiesAlong) {
  One one;
  one.view.repeatSelected(RepeatKind::Circle);
  hover(one.view, one.at(0, 0));
  key(one.view, Qt::Key_4, {}, false, QStringLiteral("4"));
  click(one.view, one.at(0, 0));
  const auto props = yard::all<yard::Prop>(one.document.yard());
  ASSERT_EQ(props.size(), 4U);
  for (const auto& [id, prop] : props) EXPECT_NEAR(base::norm(base::vec(prop->at)), 2.0, 0.02);
  EXPECT_EQ(props[1].second->heading, base::toAngle(90));
  EXPECT_EQ(props[2].second->heading, base::toAngle(180));
}

TEST(RepeatTool, MirroringFlipsTheHeading) {
  One one;
  one.view.turnSelected(base::toAngle(30));
  one.view.repeatSelected(RepeatKind::Mirror);
  click(one.view, one.at(0, 1));
  const auto props = yard::all<yard::Prop>(one.document.yard());
  ASSERT_EQ(props.size(), 2U);
  EXPECT_NEAR(base::vec(props[1].second->at).x, 2.0, 0.02);
  EXPECT_NEAR(base::vec(props[1].second->at).y, 0.0, 1e-9);
  EXPECT_EQ(props[1].second->heading, base::toAngle(330));
  EXPECT_EQ(one.undoName(), "Mirror Arch 1");
}

TEST(RepeatTool, AlongALineEvenlyByItsLengthInOneStep) {
  One one;
  one.view.repeatSelected(RepeatKind::Path);
  click(one.view, one.at(0, 0));
  click(one.view, one.at(0, 2));
  key(one.view, Qt::Key_5, {}, false, QStringLiteral("5"));
  key(one.view, Qt::Key_T);
  const std::size_t steps = one.steps();
  key(one.view, Qt::Key_Return);
  EXPECT_EQ(one.steps(), steps + 1);
  EXPECT_EQ(one.undoName(), "Repeat Arch 1");
  const auto all = places(one.document);  // 4 m of line: one each meter
  ASSERT_EQ(all.size(), 5U);
  const base::Vec2 wanted[] = {{-2, 0}, {-1, 0}, {0, 0}, {0, 1}, {0, 2}};
  for (std::size_t i = 0; i < 5; ++i) EXPECT_LE(base::distance(all[i], wanted[i]), 0.01) << i;
  const auto props = yard::all<yard::Prop>(one.document.yard());
  EXPECT_EQ(props[1].second->heading, props[0].second->heading);
  EXPECT_EQ((props[4].second->heading - props[0].second->heading).count, base::toAngle(90).count);
  one.document.undo();
  EXPECT_EQ(places(one.document).size(), 1U);
}

TEST(RepeatTool, AlongALineBackspaceTakesAPlaceBackAndEscapeStartsAnew) {
  One one;
  one.view.repeatSelected(RepeatKind::Path);
  click(one.view, one.at(0, 0));
  click(one.view, one.at(0, 2));
  key(one.view, Qt::Key_Backspace);
  key(one.view, Qt::Key_Return);
  EXPECT_LE(base::distance(places(one.document).back(), base::Vec2{0, 0}), 0.01);
  one.document.undo();
  one.document.selection().set({one.arch});
  one.view.repeatSelected(RepeatKind::Path);
  click(one.view, one.at(0, 0));
  key(one.view, Qt::Key_Escape);
  EXPECT_FALSE(one.view.selecting());
  key(one.view, Qt::Key_Escape);
  EXPECT_TRUE(one.view.selecting());
  EXPECT_EQ(places(one.document).size(), 1U);
}

TEST(RepeatTool, EscapeGoesBackToTheRowThenLeavesAndChangesNothing) {
  One one;
  const std::size_t steps = one.steps();
  one.view.repeatSelected(RepeatKind::Grid);
  click(one.view, one.at(0, 0));
  key(one.view, Qt::Key_Escape);
  EXPECT_FALSE(one.view.selecting());
  key(one.view, Qt::Key_Escape);
  EXPECT_TRUE(one.view.selecting());
  EXPECT_EQ(one.steps(), steps);
}

TEST(RepeatTool, OnAWallCopiesStayInItsFrame) {
  Bench<FrontView> bench;
  yard::Wall wall;
  wall.from = base::point(base::Vec2{2, 1});
  wall.to = base::point(base::Vec2{2, 11});
  const base::Id id = bench.add(wall);
  bench.view.setWall(id);
  bench.view.fit(QRectF(0, -4000, 10000, 5000), 0);
  bench.view.setSnaps(false);
  yard::Prop window = shapes::usualProp("window_outline");
  window.name = "Window";
  window.wall = id;
  window.at = base::point(base::Vec2{1, 1});
  bench.document.selection().set({bench.add(window)});
  bench.view.repeatSelected(RepeatKind::Line);
  click(bench.view, bench.at(7, 1));
  const auto all = places(bench.document);
  ASSERT_EQ(all.size(), 3U);
  EXPECT_NEAR(all[1].x, 4.0, 0.02);
  EXPECT_NEAR(all[2].x, 7.0, 0.02);
  EXPECT_NEAR(all[2].y, 1.0, 0.02);
}

}  // namespace
}  // namespace yw::ui
