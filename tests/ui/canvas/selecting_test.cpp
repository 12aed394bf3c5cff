// Clicks, rubber bands, drags, keys: what is selected, what is changed, and how the step is called.
#include <gtest/gtest.h>

#include <QFile>
#include <QMenu>
#include <QSignalSpy>
#include <QTemporaryDir>

#include "core/file/yard_file.h"
#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/items/mark_item.h"

namespace yw::ui {
namespace {

using Ids = std::set<base::Id>;

/// Two rings 2 m apart and a third far off, all with catching off so that places are what the hand says.
struct Rings : Bench<> {
  base::Id a, b, c;
  Rings() {
    a = addProp("ring", "Ring 1", -1, 0);
    b = addProp("ring", "Ring 2", 1, 0);
    c = addProp("ring", "Ring 3", 4, 2);
    lookAtOrigin();
    view.setSnaps(false);
  }
  /// A place on the footprint of the ring at x, y.
  QPoint on(double x, double y) const { return at(x, y); }
};

TEST(Selecting, ClickSelectsShiftAddsCtrlTogglesEmptyClears) {
  Rings rings;
  click(rings.view, rings.on(-1, 0));
  EXPECT_EQ(rings.chosen(), Ids{rings.a});
  click(rings.view, rings.on(1, 0), Qt::ShiftModifier);
  EXPECT_EQ(rings.chosen(), (Ids{rings.a, rings.b}));
  click(rings.view, rings.on(-1, 0), Qt::ControlModifier);
  EXPECT_EQ(rings.chosen(), Ids{rings.b});
  click(rings.view, rings.at(0, -3));
  EXPECT_EQ(rings.chosen(), Ids{});
}

// A sign once lay on a small prop: a click meant for the prop opened the finding.
TEST(Selecting, ASignStandsBesideASmallProp) {
  Bench bench;
  ASSERT_TRUE(bench.document.open(samplePath("porch-and-lawn.yard")));
  bench.document.settle();
  bench.view.fitAll();
  bench.view.settle();
  const auto report = bench.document.report();
  int small = 0;
  for (const findings::Finding& finding : report->findings) {
    const auto* prop = yard::find<yard::Prop>(bench.document.yard(), finding.prop);
    if (!prop || prop->wall || prop->name != "Star") continue;
    ++small;
    const QPoint at = bench.view.toView(toScene(base::plan(finding.place))).toPoint();
    EXPECT_FALSE(bench.view.findingAt(at));
    click(bench.view, at);
    EXPECT_FALSE(bench.chosen().empty());
  }
  EXPECT_GT(small, 0);
}

TEST(Selecting, AnOutletOnABoxLiesOverIt) {
  Bench bench;
  yard::Box box;
  box.name = "K1";
  box.at = base::point(base::Vec2{0, 0});
  const base::Id under = bench.add(box);
  yard::Outlet outlet;
  outlet.name = "Porch";
  outlet.at = box.at;
  const base::Id over = bench.add(outlet);
  bench.lookAtOrigin();
  const auto& records = bench.view.canvas().records();
  EXPECT_GT(records.at(over)->zValue(), records.at(under)->zValue());
}

TEST(Selecting, RepeatedClicksGoDeeperAndWrap) {
  Bench bench;
  Ids all;
  for (int i = 0; i < 3; ++i) all.insert(bench.addProp("ring", "Ring " + std::to_string(i), 0.001 * i, 0));
  bench.lookAtOrigin();
  Ids seen;
  base::Id first;
  for (int i = 0; i < 3; ++i) {
    click(bench.view, bench.at(0, 0));
    if (i == 0) first = bench.document.selection().single();
    seen.insert(bench.document.selection().single());
  }
  EXPECT_EQ(seen, all);
  click(bench.view, bench.at(0, 0));
  EXPECT_EQ(bench.document.selection().single(), first);
}

TEST(Selecting, AltClickGoesOneDeeperAtOnce) {
  Bench bench;
  Ids all;
  for (int i = 0; i < 2; ++i) all.insert(bench.addProp("ring", "Ring " + std::to_string(i), 0.001 * i, 0));
  bench.lookAtOrigin();
  click(bench.view, bench.at(0, 0));
  const base::Id first = bench.document.selection().single();
  click(bench.view, bench.at(0, 0) + QPoint(0, 2), Qt::AltModifier);
  EXPECT_NE(bench.document.selection().single(), first);
  EXPECT_TRUE(all.contains(bench.document.selection().single()));
}

TEST(Selecting, EscapeStopsTheGestureThenLeavesTheToolThenClearsTheSelection) {
  Rings rings;
  rings.document.selection().set({rings.a});
  const std::size_t steps = rings.steps();
  rings.view.drawFeature(yard::FeatureKind::Bed);
  click(rings.view, rings.at(-3, -3));
  click(rings.view, rings.at(-2, -3));
  key(rings.view, Qt::Key_Escape);
  EXPECT_FALSE(rings.view.selecting()) << "only the corners are gone";
  key(rings.view, Qt::Key_Escape);
  EXPECT_TRUE(rings.view.selecting());
  EXPECT_EQ(rings.chosen(), Ids{rings.a});
  key(rings.view, Qt::Key_Escape);
  EXPECT_EQ(rings.chosen(), Ids{});
  EXPECT_EQ(rings.steps(), steps);
}

TEST(Selecting, RubberBandRightwardEnclosesLeftwardTouches) {
  Rings rings;
  const QRectF extent = rings.view.canvas().item(rings.a)->extent();
  const double middle = -1.0, top = 1.5, bottom = -1.5;  // half covers Ring 1
  ASSERT_LT(extent.left() * 1e-3, middle);
  drag(rings.view, rings.at(-3, top), rings.at(middle, bottom));
  EXPECT_EQ(rings.chosen(), Ids{});
  drag(rings.view, rings.at(middle, bottom), rings.at(-3, top));
  EXPECT_EQ(rings.chosen(), Ids{rings.a});
  rings.view.setBandRule(BandRule::Touched);
  rings.document.selection().clear();
  drag(rings.view, rings.at(-3, top), rings.at(middle, bottom));
  EXPECT_EQ(rings.chosen(), Ids{rings.a});
  rings.view.setBandRule(BandRule::Enclosed);
  drag(rings.view, rings.at(3, top), rings.at(-3, bottom));
  EXPECT_EQ(rings.chosen(), (Ids{rings.a, rings.b}));
}

TEST(Selecting, LockedPropsLetTheClickThroughAndNeverMove) {
  Rings rings;
  edit::Editor editor(rings.document.yard());
  editor.update<yard::Prop>(rings.a, [](yard::Prop& p) { p.locked = true; });
  rings.document.commit(editor.finish("lock"));
  click(rings.view, rings.on(-1, 0));
  EXPECT_EQ(rings.chosen(), Ids{});
  const std::size_t steps = rings.steps();
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 1));  // a rubber band may start on it
  EXPECT_EQ(rings.steps(), steps);
  click(rings.view, rings.on(-1, 0), Qt::AltModifier);
  EXPECT_EQ(rings.chosen(), Ids{rings.a});
}

