// What catches while dragging, what its guide is called, and what suspends it.
#include <gtest/gtest.h>

#include <QDragEnterEvent>
#include <QDropEvent>
#include <QLineEdit>
#include <QMimeData>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/tools/select_tool.h"

namespace yw::ui {
namespace {

void press(CanvasView& view, QPoint at) { QTest::mousePress(view.viewport(), Qt::LeftButton, {}, at); }
void moveTo(CanvasView& view, QPoint at, Qt::KeyboardModifiers modifiers = {}) {
  QMouseEvent move(QEvent::MouseMove, QPointF(at), view.viewport()->mapToGlobal(QPointF(at)), Qt::NoButton,
                   Qt::LeftButton, modifiers);
  QApplication::sendEvent(view.viewport(), &move);
}
void release(CanvasView& view, QPoint at) { QTest::mouseRelease(view.viewport(), Qt::LeftButton, {}, at); }
std::string noteOf(CanvasView& view) {
  return dynamic_cast<SelectTool&>(view.tool()).note().join(QLatin1Char('\n')).toStdString();
}

/// An outlet is dragged about; two rings and a bed stand still, none of them on the grid.
struct Catching : Bench<> {
  base::Id outlet, ring1, ring2;
  Catching() {
    yard::Outlet record;
    record.name = "Outlet";
    record.at = base::point(base::Vec2{-3, -2});
    outlet = add(record);
    ring1 = addProp("ring", "Ring 1", -1.013, 0.517);
    ring2 = addProp("ring", "Ring 2", 1.031, 0.517);
    yard::GroundFeature bed;
    bed.kind = yard::FeatureKind::Bed;
    bed.name = "Bed";
    for (const base::Vec2 p :
         {base::Vec2{-1.517, -2.011}, {1.483, -2.011}, {1.483, -1.011}, {-1.517, -1.011}})
      bed.outline.push_back(base::point(p));
    add(bed);
    lookAtOrigin();
    document.selection().set({outlet});
  }
  base::Vec2 place() { return base::vec(get<yard::Outlet>(outlet).at); }
  /// Drags the outlet so that its own place comes near x, y; tells what stands beside the pointer.
  std::string dragTo(double x, double y, Qt::KeyboardModifiers modifiers = {}, bool s = false) {
    const QPoint from = at(-3, -2), to = at(x, y);
    press(view, from);
    moveTo(view, from + QPoint(6, 6));
    moveTo(view, to, modifiers);
    if (s) key(view, Qt::Key_S);
    const std::string said = noteOf(view);
    release(view, to);
    return said;
  }
};

TEST(Catching, CentersCatchByName) {
  Catching yard;
  const std::string said = yard.dragTo(-1.05, 0.55);
  EXPECT_NE(said.find("center of Ring 1"), std::string::npos) << said;
  EXPECT_NEAR(yard.place().x, -1.013, 1e-6);
  EXPECT_NEAR(yard.place().y, 0.517, 1e-6);
}

TEST(Catching, EndsCatchByName) {
  Catching yard;
  const std::string said = yard.dragTo(1.45, -1.05);
  EXPECT_NE(said.find("corner of Bed"), std::string::npos) << said;
  EXPECT_NEAR(yard.place().x, 1.483, 1e-6);
  EXPECT_NEAR(yard.place().y, -1.011, 1e-6);
}

TEST(Catching, TheEndOfALineOfStakesCatches) {
  Catching yard;
  yard::Prop stakes = shapes::usualProp("path_stakes");
  stakes.name = "Stakes";
  stakes.at = base::point(base::Vec2{-4, 2.213});
  stakes.heading = {};
  stakes.path = {base::Point{}, base::point(base::Vec2{2.107, 0.5})};
  yard.add(stakes);
  const std::string said = yard.dragTo(-1.87, 2.75);
  EXPECT_NE(said.find("end of Stakes"), std::string::npos) << said;
  EXPECT_NEAR(yard.place().x, -4 + 2.107, 1e-6);
  EXPECT_NEAR(yard.place().y, 2.213 + 0.5, 1e-6);
}

TEST(Catching, EqualGapsCatchBeyondTheNextAndHalfWay) {
  Catching yard;
  const double gap = 1.031 + 1.013;
  std::string said = yard.dragTo(1.031 + gap + 0.03, 0.55);
  EXPECT_NE(said.find("equal gap"), std::string::npos) << said;
  EXPECT_NEAR(yard.place().x, 1.031 + gap, 1e-6);
  yard.document.undo();
  said = yard.dragTo(0.02, 0.53);
  EXPECT_NE(said.find("equal gap"), std::string::npos) << said;
  EXPECT_NEAR(yard.place().x, (1.031 - 1.013) / 2, 1e-6);
}

TEST(Catching, InLineWithACenterIsNamedToo) {
  Catching yard;
  const std::string said = yard.dragTo(-3.4, 0.53);
  EXPECT_NE(said.find("in line"), std::string::npos) << said;
  EXPECT_NEAR(yard.place().y, 0.517, 1e-6);
}

TEST(Catching, TheGridIsNamedByItsStep) {
  Catching yard;
  const std::string said = yard.dragTo(3.3, 2.6);
  const GridStep grid = gridStep(yard.view.scaleNow(), 7.0, base::UnitSystem::FeetInches);
  EXPECT_NE(said.find(grid.name.toStdString()), std::string::npos) << said;
}

TEST(Catching, AltSuspends) {
  Catching yard;
  yard.dragTo(-1.05, 0.55, Qt::AltModifier);
  EXPECT_GT(std::abs(yard.place().x + 1.013), 0.01);
}

// Some Linux desktops take Alt+drag for themselves, so a key does the same.
TEST(Catching, STurnsItOffForThisDragOnly) {
  Catching yard;
  const std::string said = yard.dragTo(-1.05, 0.55, {}, true);
  EXPECT_EQ(said.find("center of"), std::string::npos) << said;
  EXPECT_GT(std::abs(yard.place().x + 1.013), 0.01);
  EXPECT_TRUE(yard.view.snaps()) << "the next drag catches again";
  yard.document.undo();
  EXPECT_NE(yard.dragTo(-1.05, 0.55).find("center of Ring 1"), std::string::npos);
}

TEST(Catching, SWithNothingInTheHandTurnsItOffUntilPressedAgain) {
  Catching yard;
  QString said;
  QObject::connect(&yard.view, &CanvasView::statusChanged, [&](const QString& text) { said = text; });
  key(yard.view, Qt::Key_S);
  EXPECT_FALSE(yard.view.snaps());
  EXPECT_FALSE(said.isEmpty());
  EXPECT_EQ(yard.dragTo(-1.05, 0.55).find("center of"), std::string::npos);
  key(yard.view, Qt::Key_S);
  EXPECT_TRUE(yard.view.snaps());
}

TEST(Turning, ThreePixelsAtTheHandleTurnNothing) {
  Bench bench;
  const base::Id arch = bench.addProp("arch", "Arch", 0, 0);
  bench.lookAtOrigin();
  bench.document.selection().set({arch});
  const QRectF extent = bench.view.canvas().item(arch)->extent();
  const QPoint handle = bench.view.toView(QPointF(0, extent.bottom())).toPoint() + QPoint(0, 24);
  const std::size_t steps = bench.steps();
  drag(bench.view, handle, handle + QPoint(3, 0));
  EXPECT_EQ(bench.steps(), steps);
  drag(bench.view, handle, handle + QPoint(60, 0));
  EXPECT_EQ(bench.undoName(), "Turn Arch");
}

TEST(Turning, ShiftKeepsToFifteenDegrees) {
  Bench bench;
  const base::Id arch = bench.addProp("arch", "Arch", 0, 0);
  bench.lookAtOrigin();
  bench.document.selection().set({arch});
  const QRectF extent = bench.view.canvas().item(arch)->extent();
  const QPoint handle = bench.view.toView(QPointF(0, extent.bottom())).toPoint() + QPoint(0, 24);
  drag(bench.view, handle, bench.at(0, 0) + QPoint(130, 73), Qt::ShiftModifier);
  const auto heading = bench.get<yard::Prop>(arch).heading;
  EXPECT_EQ(heading.count % base::toAngle(15).count, 0);
  EXPECT_NE(heading.count, 0);
}

TEST(PlaceTool, ALineOfStakesTakesTypedLengths) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.placeProp("path_stakes");
  click(bench.view, bench.at(-2, 0));
  hover(bench.view, bench.at(1, 0), Qt::ShiftModifier);
  key(bench.view, Qt::Key_1, {}, false, QStringLiteral("1"));
  auto* typed = bench.view.viewport()->findChild<QLineEdit*>(QStringLiteral("inlineLength"));
  ASSERT_TRUE(typed && typed->isVisible());
  typed->setText(QStringLiteral("12' 6\""));
  QTest::keyClick(typed, Qt::Key_Return);
  key(bench.view, Qt::Key_Return);
  const auto props = yard::all<yard::Prop>(bench.document.yard());
  ASSERT_EQ(props.size(), 1U);
  ASSERT_EQ(props[0].second->path.size(), 2U);
  EXPECT_NEAR(base::metres(props[0].second->path[1].x).si, 3.81, 1e-9);
  EXPECT_EQ(props[0].second->path[1].y, base::Length{0});
}

TEST(PlaceTool, ADropFromTheListPlacesWhereItFalls) {
  Bench bench;
  bench.lookAtOrigin();
  QMimeData data;
  data.setData(QLatin1String(CanvasView::kPlaceMime), "prop:ring");
  const QPoint at = bench.at(1, 1);
  QDragEnterEvent enter(at, Qt::CopyAction, &data, Qt::LeftButton, {});
  QApplication::sendEvent(bench.view.viewport(), &enter);
  EXPECT_TRUE(enter.isAccepted());
  QDropEvent drop(QPointF(at), Qt::CopyAction, &data, Qt::LeftButton, {});
  QApplication::sendEvent(bench.view.viewport(), &drop);
  const auto props = yard::all<yard::Prop>(bench.document.yard());
  ASSERT_EQ(props.size(), 1U);
  EXPECT_NEAR(base::vec(props[0].second->at).x, 1.0, 0.006);
  EXPECT_EQ(bench.undoName().rfind("Place ", 0), 0U) << bench.undoName();
}

}  // namespace
}  // namespace yw::ui
