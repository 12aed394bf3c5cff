// The House front: a wall face-on, its openings, what hangs on it.
#include <gtest/gtest.h>

#include <QLineEdit>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/front_view.h"
#include "ui/canvas/tools/opening_tool.h"

namespace yw::ui {
namespace {

struct Front : Bench<FrontView> {
  base::Id wall;
  Front() {
    yard::Wall w;
    w.name = "South wall";
    w.from = base::point(base::Vec2{2, 1});
    w.to = base::point(base::Vec2{12, 1});
    wall = add(w);
    view.setWall(wall);
    view.fit(QRectF(0, -4000, 10000, 5000), 0);
    view.settle();
    view.setSnaps(false);
  }
  const std::vector<yard::Opening>& openings() { return get<yard::Wall>(wall).openings; }
};

TEST(FrontView, DraggingDrawsAWindow) {
  Front front;
  front.view.drawOpening(yard::OpeningKind::Window);
  drag(front.view, front.at(2, 1), front.at(3, 2.5));
  ASSERT_EQ(front.openings().size(), 1U);
  const yard::Opening& window = front.openings()[0];
  EXPECT_NEAR(base::metres(window.width).si, 1.0, 0.02);
  EXPECT_NEAR(base::metres(window.height).si, 1.5, 0.02);
  EXPECT_NEAR(base::vec(window.at).x, 2.0, 0.02);
  EXPECT_NEAR(base::vec(window.at).y, 1.0, 0.02);
  EXPECT_EQ(front.undoName(), "Add a window to South wall");
  EXPECT_EQ(front.view.opening(), 0);
}

TEST(FrontView, TypedSizesAreExact) {
  Front front;
  front.view.drawOpening(yard::OpeningKind::Door);
  hover(front.view, front.at(4, 0));
  key(front.view, Qt::Key_3, {}, false, QStringLiteral("3"));
  auto* edit = front.view.viewport()->findChild<QLineEdit*>(QStringLiteral("inlineLength"));
  ASSERT_TRUE(edit && edit->isVisible());
  QTest::keyClicks(edit, QStringLiteral("' 2\""));
  QTest::keyClick(edit, Qt::Key_Return);
  QTest::keyClicks(edit, QStringLiteral("6' 8\""));
  QTest::keyClick(edit, Qt::Key_Return);
  ASSERT_EQ(front.openings().size(), 1U);
  EXPECT_EQ(front.openings()[0].width, base::inches(38));
  EXPECT_EQ(front.openings()[0].height, base::inches(80));
  EXPECT_EQ(front.openings()[0].at.y, base::Length{0});
}

TEST(FrontView, AGableTakesTheWholeWallAndItsHeightFromThePitch) {
  Front front;
  front.view.drawOpening(yard::OpeningKind::Gable);
  click(front.view, front.at(1, 1));
  ASSERT_EQ(front.openings().size(), 1U);
  const yard::Opening& gable = front.openings()[0];
  EXPECT_EQ(gable.width, base::millimetres(10'000));
  EXPECT_EQ(gable.at.y, front.get<yard::Wall>(front.wall).eaveHeight);
  EXPECT_EQ(gable.height, base::Length{0});
  EXPECT_EQ(gableHeight(front.get<yard::Wall>(front.wall), gable),
            base::millimetres(2'500));  // 6 in 12 over 5 m
}

TEST(FrontView, OpeningsAreSelectedMovedSizedAndDeleted) {
  Front front;
  front.view.drawOpening(yard::OpeningKind::Window);
  drag(front.view, front.at(2, 1), front.at(3, 2.5));
  const std::size_t steps = front.steps();
  drag(front.view, front.at(2.5, 1.2), front.at(3.5, 1.4), Qt::AltModifier);
  EXPECT_EQ(front.steps(), steps + 1);
  EXPECT_EQ(front.undoName(), "Move an opening of South wall");
  EXPECT_NEAR(base::vec(front.openings()[0].at).x, 3.0, 0.03);
  drag(front.view, front.at(4, 2.7), front.at(4.5, 2.7), Qt::AltModifier);  // its upper right corner
  EXPECT_EQ(front.undoName(), "Resize an opening of South wall");
  EXPECT_NEAR(base::metres(front.openings()[0].width).si, 1.5, 0.04);
  const base::Length before = front.openings()[0].at.x;
  key(front.view, Qt::Key_Right);
  EXPECT_EQ(front.openings()[0].at.x - before, base::inches(1));
  key(front.view, Qt::Key_Delete);
  EXPECT_TRUE(front.openings().empty());
  EXPECT_EQ(front.view.opening(), -1);
  front.document.undo();
  EXPECT_EQ(front.openings().size(), 1U);
}

TEST(FrontView, ShiftKeepsAnOpeningsProportionsAndItsHeight) {
  Front front;
  front.view.drawOpening(yard::OpeningKind::Window);
  drag(front.view, front.at(2, 1), front.at(3, 2.5), Qt::AltModifier);
  const yard::Opening before = front.openings()[0];
  drag(front.view, front.at(2.5, 1.2), front.at(3.5, 1.7), Qt::ShiftModifier | Qt::AltModifier);
  EXPECT_EQ(front.openings()[0].at.y, before.at.y);
  EXPECT_GT(front.openings()[0].at.x, before.at.x);
  const QPoint corner = front.at(base::vec(front.openings()[0].at).x + base::metres(before.width).si,
                                 base::vec(before.at).y + base::metres(before.height).si);
  drag(front.view, corner, corner + QPoint(60, 10), Qt::ShiftModifier | Qt::AltModifier);
  const yard::Opening after = front.openings()[0];
  ASSERT_GT(after.width, before.width);
  EXPECT_NEAR(static_cast<double>(after.height.count) / static_cast<double>(after.width.count),
              static_cast<double>(before.height.count) / static_cast<double>(before.width.count), 1e-6);
  const std::size_t steps = front.steps();
  drag(front.view, front.at(base::vec(after.at).x + 0.3, base::vec(after.at).y + 0.3),
       front.at(base::vec(after.at).x + 0.3, base::vec(after.at).y + 0.3) + QPoint(3, 0));
  EXPECT_EQ(front.steps(), steps) << "3 pixels are a click";
}

TEST(FrontView, PropsArePlacedAndMovedInTheWallsFrame) {
  Front front;
  front.view.placeProp("window_outline");
  click(front.view, front.at(2, 1));
  const auto props = yard::all<yard::Prop>(front.document.yard());
  ASSERT_EQ(props.size(), 1U);
  const base::Id id = props[0].first;
  EXPECT_EQ(props[0].second->wall, front.wall);
  EXPECT_NEAR(base::vec(props[0].second->at).x, 2.0, 0.02);
  EXPECT_NEAR(base::vec(props[0].second->at).y, 1.0, 0.02);
  // What is seen on the face is where the prop is in the yard.
  front.document.settle();
  const auto placement = shapes::placementOf(front.document.yard(), front.get<yard::Prop>(id));
  EXPECT_NEAR(placement.at.x, 4.0, 0.02);
  EXPECT_NEAR(placement.base, 1.0, 0.02);
  const PropItem* item = front.view.canvas().prop(id);
  ASSERT_TRUE(item);
  EXPECT_NEAR(item->pos().x() * 1e-3, base::vec(front.get<yard::Prop>(id).at).x, 1e-6);
  EXPECT_NEAR(-item->pos().y() * 1e-3, base::vec(front.get<yard::Prop>(id).at).y, 1e-6);
  const base::Point before = front.get<yard::Prop>(id).at;
  const QPoint on = front.view.toView(item->pixelPlace(1)).toPoint();
  const double scale = front.view.scaleNow();
  drag(front.view, on, on + QPoint(static_cast<int>(1000 * scale), -static_cast<int>(500 * scale)));
  EXPECT_NEAR(base::vec(front.get<yard::Prop>(id).at - before).x, 1.0, 0.02);
  EXPECT_NEAR(base::vec(front.get<yard::Prop>(id).at - before).y, 0.5, 0.02);
}

TEST(FrontView, AnOwnShapeIsDrawnClickByClickWhereItIsSeen) {
  Front front;
  front.view.placeProp("own");
  for (const auto& [x, y] : {std::pair{2.0, 1.0}, {4.0, 1.0}, {3.0, 2.5}, {2.0, 1.0}})
    click(front.view, front.at(x, y));
  EXPECT_TRUE(yard::all<yard::Prop>(front.document.yard()).empty());
  QTest::keyClick(front.view.viewport(), Qt::Key_Return);
  const auto props = yard::all<yard::Prop>(front.document.yard());
  ASSERT_EQ(props.size(), 1U);
  const yard::Prop& own = *props[0].second;
  EXPECT_EQ(own.wall, front.wall);
  ASSERT_EQ(own.lines.size(), 1U);
  EXPECT_EQ(own.lines[0].points.size(), 3U);
  EXPECT_TRUE(own.lines[0].closed);
  const auto shape = shapes::make(own);
  ASSERT_TRUE(shape);
  EXPECT_NEAR(base::vec(own.at).x + shape->pixels.front().x, 2.0, 0.02);
  EXPECT_NEAR(base::vec(own.at).y + shape->pixels.front().z, 1.0, 0.02);
  EXPECT_NEAR(base::vec(own.at).y + base::metres(shape->height).si, 2.5, 0.06);
}

TEST(FrontView, ADeletedWallLeavesAnEmptySheet) {
  Front front;
  edit::Editor editor(front.document.yard());
  editor.remove(front.wall);
  front.document.commit(editor.finish("Delete South wall"));
  EXPECT_EQ(front.view.wall(), base::Id{});
  EXPECT_TRUE(front.view.canvas().records().empty());
  front.document.undo();
  front.view.setWall(front.wall);
  EXPECT_EQ(front.view.canvas().records().size(), 1U);
}

TEST(FrontView, ShowsTheSamplesHouse) {
  Document document;
  ASSERT_TRUE(document.open(samplePath("corner-lot.yard")));
  document.settle();
  FrontView view(document);
  view.resize(1100, 600);
  view.show();
  const auto walls = yard::all<yard::Wall>(document.yard());
  ASSERT_GE(walls.size(), 2U);
  for (std::size_t i = 0; i < 2; ++i) {
    view.setWall(walls[i].first);
    view.fitAll();
    pictured(view, QStringLiteral("front-%1").arg(i));
    EXPECT_GT(view.canvas().records().size(), 1U);
  }
}

}  // namespace
}  // namespace yw::ui