TEST(Selecting, EscapeClearsAndLosesNothing) {
  Rings rings;
  click(rings.view, rings.on(-1, 0));
  const std::size_t steps = rings.steps();
  key(rings.view, Qt::Key_Escape);
  EXPECT_EQ(rings.chosen(), Ids{});
  EXPECT_EQ(rings.steps(), steps);
}

TEST(Dragging, ThreePixelsAreAClickFourAreADrag) {
  Rings rings;
  const std::size_t steps = rings.steps();
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 0) + QPoint(3, 0));
  EXPECT_EQ(rings.steps(), steps);
  EXPECT_EQ(rings.chosen(), Ids{rings.a});
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 0) + QPoint(5, 0));
  EXPECT_EQ(rings.steps(), steps + 1);
}

TEST(Dragging, MovesAllThatIsSelectedInOneNamedStep) {
  Rings rings;
  rings.document.selection().set({rings.a, rings.b, rings.c});
  const std::size_t steps = rings.steps();
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 0) + QPoint(50, -30));
  EXPECT_EQ(rings.steps(), steps + 1);
  EXPECT_EQ(rings.undoName(), "Move 3 props");
  EXPECT_NEAR(base::vec(rings.get<yard::Prop>(rings.b).at).x, 1.5, 1e-3);
  EXPECT_NEAR(base::vec(rings.get<yard::Prop>(rings.c).at).y, 2.3, 1e-3);
  rings.document.undo();
  EXPECT_EQ(rings.get<yard::Prop>(rings.b).at, base::point(base::Vec2{1, 0}));
}

