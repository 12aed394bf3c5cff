// What stands beside the pointer before the hand lets go: reach and volts, as the engine has them.
#include <gtest/gtest.h>

#include <QElapsedTimer>

#include "core/base/number_text.h"
#include "core/file/yard_file.h"
#include "tests/ui/canvas/wired_bench.h"
#include "ui/canvas/tools/feed_tool.h"
#include "ui/canvas/tools/jumper_step.h"
#include "ui/canvas/tools/outcome.h"
#include "ui/canvas/tools/select_tool.h"

namespace yw::ui {
namespace {

void press(CanvasView& view, QPoint at) { QTest::mousePress(view.viewport(), Qt::LeftButton, {}, at); }
void moveTo(CanvasView& view, QPoint at) {
  QMouseEvent move(QEvent::MouseMove, QPointF(at), view.viewport()->mapToGlobal(QPointF(at)), Qt::NoButton,
                   Qt::LeftButton, {});
  QApplication::sendEvent(view.viewport(), &move);
}
void release(CanvasView& view, QPoint at) { QTest::mouseRelease(view.viewport(), Qt::LeftButton, {}, at); }

QString noteOf(CanvasView& view) {
  return dynamic_cast<SelectTool&>(view.tool()).note().join(QLatin1Char('\n'));
}
QString words(base::Fact fact) { return QString::fromStdString(base::text(fact)); }

struct Pulled : Wired {
  base::Id run;
  Pulled() {
    run = pullAll();
    view.setSnaps(false);
  }
  const data::Hop& hop(std::size_t k) { return document.assessment()->data.runs.at(run).hops.at(k); }
  double lowest() { return document.assessment()->limit.runs.at(run).lowestVolts; }
  std::vector<base::Id> order() {
    std::vector<base::Id> props;
    for (const auto& item : get<yard::Run>(run).items) props.push_back(item.prop);
    return props;
  }
};

TEST(LiveFigures, DraggingAPropTellsReachAndVoltsBeforeItIsLetGo) {
  Pulled yard;
  const double before = yard.lowest();
  const std::size_t steps = yard.steps();
  press(yard.view, yard.at(-2, 0));
  for (int i = 1; i <= 5; ++i) moveTo(yard.view, yard.at(-2, 0) + QPoint(0, -50 * i));
  const QString note = noteOf(yard.view);
  EXPECT_EQ(yard.steps(), steps) << "nothing is done before the hand lets go";
  yard.document.settle();
  EXPECT_LT(yard.lowest(), before) << "longer leads lose more";
  EXPECT_TRUE(note.contains(words(base::toVoltage({yard.lowest()})))) << note.toStdString();
  EXPECT_TRUE(note.contains(words(base::toVoltage({before})) + QStringLiteral(" before")))
      << note.toStdString();
  EXPECT_TRUE(note.contains(QStringLiteral("reach"))) << note.toStdString();
  const auto lead = worstLeadAt(*yard.document.assessment(), {yard.a});
  ASSERT_TRUE(lead);
  EXPECT_TRUE(note.contains(QString::fromStdString(
      base::longLengthText(base::toLength({lead->length}), base::UnitSystem::FeetInches))));
  EXPECT_NEAR(lead->length / lead->limit,
              std::max(yard.hop(0).length / yard.hop(0).limit, yard.hop(1).length / yard.hop(1).limit),
              1e-12);
  release(yard.view, yard.at(-2, 0) + QPoint(0, -250));
  yard.document.settle();
  EXPECT_EQ(yard.undoName(), "Move Ring 1");
  EXPECT_TRUE(note.contains(words(base::toVoltage({yard.lowest()})))) << "what was said came true";
}

TEST(LiveFigures, SayThatALeadGoesBeyondItsReach) {
  Pulled yard;
  press(yard.view, yard.at(2, 0));
  yard.view.fit(QRectF(-40'000, -28'000, 80'000, 56'000), 0.0);
  moveTo(yard.view, yard.at(30, 0));
  const QString note = noteOf(yard.view);
  const auto lead = worstLeadAt(*yard.document.assessment(), {yard.c});
  ASSERT_TRUE(lead);
  ASSERT_GT(lead->length, lead->limit);
  EXPECT_TRUE(note.contains(QStringLiteral("beyond the reach"))) << note.toStdString();
  key(yard.view, Qt::Key_Escape);
  release(yard.view, yard.at(30, 0));
}

TEST(LiveFigures, DraggingABoxTellsTheRunsItFeeds) {
  Pulled yard;
  press(yard.view, yard.at(-4, 0));
  moveTo(yard.view, yard.at(-4, 0) + QPoint(0, 100));
  moveTo(yard.view, yard.at(-4, 0) + QPoint(0, 250));
  const QString note = noteOf(yard.view);
  EXPECT_TRUE(note.contains(words(base::toVoltage({yard.lowest()})))) << note.toStdString();
  EXPECT_TRUE(note.contains(QStringLiteral("reach"))) << note.toStdString();
  key(yard.view, Qt::Key_Escape);
  release(yard.view, yard.at(-4, 0));
}

TEST(LiveFigures, WhatIsNotWiredHasNone) {
  Wired yard;
  press(yard.view, yard.at(-2, 0));
  moveTo(yard.view, yard.at(-2, 0) + QPoint(0, 50));
  EXPECT_FALSE(noteOf(yard.view).contains(QStringLiteral(" V"))) << noteOf(yard.view).toStdString();
  key(yard.view, Qt::Key_Escape);
  release(yard.view, yard.at(-2, 0));
}

TEST(LiveFigures, TheWorstPixelIsTheOneWithLeastToSpare) {
  Pulled yard;
  const auto& a = *yard.document.assessment();
  const auto worst = worstPixelOf(a, {yard.run});
  ASSERT_TRUE(worst);
  const auto& figure = a.limit.runs.at(yard.run);
  EXPECT_EQ(worst->volts, figure.lowestVolts) << "one product: the lowest has least to spare";
  EXPECT_EQ(a.layouts.at(yard.run)->pixels.at(static_cast<std::size_t>(figure.lowestPixel - 1)).prop,
            worst->prop);
  EXPECT_TRUE(runsAt(a, {yard.supply}).empty() || runsAt(a, {yard.box}).contains(yard.run));
}

TEST(LiveFigures, OnTheLargestSampleADragStepStaysQuick) {
  Bench bench;
  ASSERT_TRUE(bench.document.open(samplePath("large-grounds.yard")));
  const auto props = yard::all<yard::Prop>(bench.document.yard());
  QElapsedTimer clock;
  clock.start();
  for (int i = 0; i < 20; ++i)
    outcomeLines(*bench.document.assessment(), bench.document.assessment().get(), {props[0].first},
                 base::UnitSystem::FeetInches);
  EXPECT_LT(clock.elapsed(), 20 * 50) << "what stands beside the pointer must not hold it up";
}

TEST(Jumper, DraggedOntoAPropTheRunGoesThroughItThere) {
  Pulled yard;
  const base::Id tree = yard.addProp("ring", "Ring 4", -1, 2);
  yard.document.settle();
  const std::size_t steps = yard.steps();
  const auto& cables = yard.view.canvas().cables();
  const auto jumper = std::find_if(cables.begin(), cables.end(), [](const auto& c) {
    return c.first.role == routes::CableRole::Jumper && c.first.item == 1;
  });
  ASSERT_NE(jumper, cables.end());
  const QPoint on = yard.view.toView(jumper->second->middle()).toPoint();
  press(yard.view, on);
  moveTo(yard.view, on + QPoint(0, -20));
  moveTo(yard.view, yard.at(-1, 2));
  const QString note = noteOf(yard.view);
  EXPECT_TRUE(note.contains(QStringLiteral("Pull K1-P01 through Ring 4"))) << note.toStdString();
  EXPECT_TRUE(note.contains(QStringLiteral("reach"))) << note.toStdString();
  EXPECT_EQ(yard.steps(), steps);
  const double told = yard.lowest();
  release(yard.view, yard.at(-1, 2));
  EXPECT_EQ(yard.steps(), steps + 1);
  EXPECT_EQ(yard.undoName(), "Pull K1-P01 through Ring 4");
  EXPECT_EQ(yard.order(), (std::vector<base::Id>{yard.a, tree, yard.b, yard.c}));
  yard.document.settle();
  EXPECT_EQ(yard.lowest(), told);
  EXPECT_TRUE(file::checkSavable(yard.document.yard()));
}

TEST(Jumper, DroppedOnEmptyGroundOrStoppedChangesNothing) {
  Pulled yard;
  const std::string before = file::bytesOf(yard.document.yard());
  const std::size_t steps = yard.steps();
  const CableItem* lead = yard.view.canvas().cables().begin()->second;
  const QPoint on = yard.view.toView(lead->middle()).toPoint();
  drag(yard.view, on, yard.at(0, -3));
  EXPECT_EQ(yard.steps(), steps);
  press(yard.view, on);
  moveTo(yard.view, on + QPoint(0, 30));
  moveTo(yard.view, yard.at(2, 0));
  key(yard.view, Qt::Key_Escape);
  release(yard.view, yard.at(2, 0));
  EXPECT_EQ(yard.steps(), steps);
  EXPECT_EQ(file::bytesOf(yard.document.yard()), before);
}

TEST(Jumper, TakesAPropOutOfWhereItWas) {
  Pulled yard;
  const auto& a = *yard.document.assessment();
  const JumperStep step = pullThrough(a, yard.run, 0, yard.c);  // the last comes first
  ASSERT_FALSE(step.change.empty());
  yard.document.commit(step.change);
  EXPECT_EQ(yard.order(), (std::vector<base::Id>{yard.c, yard.a, yard.b}));
  yard.document.settle();
  const JumperStep back = pullThrough(*yard.document.assessment(), yard.run, 3, yard.c);
  ASSERT_FALSE(back.change.empty());
  yard.document.commit(back.change);
  EXPECT_EQ(yard.order(), (std::vector<base::Id>{yard.a, yard.b, yard.c}));
  EXPECT_TRUE(file::checkSavable(yard.document.yard()));
}

TEST(Jumper, RefusesInWords) {
  Pulled yard;
  const auto& a = *yard.document.assessment();
  const JumperStep same = pullThrough(a, yard.run, 1, yard.b);
  EXPECT_TRUE(same.change.empty());
  EXPECT_EQ(same.refusal.key, "canvas_jumper_here");
  const JumperStep gone = pullThrough(a, yard.run, 99, yard.b);
  EXPECT_TRUE(gone.change.empty());
}

TEST(RunTool, DrawnOverPropsShowsThemWiredAndAddsThemInOneStepWhenLetGo) {
  Wired yard;
  yard.view.pullRun();
  const std::size_t steps = yard.steps();
  press(yard.view, yard.at(-4, 0));
  EXPECT_EQ(yard.tool().port(), yard.port1);
  for (const double x : {-3.0, -2.0, -1.0, 0.0, 1.0, 2.0}) moveTo(yard.view, yard.at(x, 0));
  const QString note = yard.tool().note().join(QLatin1Char('\n'));
  EXPECT_EQ(yard.steps(), steps) << "nothing is done before the hand lets go";
  EXPECT_TRUE(note.contains(QStringLiteral("Add 3 props to K1-P01"))) << note.toStdString();
  EXPECT_TRUE(note.contains(QStringLiteral("reach"))) << note.toStdString();
  yard.document.settle();
  const auto& figures = yard.document.assessment()->limit.runs;
  ASSERT_EQ(figures.size(), 1U) << "what is drawn is assessed while it is drawn";
  const double told = figures.begin()->second.lowestVolts;
  EXPECT_TRUE(note.contains(words(base::toVoltage({told})))) << note.toStdString();
  release(yard.view, yard.at(2, 0));
  EXPECT_EQ(yard.steps(), steps + 1);
  EXPECT_EQ(yard.undoName(), "Add 3 props to K1-P01");
  hover(yard.view, yard.at(2, 0) + QPoint(1, 0));
  EXPECT_TRUE(yard.tool().note().isEmpty()) << "no complaint about what was just added";
  ASSERT_TRUE(yard.run());
  std::vector<base::Id> props;
  for (const auto& item : yard.run()->items) props.push_back(item.prop);
  EXPECT_EQ(props, (std::vector<base::Id>{yard.a, yard.b, yard.c}));
  EXPECT_TRUE(file::checkSavable(yard.document.yard()));
  yard.document.undo();
  EXPECT_FALSE(yard.run());
}

TEST(RunTool, EscapeWhileDrawnOverPropsAddsNone) {
  Wired yard;
  yard.view.pullRun();
  const std::size_t steps = yard.steps();
  press(yard.view, yard.at(-4, 0));
  moveTo(yard.view, yard.at(-2, 0));
  moveTo(yard.view, yard.at(0, 0));
  key(yard.view, Qt::Key_Escape);
  release(yard.view, yard.at(0, 0));
  EXPECT_EQ(yard.steps(), steps);
  EXPECT_FALSE(yard.run());
  EXPECT_FALSE(yard.view.selecting()) << "the tool is still in the hand";
}

TEST(FeedTool, TellsTheVoltsAtTheWorstPixelBeforeTheClick) {
  Pulled yard;
  yard.view.addFeed();
  const PropItem* ring = yard.view.canvas().prop(yard.c);
  const QPoint at = yard.view.toView(ring->pixelPlace(20)).toPoint();
  hover(yard.view, at);
  auto& tool = dynamic_cast<FeedTool&>(yard.view.tool());
  ASSERT_TRUE(QTest::qWaitFor(
      [&] { return tool.note().join(QString()).contains(QStringLiteral("brightness limit")); }, 3000))
      << tool.note().join(QLatin1Char('|')).toStdString();
  const QString note = tool.note().join(QLatin1Char('\n'));
  click(yard.view, at);
  yard.document.settle();
  EXPECT_TRUE(note.contains(words(base::toVoltage({yard.lowest()})))) << note.toStdString();
}

TEST(TurnRound, EntersAtTheOtherEndInOneNamedStepAndSaysWhatFollows) {
  Pulled yard;
  const bool before = yard.get<yard::Run>(yard.run).items[1].reversed;
  QString said;
  QObject::connect(&yard.view, &CanvasView::statusChanged, [&](const QString& text) { said = text; });
  yard.document.selection().set({yard.b});
  key(yard.view, Qt::Key_T);
  EXPECT_EQ(yard.get<yard::Run>(yard.run).items[1].reversed, !before);
  EXPECT_EQ(yard.undoName(), "Turn Ring 2 round in its run");
  EXPECT_TRUE(said.contains(words(base::toVoltage({yard.lowest()})))) << said.toStdString();
  yard.document.undo();
  EXPECT_EQ(yard.get<yard::Run>(yard.run).items[1].reversed, before);
  yard.document.selection().set({yard.box});
  const std::size_t steps = yard.steps();
  key(yard.view, Qt::Key_T);
  EXPECT_EQ(yard.steps(), steps);
  EXPECT_TRUE(said.contains(QStringLiteral("wired"))) << said.toStdString();
}

TEST(RunsFollow, MovingAPropStretchesItsCablesAndTheirLengths) {
  Pulled yard;
  const auto find = [&](std::int64_t item) -> const routes::RoutedCable& {
    for (const auto& [key, cable] : yard.document.assessment()->routes.cables)
      if (key.of == yard.run && key.item == item && key.role != routes::CableRole::Feed) return cable;
    throw std::runtime_error("no such cable");
  };
  const double before = find(1).length();
  const auto cut = find(1).cutLength;
  yard.document.selection().set({yard.b});
  drag(yard.view, yard.at(0, 0), yard.at(0, 0) + QPoint(0, 150));
  yard.document.settle();
  const auto& jumper = find(1);
  EXPECT_GT(jumper.length(), before + 0.5);
  EXPECT_GT(jumper.cutLength, cut);
  const auto& shape = *yard.document.assessment()->shapes.at(yard.b);
  EXPECT_GT(shape.pixels.size(), 0U);
  EXPECT_EQ(jumper.to.record, yard.b) << "still joined";
  EXPECT_EQ(jumper.from.record, yard.a);
}

TEST(Dragging, WhatIsSelectedAndCannotMoveDoesNotStopTheProp) {
  Pulled yard;
  yard.document.selection().set({yard.run});
  drag(yard.view, yard.at(0, 0), yard.at(0, 0) + QPoint(0, 100));
  EXPECT_EQ(yard.undoName(), "Move Ring 2");
}

}  // namespace
}  // namespace yw::ui
