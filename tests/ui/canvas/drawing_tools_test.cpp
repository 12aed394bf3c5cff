// Drawing outlines, measuring, scaling the picture, placing: exact lengths, and one named step a gesture.
#include <gtest/gtest.h>

#include <QBuffer>
#include <QClipboard>
#include <QLineEdit>
#include <QSignalSpy>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/items/photo_item.h"
#include "ui/canvas/tools/draw_tool.h"
#include "ui/canvas/tools/inline_entry.h"
#include "ui/canvas/tools/north_tool.h"
#include "ui/canvas/tools/photo_scale_tool.h"
#include "ui/canvas/tools/place_tool.h"

namespace yw::ui {
namespace {

using yard::FeatureKind;

QLineEdit* entryOf(CanvasView& view) {
  for (QLineEdit* edit : view.viewport()->findChildren<QLineEdit*>(QStringLiteral("inlineLength")))
    if (edit->isVisible()) return edit;
  return nullptr;
}

/// Types into the drawing the way a hand does: the first key opens the field, the rest goes into it.
void typeLength(CanvasView& view, const QString& text) {
  key(view, Qt::Key_0, {}, false, text.left(1));
  QLineEdit* edit = entryOf(view);
  ASSERT_NE(edit, nullptr);
  QTest::keyClicks(edit, text.mid(1));
  QTest::keyClick(edit, Qt::Key_Return);
}

std::vector<std::pair<base::Id, const yard::GroundFeature*>> features(const Document& document) {
  return yard::all<yard::GroundFeature>(document.yard());
}

TEST(DrawTool, TypedLengthsAreExact) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::Walk);
  click(bench.view, bench.at(-2, -1));
  hover(bench.view, bench.at(1, -1), Qt::ShiftModifier);
  typeLength(bench.view, QStringLiteral("12' 6\""));
  hover(bench.view, bench.at(1.8, 2), Qt::ShiftModifier);
  typeLength(bench.view, QStringLiteral("4"));  // a bare number is feet here
  hover(bench.view, bench.at(-2, 1));
  click(bench.view, bench.at(-2, 1));
  key(bench.view, Qt::Key_Return);
  ASSERT_EQ(features(bench.document).size(), 1U);
  const auto& outline = features(bench.document).front().second->outline;
  ASSERT_EQ(outline.size(), 4U);
  EXPECT_EQ(outline[1].x - outline[0].x, base::inches(150));
  EXPECT_EQ(outline[1].y, outline[0].y);
  EXPECT_NEAR(base::distance(base::vec(outline[1]), base::vec(outline[2])), 4 * 0.3048, 2e-6);
  EXPECT_EQ(bench.undoName(), "Draw walk");
  EXPECT_TRUE(bench.view.selecting());
  EXPECT_EQ(bench.document.selection().single(), features(bench.document).front().first);
}

TEST(DrawTool, ADragDrawsARectangle) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::Bed);
  drag(bench.view, bench.at(-2, 2), bench.at(2, -1));
  ASSERT_EQ(features(bench.document).size(), 1U);
  const auto& outline = features(bench.document).front().second->outline;
  ASSERT_EQ(outline.size(), 4U);
  EXPECT_EQ(outline[0].y, outline[1].y);
  EXPECT_EQ(outline[1].x, outline[2].x);
  EXPECT_EQ(outline[2].y, outline[3].y);
  EXPECT_EQ(outline[3].x, outline[0].x);
  EXPECT_NEAR(base::metres(outline[2].x - outline[0].x).si, 4.0, 0.02);
  EXPECT_NEAR(base::metres(outline[0].y - outline[2].y).si, 3.0, 0.02);
  EXPECT_EQ(bench.steps(), 1U);
}

