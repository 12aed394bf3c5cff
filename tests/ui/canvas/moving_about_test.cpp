// Zoom, pan, fit: the place under the pointer stays where it is.
#include <gtest/gtest.h>

#include <QLineEdit>
#include <QNativeGestureEvent>
#include <QScrollBar>
#include <QTemporaryDir>

#include "tests/ui/canvas/pictures.h"

namespace yw::ui {
namespace {

double apart(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }

TEST(MovingAbout, PlaceUnderThePointerStaysOverTwentyNotches) {
  Bench bench;
  bench.addProp("ring", "Ring", 0, 0);
  bench.view.fitAll();  // a tiny plan: the stock anchor drifts 31 px a notch here
  const QPointF at(300, 200);
  const QPointF scene = bench.view.toSceneExact(at);
  for (int i = 0; i < 10; ++i) wheel(bench.view, at, 1);
  EXPECT_LE(apart(bench.view.toView(scene), at), 0.75);
  for (int i = 0; i < 20; ++i) wheel(bench.view, at, -1);
  EXPECT_LE(apart(bench.view.toView(scene), at), 0.75);
  for (int i = 0; i < 10; ++i) wheel(bench.view, at, 1);
  EXPECT_LE(apart(bench.view.toView(scene), at), 0.75);
}

TEST(MovingAbout, KeysZoomOnTheMiddle) {
  Bench bench;
  bench.lookAtOrigin();
  const double before = bench.view.scaleNow();
  key(bench.view, Qt::Key_Plus, Qt::ControlModifier);
  EXPECT_NEAR(bench.view.scaleNow(), before * 1.25, 1e-9);
  EXPECT_LE(apart(bench.view.toView({0, 0}), QRectF(bench.view.viewport()->rect()).center()), 1.5);
  key(bench.view, Qt::Key_Minus, Qt::ControlModifier);
  EXPECT_NEAR(bench.view.scaleNow(), before, 1e-9);
}

TEST(MovingAbout, WheelSettingSwapsZoomForPanButCtrlAlwaysZooms) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setWheelZooms(false);
  const double scale = bench.view.scaleNow();
  const QPointF before = bench.view.toView({0, 0});
  wheel(bench.view, {400, 300}, 1);
  EXPECT_EQ(bench.view.scaleNow(), scale);
  EXPECT_GT(apart(bench.view.toView({0, 0}), before), 10.0);
  wheel(bench.view, {400, 300}, 1, Qt::ControlModifier);
  EXPECT_GT(bench.view.scaleNow(), scale);
}

TEST(MovingAbout, SpaceDragAndMiddleDragPanAndChangeNothing) {
  Bench bench;
  const base::Id ring = bench.addProp("ring", "Ring", 0, 0);
  bench.lookAtOrigin();
  const std::size_t steps = bench.steps();
  const QPointF before = bench.view.toView({0, 0});
  key(bench.view, Qt::Key_Space);
  drag(bench.view, bench.at(0, 0), bench.at(0, 0) + QPoint(60, 25));
  QTest::keyRelease(&bench.view, Qt::Key_Space);
  EXPECT_LE(apart(bench.view.toView({0, 0}), before + QPointF(60, 25)), 1.0);
  QTest::mousePress(bench.view.viewport(), Qt::MiddleButton, {}, QPoint(200, 200));
  QTest::mouseMove(bench.view.viewport(), QPoint(180, 190));
  QTest::mouseRelease(bench.view.viewport(), Qt::MiddleButton, {}, QPoint(180, 190));
  EXPECT_LE(apart(bench.view.toView({0, 0}), before + QPointF(40, 15)), 1.0);
  EXPECT_EQ(bench.steps(), steps);
  EXPECT_EQ(bench.get<yard::Prop>(ring).at, base::Point{});
}

// Between them the four settings of the wheel: turned, with Ctrl, with Shift, from a touchpad.
TEST(MovingAbout, TwoFingersPanAndAPinchZooms) {
  Bench bench;
  bench.lookAtOrigin();
  const double scale = bench.view.scaleNow();
  const QPointF before = bench.view.toView({0, 0});
  wheel(bench.view, {400, 300}, 1, Qt::ShiftModifier);
  EXPECT_EQ(bench.view.scaleNow(), scale);
  EXPECT_GT(std::abs(bench.view.toView({0, 0}).x() - before.x()), 10.0) << "Shift pans sideways";
  const QPointF at(300, 200), scene = bench.view.toSceneExact(at);
  QNativeGestureEvent pinch(Qt::ZoomNativeGesture, QPointingDevice::primaryPointingDevice(), 2, at, at, at,
                            0.25, QPointF());
  QApplication::sendEvent(bench.view.viewport(), &pinch);
  EXPECT_NEAR(bench.view.scaleNow(), scale * 1.25, 1e-9);
  EXPECT_LE(apart(bench.view.toView(scene), at), 1.0);
}

TEST(MovingAbout, SpaceStillTypesInFieldsOverTheDrawing) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(yard::FeatureKind::Fence);
  click(bench.view, bench.at(-2, 0));
  hover(bench.view, bench.at(1, 0));
  key(bench.view, Qt::Key_1, {}, false, QStringLiteral("1"));
  auto* typed = bench.view.viewport()->findChild<QLineEdit*>(QStringLiteral("inlineLength"));
  ASSERT_TRUE(typed && typed->isVisible());
  QTest::keyClicks(typed, QStringLiteral("2' 6\""));
  EXPECT_EQ(typed->text(), QStringLiteral("12' 6\""));
  const QPointF before = bench.view.toView({0, 0});
  drag(bench.view, bench.at(1, 1), bench.at(1, 1) + QPoint(50, 0));
  EXPECT_EQ(bench.view.toView({0, 0}), before) << "the space that was typed must not pan";
}