TEST(Dragging, NamesTheOneThatMoved) {
  Rings rings;
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 0) + QPoint(50, 0));
  EXPECT_EQ(rings.undoName(), "Move Ring 1");
}

TEST(Dragging, EscapeInTheMiddleLeavesNoStep) {
  Rings rings;
  const std::size_t steps = rings.steps();
  QTest::mousePress(rings.view.viewport(), Qt::LeftButton, {}, rings.on(-1, 0));
  for (int i = 1; i < 8; ++i) {
    const QPointF at = rings.on(-1, 0) + QPoint(10 * i, 0);
    QMouseEvent move(QEvent::MouseMove, at, rings.view.viewport()->mapToGlobal(at), Qt::NoButton,
                     Qt::LeftButton, {});
    QApplication::sendEvent(rings.view.viewport(), &move);
  }
  EXPECT_NE(yard::find<yard::Prop>(rings.document.shownYard(), rings.a)->at,
            rings.get<yard::Prop>(rings.a).at);
  key(rings.view, Qt::Key_Escape);
  EXPECT_EQ(yard::find<yard::Prop>(rings.document.shownYard(), rings.a)->at, base::point(base::Vec2{-1, 0}));
  QTest::mouseRelease(rings.view.viewport(), Qt::LeftButton, {}, rings.on(0, 0));
  EXPECT_EQ(rings.steps(), steps);
  EXPECT_EQ(rings.get<yard::Prop>(rings.a).at, base::point(base::Vec2{-1, 0}));
}

TEST(Dragging, ShiftKeepsToOneAxis) {
  Rings rings;
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 0) + QPoint(80, 20), Qt::ShiftModifier);
  EXPECT_EQ(rings.get<yard::Prop>(rings.a).at.y, base::Length{0});
  EXPECT_NEAR(base::vec(rings.get<yard::Prop>(rings.a).at).x, -0.2, 1e-3);
}

TEST(Dragging, CatchesTheGridAndAltSuspendsIt) {
  Rings rings;
  rings.view.setSnaps(true);
  rings.document.selection().set({rings.c});
  drag(rings.view, rings.on(4, 2), rings.on(4, 2) + QPoint(-33, 57));
  const base::Point caught = rings.get<yard::Prop>(rings.c).at;
  const GridStep grid = gridStep(rings.view.scaleNow(), 7.0, base::UnitSystem::FeetInches);
  const auto step = static_cast<std::int64_t>(std::llround(grid.step * 1e6));
  EXPECT_EQ(caught.x.count % step, 0);
  EXPECT_EQ(caught.y.count % step, 0);
  rings.document.undo();
  drag(rings.view, rings.on(4, 2), rings.on(4, 2) + QPoint(-33, 57), Qt::AltModifier);
  const base::Vec2 free = base::vec(rings.get<yard::Prop>(rings.c).at);
  EXPECT_NEAR(free.x, 4 - 0.33, 0.006);
  EXPECT_NEAR(free.y, 2 - 0.57, 0.006);
}

TEST(Dragging, CtrlCopiesAndCtrlDRepeatsTheOffset) {
  Rings rings;
  const auto count = [&] { return yard::all<yard::Prop>(rings.document.yard()).size(); };
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 0) + QPoint(0, 100), Qt::ControlModifier);
  EXPECT_EQ(count(), 4U);
  EXPECT_EQ(rings.undoName(), "Copy Ring 1");
  const base::Id copy = rings.document.selection().single();
  ASSERT_TRUE(copy);
  const base::Point first = rings.get<yard::Prop>(copy).at,
                    offset = first - rings.get<yard::Prop>(rings.a).at;
  EXPECT_NEAR(base::vec(offset).y, -1.0, 0.006);
  key(rings.view, Qt::Key_D, Qt::ControlModifier);
  EXPECT_EQ(count(), 5U);
  const base::Id second = rings.document.selection().single();
  ASSERT_NE(second, copy);
  EXPECT_EQ(rings.get<yard::Prop>(second).at - first, offset);
  EXPECT_NE(rings.get<yard::Prop>(second).name, rings.get<yard::Prop>(copy).name);
}