TEST(DrawTool, TwoTypedLengthsMakeAnExactRectangleTowardThePointer) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::House);
  click(bench.view, bench.at(0, 0));
  hover(bench.view, bench.at(-1, -1));
  typeLength(bench.view, QStringLiteral("12' 6\" x 4m"));
  ASSERT_EQ(features(bench.document).size(), 1U);
  const auto& outline = features(bench.document).front().second->outline;
  ASSERT_EQ(outline.size(), 4U);
  EXPECT_EQ(outline[0].x - outline[2].x, base::inches(150));
  EXPECT_EQ(outline[0].y - outline[2].y, base::Length{4'000'000'000});
  EXPECT_EQ(yard::all<yard::Wall>(bench.document.yard()).size(), 4U);
  EXPECT_EQ(bench.undoName(), "Draw house");
}

TEST(DrawTool, TwoCornersOfAWalkAndEnterAskHowWide) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::Walk);
  click(bench.view, bench.at(-2, 0));
  click(bench.view, bench.at(1, 0));
  key(bench.view, Qt::Key_Return);
  QLineEdit* width = entryOf(bench.view);
  ASSERT_NE(width, nullptr);
  QTest::keyClicks(width, QStringLiteral("4'"));
  QTest::keyClick(width, Qt::Key_Return);
  ASSERT_EQ(features(bench.document).size(), 1U);
  const auto& outline = features(bench.document).front().second->outline;
  ASSERT_EQ(outline.size(), 4U);
  EXPECT_NEAR(base::distance(base::vec(outline[0]), base::vec(outline[1])), 3.0, 0.02);
  EXPECT_NEAR(base::distance(base::vec(outline[1]), base::vec(outline[2])), 4 * 0.3048, 2e-6);
  EXPECT_NEAR(base::metres(outline[0].y + outline[3].y).si, 0.0, 0.02) << "half to each hand";
  EXPECT_EQ(bench.steps(), 1U);
}

TEST(DrawTool, TooFewCornersAreToldAndNotLost) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::House);
  click(bench.view, bench.at(-2, 1));
  click(bench.view, bench.at(2, 1));
  const QImage before = bench.view.viewport()->grab().toImage();
  key(bench.view, Qt::Key_Return);
  EXPECT_TRUE(features(bench.document).empty());
  EXPECT_NE(bench.view.viewport()->grab().toImage(), before) << "the reason stands beside the pointer";
  click(bench.view, bench.at(0, -2));
  key(bench.view, Qt::Key_Return);
  ASSERT_EQ(features(bench.document).size(), 1U);
  EXPECT_EQ(features(bench.document).front().second->outline.size(), 3U);
}

TEST(DrawTool, ASideNearlySquareToTheLastIsSquared) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.drawFeature(FeatureKind::Walk);
  click(bench.view, bench.at(0, 0));
  hover(bench.view, bench.at(2, 0.25));  // 7° off: squared while its length is typed
  typeLength(bench.view, QStringLiteral("10'"));
  hover(bench.view, bench.at(3.2, 2));
  typeLength(bench.view, QStringLiteral("4'"));
  click(bench.view, bench.at(-2, 2.5));
  key(bench.view, Qt::Key_Return);
  ASSERT_EQ(features(bench.document).size(), 1U);
  const auto& outline = features(bench.document).front().second->outline;
  EXPECT_EQ(outline[1].x - outline[0].x, base::inches(120));
  EXPECT_EQ(outline[1].y, outline[0].y);
  EXPECT_EQ(outline[2].x, outline[1].x);
  EXPECT_EQ(outline[2].y - outline[1].y, base::inches(48));
}

TEST(DrawTool, ALengthThatDoesNotReadIsRefusedWithTheReason) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.drawFeature(FeatureKind::Fence);
  click(bench.view, bench.at(-2, -1));
  hover(bench.view, bench.at(1, -1));
  typeLength(bench.view, QStringLiteral("1,000"));
  ASSERT_NE(entryOf(bench.view), nullptr) << "the field stays open";
  const auto* entry = bench.view.viewport()->findChild<InlineEntry*>();
  EXPECT_FALSE(entry->reading().isEmpty());
  key(bench.view, Qt::Key_Escape);
  key(bench.view, Qt::Key_Escape);
  key(bench.view, Qt::Key_Escape);
  EXPECT_TRUE(bench.view.selecting());
  EXPECT_EQ(bench.steps(), 0U);
}

