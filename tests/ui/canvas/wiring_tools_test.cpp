// Pulling runs and putting feeds on, with the engine's own figures shown beforehand.
#include <gtest/gtest.h>

#include "core/file/yard_file.h"
#include "core/yard/labels.h"
#include "tests/ui/canvas/pictures.h"
#include "tests/ui/canvas/wired_bench.h"
#include "ui/canvas/tools/feed_tool.h"
#include "ui/canvas/tools/run_tool.h"

namespace yw::ui {
namespace {

TEST(RunTool, StartsAtABoxesNextFreePortAndAddsOneStepAProp) {
  Wired wired;
  const std::size_t steps = wired.steps();
  wired.view.pullRun();
  click(wired.view, wired.at(-4, 0));
  EXPECT_EQ(wired.tool().port(), wired.port1);
  click(wired.view, wired.at(-2, 0));
  EXPECT_EQ(wired.undoName(), "Add Ring 1 to K1-P01");
  click(wired.view, wired.at(0, 0));
  EXPECT_EQ(wired.undoName(), "Add Ring 2 to K1-P01");
  EXPECT_EQ(wired.steps(), steps + 2);
  ASSERT_TRUE(wired.run());
  ASSERT_EQ(wired.run()->items.size(), 2U);
  EXPECT_EQ(wired.run()->items[0].prop, wired.a);
  EXPECT_EQ(wired.run()->items[0].first, 0) << "the whole prop, whatever its size becomes";
  EXPECT_EQ(wired.run()->items[0].last, 0);
  key(wired.view, Qt::Key_Return);
  EXPECT_TRUE(wired.view.selecting());
  EXPECT_TRUE(file::checkSavable(wired.document.yard()));
  // The next run from this box takes the next port.
  wired.view.pullRun();
  EXPECT_EQ(wired.document.selection().single(), yard::all<yard::Run>(wired.document.yard()).front().first);
  key(wired.view, Qt::Key_Escape);
  wired.document.selection().set({wired.box});
  wired.view.pullRun();
  EXPECT_EQ(wired.tool().port(), wired.port2);
}

// Once a run was chosen, clicks on a box were ignored and everything went on its port.
TEST(RunTool, ABoxBeginsANewRunAlsoWhileAnotherIsChosen) {
  Wired wired;
  wired.view.pullRun();
  click(wired.view, wired.at(-4, 0));
  click(wired.view, wired.at(-2, 0));
  key(wired.view, Qt::Key_Return);
  wired.view.pullRun();  // the run is still selected
  EXPECT_EQ(wired.tool().port(), wired.port1);
  click(wired.view, wired.at(-4, 0));
  EXPECT_EQ(wired.tool().port(), wired.port2);
  click(wired.view, wired.at(0, 0));
  EXPECT_EQ(wired.undoName(), "Add Ring 2 to K1-P02");
}

// On a plan a line of lights along the eave lies over the box on that wall: a press there once took the line.
TEST(RunTool, ABoxUnderAPropStillBeginsARun) {
  Wired wired;
  const base::Id over = wired.addProp("ring", "Ring 9", -4, 0);
  ASSERT_TRUE(over);
  wired.view.pullRun();
  click(wired.view, wired.at(-4, 0));
  EXPECT_EQ(wired.tool().port(), wired.port1);
  EXPECT_FALSE(wired.run());
}

TEST(RunTool, BackspaceTakesBackAndEscapeKeepsWhatIsDone) {
  Wired wired;
  wired.view.startRun(wired.port1);
  click(wired.view, wired.at(-2, 0));
  click(wired.view, wired.at(0, 0));
  key(wired.view, Qt::Key_Backspace);
  ASSERT_EQ(wired.run()->items.size(), 1U);
  key(wired.view, Qt::Key_Escape);
  EXPECT_TRUE(wired.view.selecting());
  EXPECT_EQ(wired.run()->items.size(), 1U);
  // Pulled on later, after something else was done: the last item comes off as a step of its own.
  wired.view.startRun(wired.port1);
  key(wired.view, Qt::Key_Backspace);
  EXPECT_EQ(wired.run()->items.size(), 0U);
  EXPECT_EQ(wired.undoName(), "Take Ring 1 off K1-P01");
}

TEST(RunTool, ShowsBeforehandWhatTheEngineWillSay) {
  Wired wired;
  wired.view.startRun(wired.port1);
  hover(wired.view, wired.at(-2, 0));
  const QStringList early = wired.tool().note();
  ASSERT_FALSE(early.isEmpty());
  EXPECT_TRUE(early[0].contains(QStringLiteral("Ring 1")));
  ASSERT_TRUE(QTest::qWaitFor([&] { return wired.tool().note().size() > early.size(); }, 3000));
  const QStringList note = wired.tool().note();
  const QString all = note.join(QLatin1Char('\n'));
  const QString count = QString::number(wired.pixels(wired.a));
  EXPECT_TRUE(all.contains(count)) << all.toStdString();
  // After the click the assessment says the same volts as the note did before it.
  click(wired.view, wired.at(-2, 0));
  wired.document.settle();
  const base::Id run = yard::all<yard::Run>(wired.document.yard()).front().first;
  const auto& figure = wired.document.assessment()->limit.runs.at(run);
  const QString volts = QString::fromStdString(base::text(base::Fact(base::toVoltage({figure.lowestVolts}))));
  EXPECT_TRUE(all.contains(volts)) << all.toStdString() << " should name " << volts.toStdString();
  EXPECT_TRUE(all.contains(QStringLiteral("reach"))) << all.toStdString();
}

TEST(RunTool, AFullPortCutsAtTheLastJointThatFits) {
  Wired wired(100);
  edit::Editor editor(wired.document.yard());
  yard::Prop panel = shapes::usualProp("mesh_panel");
  panel.name = "Panel";
  panel.at = base::point(base::Vec2{0, 2});
  const base::Id id = editor.add(panel);
  wired.document.commit(editor.finish("panel"));
  const std::int64_t all = wired.pixels(id);
  ASSERT_GT(all, 100) << "the usual panel has more pixels than this port takes";
  wired.document.settle();
  const auto& a = *wired.document.assessment();
  const RunStep step = nextRunStep(a, {}, wired.port1, id, false);
  ASSERT_FALSE(step.change.empty());
  EXPECT_EQ(step.limit, 100);
  EXPECT_LE(step.after(), 100);
  EXPECT_EQ(step.leftOver, all - step.range.last);
  const auto& joints = a.shapes.at(id)->joints;
  EXPECT_TRUE(std::any_of(joints.begin(), joints.end(),
                          [&](const shapes::Joint& j) { return j.afterPixel == step.range.last; }));
  EXPECT_FALSE(std::any_of(joints.begin(), joints.end(), [&](const shapes::Joint& j) {
    return j.afterPixel > step.range.last && j.afterPixel <= 100;
  })) << "a later joint would have fitted";
  // Entered from the other end, the part at that end is taken.
  const RunStep turned = nextRunStep(a, {}, wired.port1, id, true);
  EXPECT_EQ(turned.range.last, all);
  EXPECT_LE(turned.after(), 100);
  wired.document.commit(step.change);
  wired.document.settle();
  const auto& b = *wired.document.assessment();
  ASSERT_EQ(freeRanges(b, id).size(), 1U);
  EXPECT_EQ(freeRanges(b, id)[0].first, step.range.last + 1);
  EXPECT_EQ(freeRanges(b, id)[0].last, all);
  // The rest goes to the next port and is no whole prop any more.
  const RunStep rest = nextRunStep(b, {}, wired.port2, id);
  EXPECT_EQ(rest.range.first >= step.range.last + 1, true);
}

TEST(RunTool, EntersAtTheNearestEndAndRTurnsIt) {
  Wired wired;
  const base::Id arch = wired.addProp("arch", "Arch", 0, 2);
  wired.document.settle();
  const auto& a = *wired.document.assessment();
  const auto& shape = *a.shapes.at(arch);
  const double inX = shape.in.at.x, outX = shape.out.at.x;
  ASSERT_NE(inX, outX);
  const RunStep near = nextRunStep(a, {}, wired.port1, arch);  // the box stands at the left
  EXPECT_EQ(near.reversed, outX < inX);
  wired.view.startRun(wired.port1);
  const QPoint middle = wired.at((inX + outX) / 2, 2);
  hover(wired.view, middle);
  key(wired.view, Qt::Key_R);
  click(wired.view, middle);
  ASSERT_TRUE(wired.run());
  EXPECT_EQ(wired.run()->items[0].reversed, !near.reversed);
}

TEST(RunTool, RefusesInWords) {
  Wired wired;
  wired.view.startRun(wired.port1);
  click(wired.view, wired.at(-2, 0));
  const std::size_t steps = wired.steps();
  click(wired.view, wired.at(-2, 0));  // wired already
  EXPECT_EQ(wired.steps(), steps);
  EXPECT_TRUE(wired.view.tool().status().contains(QStringLiteral("wired already")))
      << wired.view.tool().status().toStdString();
}

TEST(FeedTool, AClickDoesWhatTheSentenceSaid) {
  Wired wired;
  wired.view.startRun(wired.port1);
  click(wired.view, wired.at(-2, 0));
  key(wired.view, Qt::Key_Return);
  wired.document.settle();
  wired.view.addFeed();
  const PropItem* ring = wired.view.canvas().prop(wired.a);
  ASSERT_TRUE(ring);
  const QPoint at = wired.view.toView(ring->pixelPlace(7)).toPoint();
  hover(wired.view, at);
  auto& tool = dynamic_cast<FeedTool&>(wired.view.tool());
  ASSERT_TRUE(
      QTest::qWaitFor([&] { return tool.note().join(QString()).contains(QStringLiteral("K1")); }, 3000))
      << tool.note().join(QLatin1Char('|')).toStdString();
  const std::size_t steps = wired.steps();
  click(wired.view, at);
  EXPECT_EQ(wired.steps(), steps + 1);
  const auto cables = yard::all<yard::Cable>(wired.document.yard());
  ASSERT_EQ(cables.size(), 1U);
  EXPECT_EQ(cables[0].second->from.kind, yard::TerminalKind::FusePosition);
  EXPECT_EQ(cables[0].second->to.record, wired.a);
  EXPECT_EQ(wired.document.selection().single(), cables[0].first);
}

TEST(FeedTool, TellsBeforeTheClickWhatWillNeedAttention) {
  Wired wired;
  edit::Editor editor(wired.document.yard());
  const base::Id wire = yard::settings(editor.yard()).usualFeed;
  editor.update<yard::Wire>(
      wire, [](yard::Wire& w) { w.limit = base::Current{50'000}; });  // for no fuse that is sold
  wired.document.commit(editor.finish("thin"));
  wired.pullAll();
  const auto before = wired.document.report();
  wired.view.addFeed();
  const PropItem* ring = wired.view.canvas().prop(wired.b);
  const QPoint at = wired.view.toView(ring->pixelPlace(7)).toPoint();
  hover(wired.view, at);
  auto& tool = dynamic_cast<FeedTool&>(wired.view.tool());
  ASSERT_TRUE(
      QTest::qWaitFor([&] { return tool.note().join(QString()).contains(QStringLiteral("K1")); }, 3000));
  const QString told = tool.note().join(QLatin1Char('\n'));
  click(wired.view, at);
  wired.document.settle();
  std::set<std::string> known;
  for (const auto& finding : before->findings) known.insert(findings::identity(finding));
  std::vector<QString> fresh;
  for (const auto& finding : wired.document.report()->findings)
    if (finding.severity <= findings::Severity::WontWork && !known.contains(findings::identity(finding)))
      fresh.push_back(QString::fromStdString(base::text(finding.sentence, wired.view.units())));
  std::string after;
  for (const auto& finding : wired.document.report()->findings)
    after += findings::identity(finding) + " " + base::text(finding.sentence, wired.view.units()) + "\n";
  ASSERT_FALSE(fresh.empty()) << "a thin wire on a fuse is a danger; there is\n"
                              << after << told.toStdString();
  for (std::size_t i = 0; i < std::min<std::size_t>(2, fresh.size()); ++i)
    EXPECT_TRUE(told.contains(fresh[i])) << told.toStdString() << "\nlacks\n" << fresh[i].toStdString();
  if (fresh.size() > 2) {
    EXPECT_TRUE(told.contains(QString::number(fresh.size() - 2)));
  }
}

TEST(FeedTool, SaysThatAPixelMustBeWiredFirst) {
  Wired wired;
  wired.view.addFeed();
  const PropItem* ring = wired.view.canvas().prop(wired.b);
  hover(wired.view, wired.view.toView(ring->pixelPlace(3)).toPoint());
  auto& tool = dynamic_cast<FeedTool&>(wired.view.tool());
  ASSERT_FALSE(tool.note().isEmpty());
  EXPECT_TRUE(tool.note()[0].contains(QStringLiteral("wire it first")));
}

TEST(PixelColors, FlowToTheirNewValuesUnlessMotionIsReduced) {
  Wired wired;
  wired.view.startRun(wired.port1);
  click(wired.view, wired.at(-2, 0));
  key(wired.view, Qt::Key_Return);
  wired.document.settle();
  PropItem* last = wired.view.canvas().prop(wired.a);
  const auto dimmed = [&](std::int64_t volts) {
    edit::Editor editor(wired.document.yard());
    editor.update<yard::Supply>(wired.supply, [&](yard::Supply& s) { s.voltage = {volts}; });
    wired.document.commit(editor.finish("volts"));
    wired.document.settle();
  };
  dimmed(11'000'000);
  const auto lower = pixelColors(*wired.document.assessment(), ColorBy::Volts).pixels.at(wired.a);
  EXPECT_EQ(last->codes(), lower) << "at once without motion";
  dimmed(12'000'000);
  const auto higher = last->codes();
  ASSERT_NE(lower, higher);
  wired.view.setMotion(true);
  dimmed(11'000'000);
  EXPECT_NE(last->codes(), lower) << "under way";
  EXPECT_TRUE(QTest::qWaitFor([&] { return last->codes() == lower; }, 2000));
}

TEST(PixelColors, CoverVoltsRunsAndProducts) {
  Wired wired;
  wired.view.startRun(wired.port1);
  click(wired.view, wired.at(-2, 0));
  wired.document.settle();
  const auto& a = *wired.document.assessment();
  const PixelColors volts = pixelColors(a, ColorBy::Volts);
  EXPECT_LT(volts.pixels.at(wired.a).front(), pixel_code::kMagnitudes);
  EXPECT_EQ(volts.pixels.at(wired.b).front(), pixel_code::kUnwired);
  const PixelColors runs = pixelColors(a, ColorBy::Run);
  EXPECT_GE(runs.pixels.at(wired.a).front(), pixel_code::kFirstKind);
  EXPECT_TRUE(runs.outline.contains(wired.a));
  EXPECT_FALSE(runs.outline.contains(wired.b));
  EXPECT_TRUE(pixelColors(a, ColorBy::Product).outline.contains(wired.b));
  EXPECT_EQ(voltsCode(12.0, 10.2, 12.0, 7.0, true), pixel_code::kMagnitudes - 1);
  EXPECT_EQ(voltsCode(10.2, 10.2, 12.0, 7.0, true), 0);
  EXPECT_EQ(voltsCode(5.0, 10.2, 12.0, 7.0, true), pixel_code::kDark);
  EXPECT_EQ(voltsCode(12.0, 10.2, 12.0, 7.0, false), pixel_code::kDark);
}

}  // namespace
}  // namespace yw::ui