TEST(Dragging, TheHandleTurnsOneProp) {
  Rings rings;
  const base::Id tree = rings.addProp("arch", "Arch", 0, -2);
  rings.document.selection().set({tree});
  // The handle stands out in front: straight below the prop at heading 0.
  const QRectF extent = rings.view.canvas().item(tree)->extent();
  const QPoint handle = rings.view.toView(QPointF(0, extent.bottom())).toPoint() + QPoint(0, 24);
  const QPoint center = rings.at(0, -2);
  drag(rings.view, handle, center + QPoint(120, 0), Qt::ShiftModifier);
  EXPECT_EQ(rings.get<yard::Prop>(tree).heading, base::toAngle(90));
  EXPECT_EQ(rings.undoName(), "Turn Arch");
}

TEST(Keys, NudgeMovesOneInchTenWithShiftAndOneStepWhileHeld) {
  Rings rings;
  rings.document.selection().set({rings.a});
  const std::size_t steps = rings.steps();
  const base::Point before = rings.get<yard::Prop>(rings.a).at;
  key(rings.view, Qt::Key_Right);
  for (int i = 0; i < 4; ++i) key(rings.view, Qt::Key_Right, {}, true);
  EXPECT_EQ(rings.get<yard::Prop>(rings.a).at.x - before.x, base::inches(5));
  EXPECT_EQ(rings.steps(), steps + 1);
  key(rings.view, Qt::Key_Up, Qt::ShiftModifier);
  EXPECT_EQ(rings.get<yard::Prop>(rings.a).at.y - before.y, base::inches(10));
  EXPECT_EQ(rings.steps(), steps + 2);
  EXPECT_EQ(rings.undoName(), "Move Ring 1");
  key(rings.view, Qt::Key_Left, Qt::AltModifier);  // one pixel of screen: 10 mm at this zoom
  EXPECT_NEAR(base::metres(rings.get<yard::Prop>(rings.a).at.x - before.x).si,
              0.127 - 1e-3 / rings.view.scaleNow(), 1e-6);
}

// Seen under X: a held key as releases and presses at one instant, none of them marked as a repeat.
TEST(Keys, AHeldKeyIsOneStepAlsoWhenItComesAsReleasesAndPresses) {
  Rings rings;
  rings.document.selection().set({rings.a});
  const std::size_t steps = rings.steps();
  const base::Point before = rings.get<yard::Prop>(rings.a).at;
  const auto send = [&](QEvent::Type type, quint64 at) {
    QKeyEvent event(type, Qt::Key_Right, {});
    event.setTimestamp(at);
    QApplication::sendEvent(&rings.view, &event);
  };
  send(QEvent::KeyPress, 1000);
  for (quint64 at = 1500; at < 1700; at += 40) {
    send(QEvent::KeyRelease, at);
    send(QEvent::KeyPress, at);
  }
  EXPECT_EQ(rings.steps(), steps + 1);
  EXPECT_EQ(rings.get<yard::Prop>(rings.a).at.x - before.x, base::inches(6));
  send(QEvent::KeyRelease, 1700);
  send(QEvent::KeyPress, 1790);  // a quick second press
  EXPECT_EQ(rings.steps(), steps + 2);
  rings.document.undo();
  rings.document.undo();
  EXPECT_EQ(rings.get<yard::Prop>(rings.a).at, before);
}

TEST(Keys, NudgeStepCanBeSet) {
  Rings rings;
  rings.view.setNudgeStep(base::inches(6));
  rings.document.selection().set({rings.a});
  const base::Point before = rings.get<yard::Prop>(rings.a).at;
  key(rings.view, Qt::Key_Right);
  EXPECT_EQ(rings.get<yard::Prop>(rings.a).at.x - before.x, base::inches(6));
}

TEST(Keys, NudgeIsTwoCentimetresInMetricYards) {
  Rings rings;
  edit::Editor editor(rings.document.yard());
  editor.update<yard::Settings>(yard::settingsId(rings.document.yard()),
                                [](yard::Settings& s) { s.units = base::UnitSystem::Metric; });
  rings.document.commit(editor.finish("units"));
  rings.document.selection().set({rings.a});
  const base::Point before = rings.get<yard::Prop>(rings.a).at;
  key(rings.view, Qt::Key_Down);
  EXPECT_EQ(before.y - rings.get<yard::Prop>(rings.a).at.y, base::millimetres(20));
}