TEST(DrawTool, ShiftKeepsToFifteenDegrees) {
  EXPECT_NEAR(angleOf(constrained(QPointF(100, -22))), 15.0, 1e-9);
  EXPECT_NEAR(angleOf(constrained(QPointF(-3, -100))), 90.0, 1e-9);
  EXPECT_EQ(constrained(QPointF(-3, -100)).x(), 0.0);
}

TEST(DrawTool, BackspaceTakesOneCornerBackAndClickingTheFirstCloses) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::Bed);
  click(bench.view, bench.at(0, 0));
  click(bench.view, bench.at(1, 0));
  click(bench.view, bench.at(4, 3));
  key(bench.view, Qt::Key_Backspace);
  click(bench.view, bench.at(1, 1));
  click(bench.view, bench.at(0, 0));
  ASSERT_EQ(features(bench.document).size(), 1U);
  EXPECT_EQ(features(bench.document).front().second->outline.size(), 3U);
  EXPECT_EQ(bench.steps(), 1U);
}

TEST(DrawTool, DoubleClickEndsALotLineAndAddsNoDoubleCorner) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::LotLine);
  click(bench.view, bench.at(-3, 0));
  click(bench.view, bench.at(3, 0));
  QTest::mouseDClick(bench.view.viewport(), Qt::LeftButton, {}, bench.at(3, 2));
  ASSERT_EQ(features(bench.document).size(), 1U);
  EXPECT_GE(features(bench.document).front().second->outline.size(), 2U);
  EXPECT_EQ(bench.undoName(), "Draw lot line");
}

TEST(DrawTool, AHouseGetsItsWallsInTheSameStep) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::House);
  for (const base::Vec2 p : {base::Vec2{-3, 2}, {3, 2}, {3, -2}, {-3, -2}})
    click(bench.view, bench.at(p.x, p.y));  // clockwise
  key(bench.view, Qt::Key_Return);
  EXPECT_EQ(bench.undoName(), "Draw house");
  EXPECT_EQ(bench.steps(), 1U);
  const auto walls = yard::all<yard::Wall>(bench.document.yard());
  ASSERT_EQ(walls.size(), 4U);
  std::set<std::string> names;
  for (const auto& [id, wall] : walls) {
    names.insert(wall->name);
    // The outside is on the right looking from `from` to `to`: the middle of the house is on the left.
    const base::Vec2 from = base::vec(wall->from), along = base::vec(wall->to) - from;
    EXPECT_GT(base::cross(along, base::Vec2{0, 0} - from), 0.0) << wall->name;
  }
  EXPECT_EQ(names, (std::set<std::string>{"North wall", "East wall", "South wall", "West wall"}));
  bench.document.undo();
  EXPECT_TRUE(yard::all<yard::Wall>(bench.document.yard()).empty());
}

TEST(DrawTool, ATreeIsACircleOfTheTypedRadius) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.drawFeature(FeatureKind::Tree);
  click(bench.view, bench.at(1, 1));
  hover(bench.view, bench.at(2, 1));
  typeLength(bench.view, QStringLiteral("3ft"));
  ASSERT_EQ(features(bench.document).size(), 1U);
  const auto& outline = features(bench.document).front().second->outline;
  EXPECT_EQ(outline.size(), 24U);
  const base::Vec2 center = planOf(bench.view.toSceneExact(bench.at(1, 1)));
  for (const base::Point& p : outline) EXPECT_NEAR(base::distance(base::vec(p), center), 3 * 0.3048, 3e-6);
}

