// Along the run: the chart and its table read what the engine computed, and point at one pixel together.
#include <gtest/gtest.h>

#include <QApplication>
#include <QClipboard>
#include <QHeaderView>
#include <QPixmap>
#include <QPushButton>
#include <QTableView>
#include <QTest>

#include "tests/ui/canvas/wired_bench.h"
#include "ui/panels/along_panel.h"
#include "ui/panels/run_chart.h"
#include "ui/panels/run_series.h"

namespace yw::ui {
namespace {

/// The second run of the porch: several props, so that it has joints.
struct Along {
  Document document;
  AlongPanel panel{document};
  base::Id run;
  Along() {
    EXPECT_TRUE(document.open(samplePath("porch-and-lawn.yard")));
    document.settle();
    panel.resize(900, 220);
    panel.show();
    for (const auto& [id, record] : yard::all<yard::Run>(document.yard()))
      if (!run || a().layouts.at(id)->pixels.size() > a().layouts.at(run)->pixels.size()) run = id;
    document.selection().set({run});
  }
  const assess::Assessment& a() const { return *document.assessment(); }
  RunChart& chart() { return *panel.chart(); }
  std::int64_t count() const { return static_cast<std::int64_t>(a().layouts.at(run)->pixels.size()); }
  const circuit::RunPixel& pixel(std::int64_t place) const {
    return a().layouts.at(run)->pixels.at(static_cast<std::size_t>(place - 1));
  }
  QString cell(int row, int column) { return panel.table()->model()->index(row, column).data().toString(); }
};

TEST(RunChart, ReadsWhatTheEngineComputed) {
  Along along;
  ASSERT_EQ(along.chart().run(), along.run);
  along.chart().setReading(3);
  const QString said = along.chart().readingText();
  for (const auto* power : {&along.a().limit, &along.a().fullWhite}) {
    const QString volts = QString::number(power->runs.at(along.run).volts[2], 'f', 2);
    EXPECT_TRUE(said.contains(volts)) << said.toStdString() << " has no " << volts.toStdString();
  }
}

TEST(RunChart, ReadingAnywhereGivesTheNearestPixel) {
  Along along;
  const auto& layout = *along.a().layouts.at(along.run);
  const auto hoverAt = [&](int x) {
    QMouseEvent move(QEvent::MouseMove, QPointF(x, 60), along.chart().mapToGlobal(QPointF(x, 60)),
                     Qt::NoButton, Qt::NoButton, {});
    QApplication::sendEvent(&along.chart(), &move);
    return along.chart().reading();
  };
  EXPECT_EQ(hoverAt(0), 1) << "left of the plot is its first pixel";
  EXPECT_EQ(hoverAt(along.chart().width() - 1), along.count());
  std::int64_t before = 0;
  std::set<std::int64_t> seen;
  for (int x = 60; x < along.chart().width() - 160; ++x) {
    const std::int64_t now = hoverAt(x);
    EXPECT_GE(now, before);
    seen.insert(before = now);
  }
  EXPECT_GT(static_cast<double>(seen.size()),
            0.4 * static_cast<double>(std::min<std::size_t>(layout.pixels.size(), 600)));
  EXPECT_EQ(along.document.selection().pixel(), 0) << "reading selects nothing";
}

TEST(RunChart, AClickGoesToThePixelOnTheYard) {
  Along along;
  bool revealed = false;
  QObject::connect(&along.document.selection(), &Selection::revealAsked, [&] { revealed = true; });
  const QPoint at(along.chart().width() / 2, 80);
  QTest::mouseClick(&along.chart(), Qt::LeftButton, {}, at);
  const std::int64_t place = along.chart().reading();
  ASSERT_GT(place, 1);
  EXPECT_EQ(along.document.selection().pixelProp(), along.pixel(place).prop);
  EXPECT_EQ(along.document.selection().pixel(), along.pixel(place).pixel);
  EXPECT_TRUE(revealed);
  EXPECT_EQ(along.chart().run(), along.run);
}

TEST(RunChart, ArrowsPageHomeAndEndMoveTheReading) {
  Along along;
  const auto press = [&](Qt::Key key, Qt::KeyboardModifiers modifiers = {}) {
    QTest::keyClick(&along.chart(), key, modifiers);
    EXPECT_EQ(along.document.selection().pixel(), along.pixel(along.chart().reading()).pixel);
    return along.chart().reading();
  };
  EXPECT_EQ(press(Qt::Key_Home), 1);
  EXPECT_EQ(press(Qt::Key_Left), 1);
  EXPECT_EQ(press(Qt::Key_Right), 2);
  EXPECT_EQ(press(Qt::Key_Right, Qt::ShiftModifier), 12);
  EXPECT_EQ(press(Qt::Key_PageUp), 2);
  EXPECT_EQ(press(Qt::Key_End), along.count());
  EXPECT_EQ(press(Qt::Key_Right), along.count());
}

TEST(RunChart, CopiesAsTextWithTheEnginesFigures) {
  Along along;
  QTest::keyClick(&along.chart(), Qt::Key_C, Qt::ControlModifier);
  const QStringList lines = QApplication::clipboard()->text().trimmed().split(QLatin1Char('\n'));
  ASSERT_EQ(lines.size(), along.count() + 1);
  const QStringList heads = lines[0].split(QLatin1Char('\t'));
  const qsizetype limit = heads.indexOf(QStringLiteral("Brightness limit, V"));
  ASSERT_GE(limit, 0) << lines[0].toStdString();
  const auto& volts = along.a().limit.runs.at(along.run).volts;
  for (std::int64_t place = 1; place <= along.count(); place += 7) {
    const QStringList cells = lines[place].split(QLatin1Char('\t'));
    ASSERT_EQ(cells.size(), heads.size());
    EXPECT_NEAR(cells[limit].toDouble(), volts[static_cast<std::size_t>(place - 1)], 6e-4);
  }
}

TEST(RunChart, CopiesAsAPicture) {
  Along along;
  along.panel.findChild<QPushButton*>(QStringLiteral("alongPicture"))->click();
  const QPixmap copied = QApplication::clipboard()->pixmap();
  EXPECT_EQ(copied.size(), along.chart().size());
}

TEST(RunChart, KnowsWhatEachPropNeedsWhereProductsAreMixed) {
  Wired yard;
  edit::Editor editor(yard.document.yard());
  const auto* prop = yard::find<yard::Prop>(yard.document.yard(), yard.b);
  yard::Product other = *yard::productOf(yard.document.yard(), *prop);
  other.lowestVolts = other.lowestVolts + base::Voltage{500'000};
  const base::Id product = editor.add(other);
  editor.update<yard::Prop>(yard.b, [&](yard::Prop& p) { p.product = product; });
  yard.document.commit(editor.finish("other product"));
  const base::Id run = yard.pullAll();
  const RunSeries series = seriesOf(yard.document.assessment().get(), run);
  ASSERT_TRUE(series.layout);
  std::set<double> needs;
  for (std::size_t k = 0; k < series.needed.size(); ++k) {
    const bool second = series.layout->pixels[k].prop == yard.b;
    EXPECT_DOUBLE_EQ(series.needed[k], base::volts(other.lowestVolts).si - (second ? 0.0 : 0.5));
    needs.insert(series.needed[k]);
  }
  EXPECT_EQ(needs.size(), 2U);
}

TEST(RunTable, HoldsTheSameDataAsTheChart) {
  Along along;
  along.panel.showTable(true);
  ASSERT_EQ(along.panel.table()->model()->rowCount(), along.count());
  EXPECT_EQ(along.panel.selectedTsv(), along.chart().tsv());
}

TEST(RunTable, SortsByValueAndCopiesAsShown) {
  Along along;
  along.panel.showTable(true);
  along.panel.table()->sortByColumn(4, Qt::AscendingOrder);
  const auto& volts = along.a().limit.runs.at(along.run).volts;
  EXPECT_NEAR(along.cell(0, 4).toDouble(), *std::min_element(volts.begin(), volts.end()), 6e-4);
  along.panel.table()->clearSelection();
  QTest::keyClick(along.panel.table(), Qt::Key_C, Qt::ControlModifier);
  const QStringList lines = QApplication::clipboard()->text().split(QLatin1Char('\n'));
  EXPECT_EQ(lines[1].split(QLatin1Char('\t'))[4], along.cell(0, 4));
  EXPECT_EQ(lines[1].split(QLatin1Char('\t'))[0], along.cell(0, 0));
}

TEST(RunTable, ARowAndAPixelSelectEachOther) {
  Along along;
  along.panel.showTable(true);
  QTableView* table = along.panel.table();
  table->setCurrentIndex(table->model()->index(4, 0));
  EXPECT_EQ(along.chart().reading(), 5);
  EXPECT_EQ(along.document.selection().pixel(), along.pixel(5).pixel);
  EXPECT_EQ(table->currentIndex().row(), 4);
  along.document.selection().setPixel(along.pixel(9).prop, along.pixel(9).pixel);
  EXPECT_EQ(table->selectionModel()->selectedRows().value(0).row(), 8);
}

TEST(RunTable, IsEmptyWithoutARunAndComesBack) {
  Along along;
  along.panel.showTable(true);
  along.document.selection().clear();
  EXPECT_EQ(along.panel.table()->model()->rowCount(), 0);
  along.document.selection().set({along.run});
  EXPECT_EQ(along.panel.table()->model()->rowCount(), along.count());
}

}  // namespace
}  // namespace yw::ui