TEST(MovingAbout, FitSelectionShowsItWhole) {
  Bench bench;
  bench.addProp("ring", "Ring", -12, 3);
  const base::Id far = bench.addProp("arch", "Arch", 20, -9);
  bench.view.fitAll();
  const double scale = bench.view.scaleNow();
  bench.document.selection().set({far});
  key(bench.view, Qt::Key_F);
  EXPECT_GT(bench.view.scaleNow(), scale);
  const QRectF extent = bench.view.canvas().item(far)->extent();
  const QRectF seen(bench.view.viewport()->rect());
  EXPECT_TRUE(seen.contains(bench.view.toView(extent.topLeft())));
  EXPECT_TRUE(seen.contains(bench.view.toView(extent.bottomRight())));
}

TEST(MovingAbout, FitAllShowsEverything) {
  Bench bench;
  bench.addProp("ring", "Ring", -12, 3);
  bench.addProp("ring", "Ring 2", 20, -9);
  key(bench.view, Qt::Key_Home);
  const QRectF seen = QRectF(bench.view.viewport()->rect());
  EXPECT_TRUE(seen.contains(bench.view.toView(toScene(base::Vec2{-12, 3}))));
  EXPECT_TRUE(seen.contains(bench.view.toView(toScene(base::Vec2{20, -9}))));
}

TEST(MovingAbout, AYardShownWholeStaysWholeWhenItsAreaShrinks) {
  Bench bench;
  const base::Id left = bench.addProp("ring", "Left", -12, 0), right = bench.addProp("ring", "Right", 12, 9);
  const auto allSeen = [&] {
    const QRectF room(bench.view.viewport()->rect());
    const auto seen = [&](base::Id id) {
      return room.contains(bench.view.toView(bench.view.canvas().item(id)->extent().center()));
    };
    return seen(left) && seen(right);
  };
  bench.view.fitAll();
  bench.view.resize(600, 400);
  QTest::qWait(1);
  EXPECT_TRUE(allSeen());
  bench.view.zoomIn();
  const double closer = bench.view.scaleNow();
  bench.view.resize(900, 600);
  QTest::qWait(1);
  EXPECT_EQ(bench.view.scaleNow(), closer) << "a place that was looked for stays";
}

TEST(MovingAbout, RevealPansOnlyWhenOffScreen) {
  Bench bench;
  const base::Id near = bench.addProp("ring", "Ring", 0, 0), far = bench.addProp("ring", "Ring 2", 60, 0);
  bench.lookAtOrigin();
  const QPointF before = bench.view.toView({0, 0});
  bench.document.selection().set({near});
  bench.document.selection().reveal();
  EXPECT_EQ(bench.view.toView({0, 0}), before);
  bench.document.selection().set({far});
  bench.document.selection().reveal();
  EXPECT_TRUE(bench.view.viewport()->rect().contains(bench.at(60, 0)));
}

TEST(MovingAbout, AnotherYardIsFittedButSavingLeavesTheViewAlone) {
  Bench bench;
  ASSERT_TRUE(bench.document.open(samplePath("large-grounds.yard")));
  const QRectF all = bench.view.canvas().extentOfAll();
  EXPECT_TRUE(QRectF(bench.view.viewport()->rect()).contains(bench.view.toView(all.topLeft())));
  EXPECT_TRUE(QRectF(bench.view.viewport()->rect()).contains(bench.view.toView(all.bottomRight())));
  bench.view.zoomAt(3.0, {100, 100});
  const double scale = bench.view.scaleNow();
  const QTemporaryDir folder;
  ASSERT_TRUE(bench.document.save(folder.filePath(QStringLiteral("a.yard"))));
  EXPECT_EQ(bench.view.scaleNow(), scale);
}

TEST(MovingAbout, ArrowsPanWhenNothingIsSelected) {
  Bench bench;
  bench.lookAtOrigin();
  const QPointF before = bench.view.toView({0, 0});
  key(bench.view, Qt::Key_Right);
  EXPECT_LT(bench.view.toView({0, 0}).x(), before.x());
}

TEST(MovingAbout, SaysWhereThePointerIs) {
  Bench bench;
  bench.lookAtOrigin();
  QString said;
  QObject::connect(&bench.view, &CanvasView::pointerMoved, [&](const QString& place) { said = place; });
  hover(bench.view, bench.at(0.3048, 0.6096));
  EXPECT_FALSE(said.isEmpty());
  EXPECT_TRUE(said.contains(QStringLiteral("right"))) << said.toStdString();
}

}  // namespace
}  // namespace yw::ui