TEST(MeasureTool, TellsBothUnitsAndCopies) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.measure();
  click(bench.view, bench.at(0, 0));
  click(bench.view, bench.at(3, 4));
  key(bench.view, Qt::Key_C, Qt::ControlModifier);
  const QString copied = QGuiApplication::clipboard()->text();
  EXPECT_TRUE(copied.contains(QStringLiteral("= 5.00 m")) || copied.contains(QStringLiteral("= 5 m")))
      << copied.toStdString();
  EXPECT_TRUE(copied.contains(QStringLiteral("53.1°"))) << copied.toStdString();
  EXPECT_EQ(bench.steps(), 0U);
  key(bench.view, Qt::Key_Escape);
  key(bench.view, Qt::Key_Escape);
  EXPECT_TRUE(bench.view.selecting());
}

std::string picture(int width, int height) {
  QImage image(width, height, QImage::Format_RGB32);
  image.fill(Qt::darkGreen);
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  image.save(&buffer, "PNG");
  return bytes.toStdString();
}

TEST(NorthTool, TwoClicksTurnNorth) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  const auto north = [&] { return base::degrees(yard::site(bench.document.yard()).north); };
  bench.view.setTool(std::make_unique<NorthTool>(bench.view));
  click(bench.view, bench.at(1, 0));
  click(bench.view, bench.at(0, 1));  // up and to the left
  EXPECT_NEAR(north(), 45.0, 0.5);
  EXPECT_EQ(bench.undoName(), "Set north");
  EXPECT_TRUE(bench.view.selecting());
  bench.view.setTool(std::make_unique<NorthTool>(bench.view));
  click(bench.view, bench.at(0, 0));
  click(bench.view, bench.at(0, 0));  // no direction yet
  EXPECT_EQ(bench.steps(), 1U);
  click(bench.view, bench.at(2, 0));  // to the right
  EXPECT_NEAR(north(), -90.0, 0.01);
}