TEST(Keys, PageKeysWalkThePropsInNaturalOrder) {
  Bench bench;
  const base::Id ten = bench.addProp("ring", "Ring 10", 2, 0), two = bench.addProp("ring", "Ring 2", 0, 0);
  bench.view.fitAll();
  key(bench.view, Qt::Key_PageDown);
  EXPECT_EQ(bench.document.selection().single(), two);
  key(bench.view, Qt::Key_PageDown);
  EXPECT_EQ(bench.document.selection().single(), ten);
  key(bench.view, Qt::Key_PageDown);
  EXPECT_EQ(bench.document.selection().single(), two);
  key(bench.view, Qt::Key_PageUp);
  EXPECT_EQ(bench.document.selection().single(), ten);
}

TEST(Keys, EnterF2AndDoubleClickAskForTheEditor) {
  Rings rings;
  QSignalSpy asked(&rings.view, &CanvasView::editAsked);
  rings.document.selection().set({rings.a});
  key(rings.view, Qt::Key_Return);
  key(rings.view, Qt::Key_F2);
  QTest::mouseDClick(rings.view.viewport(), Qt::LeftButton, {}, rings.on(-1, 0));
  EXPECT_EQ(asked.count(), 3);
}

TEST(Keys, DeleteAndTurnAreNamedSteps) {
  Rings rings;
  rings.document.selection().set({rings.a, rings.b});
  key(rings.view, Qt::Key_R);
  EXPECT_EQ(rings.undoName(), "Turn 2 props");
  EXPECT_EQ(rings.get<yard::Prop>(rings.b).heading, base::toAngle(15));
  key(rings.view, Qt::Key_R, Qt::ShiftModifier);
  EXPECT_EQ(rings.get<yard::Prop>(rings.b).heading, base::toAngle(0));
  key(rings.view, Qt::Key_Delete);
  EXPECT_EQ(rings.undoName(), "Delete 2 props");
  EXPECT_EQ(yard::all<yard::Prop>(rings.document.yard()).size(), 1U);
  rings.document.undo();
  EXPECT_EQ(yard::all<yard::Prop>(rings.document.yard()).size(), 3U);
}

TEST(Keys, TheYardIsOneTabStopWithAName) {
  Rings rings;
  EXPECT_FALSE(rings.view.accessibleName().isEmpty());
  EXPECT_EQ(rings.view.focusPolicy(), Qt::StrongFocus);
  EXPECT_EQ(rings.view.viewport()->focusProxy(), &rings.view);
}

TEST(Keys, CopyAndPastePutsCopiesWhereAsked) {
  Rings rings;
  rings.document.selection().set({rings.a, rings.b});
  key(rings.view, Qt::Key_C, Qt::ControlModifier);
  rings.view.pasteAt(toScene(base::Vec2{0, 2}));
  EXPECT_EQ(rings.undoName(), "Paste 2 props");
  EXPECT_EQ(rings.chosen().size(), 2U);
  std::set<std::string> names;
  for (const base::Id id : rings.chosen()) {
    EXPECT_EQ(rings.get<yard::Prop>(id).at.y, base::millimetres(2000));
    EXPECT_NEAR(std::abs(base::vec(rings.get<yard::Prop>(id).at).x), 1.0, 1e-9);
    names.insert(rings.get<yard::Prop>(id).name);
  }
  EXPECT_EQ(names.size(), 2U);
  EXPECT_FALSE(names.contains("Ring 1"));
  // Into another yard, which knows none of the copied ids.
  Bench other;
  other.view.pasteAt({0, 0});
  EXPECT_EQ(yard::all<yard::Prop>(other.document.yard()).size(), 2U);
}

TEST(Keys, CutTakesAwayAndUndoBringsBack) {
  Rings rings;
  rings.document.selection().set({rings.c});
  key(rings.view, Qt::Key_X, Qt::ControlModifier);
  EXPECT_EQ(yard::all<yard::Prop>(rings.document.yard()).size(), 2U);
  rings.document.undo();
  EXPECT_EQ(yard::all<yard::Prop>(rings.document.yard()).size(), 3U);
}

TEST(Layers, HeldOnesDoNotMoveAndHiddenOnesAreNotHit) {
  Rings rings;
  rings.view.setLayerHeld(Layer::Props, true);
  const std::size_t steps = rings.steps();
  drag(rings.view, rings.on(-1, 0), rings.on(-1, 1));
  EXPECT_EQ(rings.steps(), steps);
  rings.view.setLayerHeld(Layer::Props, false);
  rings.view.setLayerShown(Layer::Props, false);
  click(rings.view, rings.on(-1, 0));
  EXPECT_EQ(rings.chosen(), Ids{});
}

