// What a choice costs, in the window: worked out beside the work, told, taken in one step.
#include "ui/dialogs/trade_off_dialog.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QTest>

#include "core/file/yard_file.h"
#include "tests/ui/canvas/pictures.h"
#include "ui/dialogs/trade_off_chart.h"

namespace yw::ui {
namespace {

constexpr int kPatience = 120'000;  // ms

template <class W>
W& part(QWidget& dialog, const char* name) {
  W* found = dialog.findChild<W*>(QLatin1String(name));
  EXPECT_NE(found, nullptr) << name;
  return *found;
}

void choose(TradeOffDialog& dialog, const char* key) {
  auto& what = part<QComboBox>(dialog, "tradeOffWhat");
  what.setCurrentIndex(what.findData(QLatin1String(key)));
  dialog.workOut();
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
}

TEST(TradeOffDialog, TellsEachLineInTableAndChartAndTakesOneInOneStep) {
  Document document;
  ASSERT_TRUE(document.open(samplePath("porch-and-lawn.yard")));
  const std::string before = file::bytesOf(document.yard());
  TradeOffDialog dialog(document, nullptr);
  dialog.show();
  choose(dialog, "brightness");
  auto& table = part<QTableWidget>(dialog, "tradeOffTable");
  ASSERT_GE(table.rowCount(), 7);
  EXPECT_EQ(file::bytesOf(document.yard()), before) << "nothing changes before it is taken";
  auto& chart = part<TradeOffChart>(dialog, "tradeOffChart");
  EXPECT_TRUE(table.item(table.currentRow(), 0)->text().endsWith(QLatin1Char('*'))) << "the yard's own first";
  QTest::mouseClick(&chart, Qt::LeftButton, {}, QPoint(60, 8));
  EXPECT_EQ(table.currentRow(), 0);
  table.selectRow(4);
  EXPECT_EQ(chart.current(), 4);
  const QString choice = table.item(4, 0)->text();
  const QString amps = table.item(4, 7)->text();
  part<QPushButton>(dialog, "tradeOffTake").click();
  EXPECT_FALSE(dialog.isVisible());
  document.settle();
  double supplied = 0.0;
  for (const auto& [id, figure] : document.assessment()->limit.supplies) supplied += figure.amps;
  EXPECT_NEAR(supplied, amps.toDouble(), 0.051) << choice.toStdString();
  EXPECT_EQ(document.history().undoName(), "Take " + choice.toStdString() + " with its wiring");
  document.undo();
  EXPECT_EQ(file::bytesOf(document.yard()), before);
}

TEST(TradeOffDialog, ForgetsItsLinesOnceTheYardIsAnother) {
  Document document;
  ASSERT_TRUE(document.open(samplePath("porch-and-lawn.yard")));
  TradeOffDialog dialog(document, nullptr);
  choose(dialog, "volts");
  EXPECT_GE(part<QTableWidget>(dialog, "tradeOffTable").rowCount(), 2);
  edit::Editor editor(document.yard());
  editor.add(yard::Box{});
  document.commit(editor.finish("Add a box"));
  EXPECT_EQ(part<QTableWidget>(dialog, "tradeOffTable").rowCount(), 0);
  EXPECT_FALSE(part<QPushButton>(dialog, "tradeOffTake").isEnabled());
  EXPECT_TRUE(part<QLabel>(dialog, "tradeOffSaid").text().contains(QStringLiteral("work it out again")));
}

TEST(TradeOffDialog, ClosingWhileItWorksStopsItFirst) {
  Document document;
  ASSERT_TRUE(document.open(samplePath("porch-and-lawn.yard")));
  TradeOffDialog dialog(document, nullptr);
  dialog.show();
  dialog.workOut();
  EXPECT_TRUE(dialog.working());
  dialog.reject();
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working() && !dialog.isVisible(); }, kPatience));
}

}  // namespace
}  // namespace yw::ui