TEST(PhotoScaleTool, TwoClicksAndALengthScaleAThirdChecks) {
  Bench bench;
  const std::string hash = bench.document.addBlob(picture(400, 200));
  edit::Editor editor(bench.document.yard());
  editor.update<yard::Site>(yard::siteId(bench.document.yard()), [&](yard::Site& s) { s.photo = hash; });
  bench.document.commit(editor.finish("photo"));
  bench.view.fitAll();
  bench.view.scalePhoto();
  QStringList statuses;
  QObject::connect(&bench.view, &CanvasView::statusChanged, [&](const QString& s) { statuses << s; });
  const base::Vec2 a = planOf(bench.view.toSceneExact(QPointF(200, 350))),
                   b = planOf(bench.view.toSceneExact(QPointF(600, 350)));
  const double drawn = base::distance(a, b);
  click(bench.view, QPoint(200, 350));
  click(bench.view, QPoint(600, 350));
  QLineEdit* edit = entryOf(bench.view);
  ASSERT_NE(edit, nullptr);
  QTest::keyClicks(edit, QStringLiteral("20m"));
  QTest::keyClick(edit, Qt::Key_Return);
  const yard::Site& site = yard::site(bench.document.yard());
  EXPECT_EQ(bench.undoName(), "Scale the picture");
  EXPECT_EQ(site.scaleDistance, base::millimetres(20'000));
  EXPECT_NEAR(base::distance(base::vec(site.scaleFrom), base::vec(site.scaleTo)), 20.0, 1e-6);
  EXPECT_NEAR(base::metres(site.photoWidth).si, 30.0 * 20.0 / drawn, 1e-3);
  // The third distance: it says how far off the picture is, and is kept.
  click(bench.view, QPoint(200, 300));
  click(bench.view, QPoint(400, 300));
  edit = entryOf(bench.view);
  ASSERT_NE(edit, nullptr);
  QTest::keyClicks(edit, QStringLiteral("10m"));
  QTest::keyClick(edit, Qt::Key_Return);
  EXPECT_EQ(bench.undoName(), "Check the picture's scale");
  EXPECT_EQ(yard::site(bench.document.yard()).checkDistance, base::millimetres(10'000));
  EXPECT_TRUE(std::any_of(statuses.begin(), statuses.end(),
                          [](const QString& s) { return s.contains(QStringLiteral("tape")); }));
}

TEST(PhotoScaleTool, KeepsTheFirstClickWhereItIs) {
  yard::Site site;
  site.photoAt = base::point(base::Vec2{-10, -5});
  site.photoWidth = base::millimetres(30'000);
  const base::Point from = base::point(base::Vec2{2, 1}), to = base::point(base::Vec2{5, 5});
  const yard::Site scaled = scaledPhoto(site, from, to, base::millimetres(10'000));
  EXPECT_EQ(scaled.scaleFrom, from);
  EXPECT_EQ(scaled.photoWidth, base::millimetres(60'000));
  EXPECT_EQ(scaled.photoAt, base::point(base::Vec2{2 - 24, 1 - 12}));
}

TEST(PhotoScaleTool, WithoutAPictureSaysWhereToChooseOne) {
  Bench bench;
  bench.view.scalePhoto();
  EXPECT_TRUE(bench.view.tool().status().contains(QStringLiteral("Yard photo")));
  click(bench.view, QPoint(200, 350));
  click(bench.view, QPoint(600, 350));
  EXPECT_EQ(entryOf(bench.view), nullptr);
}

TEST(PlaceTool, ClickPlacesShiftStaysForMoreEnterDropsInView) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.placeProp("ring");
  click(bench.view, bench.at(-1, 0), Qt::ShiftModifier);
  click(bench.view, bench.at(1, 0), Qt::ShiftModifier);
  EXPECT_FALSE(bench.view.selecting());
  key(bench.view, Qt::Key_Return);
  EXPECT_TRUE(bench.view.selecting());
  const auto props = yard::all<yard::Prop>(bench.document.yard());
  ASSERT_EQ(props.size(), 3U);
  EXPECT_NEAR(base::vec(props[1].second->at).x, 1.0, 0.006);
  EXPECT_NEAR(base::vec(props[2].second->at).x, 0.0, 0.006);
  EXPECT_EQ(bench.undoName(), "Place " + props[2].second->name);
  EXPECT_NE(props[0].second->name, props[1].second->name);
}

TEST(PlaceTool, GearOfEveryKind) {
  Bench bench;
  bench.lookAtOrigin();
  for (const auto kind : {yard::RecordKind::Box, yard::RecordKind::Outlet, yard::RecordKind::OtherLoad,
                          yard::RecordKind::AudiencePoint, yard::RecordKind::SpotHeight}) {
    bench.view.placeGear(kind);
    const std::size_t before = bench.document.yard().records.size();
    click(bench.view, bench.at(1, 1));
    // The first outlet brings the house circuit it hangs on, in the same step.
    const std::size_t with = kind == yard::RecordKind::Outlet ? 2 : 1;
    EXPECT_EQ(bench.document.yard().records.size(), before + with);
    EXPECT_TRUE(bench.view.canvas().item(bench.document.selection().single()));
  }
  const auto circuits = yard::all<yard::HouseCircuit>(bench.document.yard());
  const auto outlets = yard::all<yard::Outlet>(bench.document.yard());
  ASSERT_EQ(circuits.size(), 1U);
  EXPECT_EQ(outlets.front().second->circuit, circuits.front().first);
  EXPECT_EQ(bench.get<yard::Box>(yard::all<yard::Box>(bench.document.yard()).front().first).name, "K1");
}

TEST(PlaceTool, StakesFollowThePathThatIsClicked) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.placeProp("path_stakes");
  for (const base::Vec2 p : {base::Vec2{-3, -1}, {0, -1}, {0, 2}}) click(bench.view, bench.at(p.x, p.y));
  key(bench.view, Qt::Key_Return);
  const auto props = yard::all<yard::Prop>(bench.document.yard());
  ASSERT_EQ(props.size(), 1U);
  const yard::Prop& prop = *props[0].second;
  ASSERT_EQ(prop.path.size(), 3U);
  EXPECT_EQ(prop.path[0], base::Point{});
  EXPECT_NEAR(base::vec(prop.path[1]).x, 3.0, 0.011);
  EXPECT_NEAR(base::vec(prop.path[2]).y, 3.0, 0.011);
  EXPECT_NEAR(base::vec(prop.at).x, -3.0, 0.006);
}

TEST(PlaceTool, DrawsAnOwnShapeOfSeveralLinesFlatOnThePlan) {
  Bench bench;
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.placeProp("own");
  click(bench.view, bench.at(-2, -1));
  click(bench.view, bench.at(1, -1));
  key(bench.view, Qt::Key_N);
  click(bench.view, bench.at(-2, 1));
  click(bench.view, bench.at(0, 2));
  click(bench.view, bench.at(2, 1));
  key(bench.view, Qt::Key_Return);
  const auto props = yard::all<yard::Prop>(bench.document.yard());
  ASSERT_EQ(props.size(), 1U);
  const yard::Prop& own = *props[0].second;
  ASSERT_EQ(own.lines.size(), 2U);
  EXPECT_EQ(own.lines[1].points.size(), 3U);
  EXPECT_EQ(own.choices.at("lies"), "flat");
  const auto shape = shapes::make(own);
  ASSERT_TRUE(shape);
  const auto place = shapes::placementOf(bench.document.yard(), own);
  const base::Vec3 first = place.toYard(shape->pixels.front()), last = place.toYard(shape->pixels.back());
  EXPECT_NEAR(first.x, -2, 0.02);
  EXPECT_NEAR(first.y, -1, 0.02);
  EXPECT_NEAR(last.x, 2, 0.1);
  EXPECT_NEAR(last.y, 1, 0.1);
  bench.document.undo();
  EXPECT_TRUE(yard::all<yard::Prop>(bench.document.yard()).empty());
  // Enter with nothing drawn sets the usual one down, for a drawing to be brought into.
  bench.view.placeProp("own");
  key(bench.view, Qt::Key_Return);
  EXPECT_EQ(yard::all<yard::Prop>(bench.document.yard()).size(), 1U);
}

TEST(PlaceTool, WhatHangsOnWallsIsCaughtByTheNearestWall) {
  Bench bench;
  yard::Wall wall;
  wall.name = "South wall";
  wall.from = base::point(base::Vec2{-3, 0});
  wall.to = base::point(base::Vec2{3, 0});
  const base::Id wallId = bench.add(wall);
  bench.lookAtOrigin();
  bench.view.setSnaps(false);
  bench.view.placeProp("window_outline");
  click(bench.view, bench.at(0, -2));  // no wall near: nothing happens
  EXPECT_TRUE(yard::all<yard::Prop>(bench.document.yard()).empty());
  click(bench.view, bench.at(1, -0.1));
  ASSERT_EQ(yard::all<yard::Prop>(bench.document.yard()).size(), 1U);
  const yard::Prop& prop = *yard::all<yard::Prop>(bench.document.yard())[0].second;
  EXPECT_EQ(prop.wall, wallId);
  EXPECT_NEAR(base::vec(prop.at).x, 4.0, 0.006);
  EXPECT_EQ(prop.at.y, base::feet(3));
}

TEST(PlaceTool, MimeNamesEveryKindAndRefusesOthers) {
  for (const shapes::Kind& kind : shapes::kinds()) {
    const auto back = PlaceWhat::fromMime(PlaceWhat{yard::RecordKind::Prop, kind.name}.mime());
    ASSERT_TRUE(back);
    EXPECT_EQ(back->kind, kind.name);
  }
  EXPECT_EQ(PlaceWhat::fromMime("box")->record, yard::RecordKind::Box);
  EXPECT_FALSE(PlaceWhat::fromMime("prop:nothing"));
  EXPECT_FALSE(PlaceWhat::fromMime("supply"));
}

}  // namespace
}  // namespace yw::ui