TEST(Corners, AreDraggedAndPutInAtTheMiddleOfAnEdge) {
  Bench bench;
  yard::GroundFeature bed;
  bed.kind = yard::FeatureKind::Bed;
  bed.name = "Bed";
  for (const base::Vec2 p : {base::Vec2{-2, -1}, {2, -1}, {2, 1}, {-2, 1}})
    bed.outline.push_back(base::point(p));
  const base::Id id = bench.add(bed);
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.document.selection().set({id});
  drag(bench.view, bench.at(2, 1), bench.at(3, 2));
  EXPECT_EQ(bench.undoName(), "Reshape Bed");
  EXPECT_NEAR(base::vec(bench.get<yard::GroundFeature>(id).outline[2]).x, 3.0, 0.01);
  EXPECT_EQ(bench.get<yard::GroundFeature>(id).outline.size(), 4U);
  drag(bench.view, bench.at(0, -1), bench.at(0, -2));
  ASSERT_EQ(bench.get<yard::GroundFeature>(id).outline.size(), 5U);
  EXPECT_NEAR(base::vec(bench.get<yard::GroundFeature>(id).outline[1]).y, -2.0, 0.01);
  const std::size_t steps = bench.steps();
  click(bench.view, bench.at(-2, 0));  // pressing a handle without dragging changes nothing
  EXPECT_EQ(bench.steps(), steps);
}

TEST(Houses, MovingOneTakesItsWallsAndWhatHangsThere) {
  Bench bench;
  edit::Editor editor(bench.document.yard());
  yard::GroundFeature house;
  house.kind = yard::FeatureKind::House;
  for (const base::Vec2 p : {base::Vec2{-3, 0}, {3, 0}, {3, 4}, {-3, 4}})
    house.outline.push_back(base::point(p));
  const base::Id id = editor.add(house);
  const auto walls = edits::addWalls(editor, id);
  ASSERT_EQ(walls.size(), 4U);
  yard::Outlet outlet;
  outlet.at = base::point(base::Vec2{0, 0});
  const base::Id plug = editor.add(outlet);
  bench.document.commit(editor.finish("house"));
  const auto* south = yard::find<yard::Wall>(bench.document.yard(), walls[0]);
  EXPECT_EQ(south->name, "South wall");
  EXPECT_EQ(south->from, base::point(base::Vec2{-3, 0}));  // seen from outside, `from` is at the left
  bench.document.selection().set({id});
  key(bench.view, Qt::Key_Up, Qt::ShiftModifier);
  EXPECT_EQ(bench.get<yard::Wall>(walls[0]).from, base::point(base::Vec2{-3, 0.254}));
  EXPECT_EQ(bench.get<yard::Outlet>(plug).at, base::point(base::Vec2{0, 0.254}));
}

// A yard opened over another once kept drawing what the old one had under ids that are something unseen in
// it.
TEST(OtherYard, LeavesNothingOfTheOneBefore) {
  Bench other;
  const base::Id unseen = other.add(yard::FusePosition{});
  const base::Id outlet = other.add(yard::Outlet{});
  const QTemporaryDir folder;
  const QString path = folder.filePath(QStringLiteral("other.yard"));
  QFile file(path);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write(QByteArray::fromStdString(file::bytesOf(other.document.yard())));
  file.close();

  Bench bench;
  ASSERT_EQ(bench.addProp("ring", "Ring", 0, 0), unseen);
  ASSERT_EQ(bench.add(yard::Box{.name = "K1"}), outlet);
  bench.document.settle();
  bench.view.settle();
  EXPECT_FALSE(bench.view.canvas().extentOf({unseen}).isEmpty());
  ASSERT_TRUE(bench.document.open(path));
  bench.view.settle();
  EXPECT_EQ(bench.view.canvas().item(unseen), nullptr);
  const auto* mark = dynamic_cast<const MarkItem*>(bench.view.canvas().item(outlet));
  ASSERT_NE(mark, nullptr);
  EXPECT_EQ(mark->kind(), yard::RecordKind::Outlet);
}

}  // namespace
}  // namespace yw::ui
