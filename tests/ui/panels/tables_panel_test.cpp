// Tables: sorting, filtering, editing in place, copying, and one selection with the Yard.
#include <gtest/gtest.h>

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QElapsedTimer>
#include <QLabel>
#include <QLineEdit>
#include <QTest>

#include "core/file/yard_file.h"
#include "core/papers/digest.h"
#include "core/yard/labels.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/tables/tables_panel.h"

namespace yw::ui {

namespace {

using base::Id;

struct Tables {
  Document document;
  TablesPanel panel{document};
  explicit Tables(const char* sample = "corner-lot.yard") {
    EXPECT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/") + QLatin1String(sample)));
    panel.resize(1100, 500);
    panel.show();
    panel.settle();
  }
  int column(const char* name) {
    const auto& columns = panel.model().table().columns;
    const auto at = std::find(columns.begin(), columns.end(), name);
    EXPECT_NE(at, columns.end()) << name;
    return static_cast<int>(std::distance(columns.begin(), at));
  }
  QString cell(int row, const char* name) {
    return panel.model().data(panel.model().index(row, column(name))).toString();
  }
  int rowOf(Id id) {
    for (int row = 0; row < panel.model().rowCount(); ++row)
      if (panel.model().recordAt(row) == id) return row;
    return -1;
  }
  void choose(const std::set<int>& rows) {
    QItemSelection chosen;
    for (const int row : rows)
      chosen.select(panel.model().index(row, 0), panel.model().index(row, panel.model().columnCount() - 1));
    panel.grid().selectionModel()->select(chosen, QItemSelectionModel::ClearAndSelect);
  }
  /// Opens the cell's editor by F2, as hands do.
  template <class Input>
  Input* open(int row, const char* name) {
    panel.grid().setFocus();
    panel.grid().selectionModel()->setCurrentIndex(panel.model().index(row, column(name)),
                                                   QItemSelectionModel::NoUpdate);
    QTest::keyClick(&panel.grid(), Qt::Key_F2);
    auto* editor = panel.findChild<CellEditor*>();
    return editor ? editor->findChild<Input*>() : nullptr;
  }
  bool editing() {
    QTest::qWait(1);
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    return panel.findChild<CellEditor*>() != nullptr;
  }
  std::string bytes() { return file::bytesOf(document.yard()); }
  const std::string& lastStep() { return document.history().undoName(); }
};

QStringList columnOf(const QString& tsv, int column) {
  QStringList cells;
  for (const QString& line : tsv.split(QLatin1Char('\n'), Qt::SkipEmptyParts))
    cells << line.split(QLatin1Char('\t')).value(column);
  return cells;
}

}  // namespace

TEST(TablesPanel, ShowsTheFiguresOfTheSheets) {
  Tables t;
  for (const char* name : {"props", "runs", "lead_cut_list", "supplies_fuses", "house_circuits", "boxes",
                           "controllers", "feeds"}) {
    t.panel.showTable(QLatin1String(name));
    t.panel.settle();
    const papers::Table engine = papers::table(*t.document.assessment(), name);
    ASSERT_EQ(t.panel.model().rowCount(), static_cast<int>(engine.rows.size())) << name;
    ASSERT_FALSE(engine.rows.empty()) << name;
    for (std::size_t c = 0; c < engine.heads.size(); ++c)
      EXPECT_EQ(t.panel.model().data(t.panel.model().index(0, static_cast<int>(c))).toString().toStdString(),
                engine.rows[0][c]);
    EXPECT_TRUE(t.panel.grid().accessibleName().contains(QString::fromStdString(engine.title)));
  }
}

TEST(TablesPanel, SortsNamesNaturallyNumbersByValueAndStably) {
  Tables t;
  t.panel.showTable(QStringLiteral("lead_cut_list"));
  t.panel.settle();
  auto& model = t.panel.model();
  t.panel.grid().sortByColumn(t.column("lead"), Qt::AscendingOrder);
  for (int row = 1; row < model.rowCount(); ++row)
    EXPECT_FALSE(
        papers::naturalLess(t.cell(row, "lead").toStdString(), t.cell(row - 1, "lead").toStdString()));
  for (const auto order : {Qt::AscendingOrder, Qt::DescendingOrder}) {
    t.panel.grid().sortByColumn(t.column("cut"), order);
    for (int row = 1; row < model.rowCount(); ++row) {
      const double before = t.cell(row - 1, "cut").toDouble(), here = t.cell(row, "cut").toDouble();
      if (before == here) {  // equal lengths stay in the order of the names
        EXPECT_FALSE(
            papers::naturalLess(t.cell(row, "lead").toStdString(), t.cell(row - 1, "lead").toStdString()));
      } else {
        EXPECT_EQ(before < here, order == Qt::AscendingOrder);
      }
    }
  }
}

TEST(TableModel, PutsTwoBeforeTenAndCellsWithoutAFigureLast) {
  papers::Table table;
  table.name = "t";
  table.columns = table.keys = table.heads = {"name", "length"};
  table.numbers = {false, true};
  table.rows = {{"Arch 10", "9.5"}, {"Arch 2", ""}, {"Arch 1", "10.25"}};
  table.rowRecord = {Id{1}, Id{2}, Id{3}};
  TableModel model;
  model.setTable(table);
  const auto names = [&] {
    QStringList all;
    for (int row = 0; row < model.rowCount(); ++row) all << model.data(model.index(row, 0)).toString();
    return all;
  };
  model.sort(0);
  EXPECT_EQ(names(), (QStringList{"Arch 1", "Arch 2", "Arch 10"}));
  model.sort(1);
  EXPECT_EQ(names(), (QStringList{"Arch 10", "Arch 1", "Arch 2"}));
  model.sort(1, Qt::DescendingOrder);
  EXPECT_EQ(names(), (QStringList{"Arch 1", "Arch 10", "Arch 2"}));
}

TEST(TablesPanel, FiltersAndSaysHowMany) {
  Tables t;
  auto* filter = t.panel.findChild<QLineEdit*>(QStringLiteral("tableFilter"));
  auto* count = t.panel.findChild<QLabel*>(QStringLiteral("tableCount"));
  ASSERT_TRUE(filter && count);
  const int all = t.panel.model().rowCount();
  EXPECT_EQ(count->text(), QStringLiteral("%1 rows").arg(all));
  const QString word = t.cell(0, "prop").split(QLatin1Char(' ')).first();
  filter->setFocus();
  QTest::keyClicks(filter, word);
  const int some = t.panel.model().rowCount();
  EXPECT_LT(some, all);
  EXPECT_GT(some, 0);
  EXPECT_EQ(count->text(), QStringLiteral("%1 of %2").arg(some).arg(all));
  EXPECT_EQ(QString::fromStdString(t.panel.csv()).count(QStringLiteral("\r\n")), some + 1);
  QTest::keyClick(filter, Qt::Key_Escape);
  EXPECT_TRUE(filter->text().isEmpty());
  EXPECT_EQ(t.panel.model().rowCount(), all);
  QTest::keyClicks(filter, word);
  QTest::keyClick(&t.panel.grid(), Qt::Key_Escape);
  EXPECT_EQ(t.panel.model().rowCount(), all);
}

TEST(TablesPanel, CopiesRowsAsShownWithUnitsInTheHeads) {
  Tables t;
  t.panel.grid().sortByColumn(t.column("pixels"), Qt::DescendingOrder);
  QApplication::clipboard()->clear();
  QTest::keyClick(&t.panel.grid(), Qt::Key_C, Qt::ControlModifier);
  const QString whole = QApplication::clipboard()->text();
  for (int c = 0; c < t.panel.model().columnCount(); ++c) {
    QStringList shown{t.panel.model().headerData(c, Qt::Horizontal).toString()};
    for (int row = 0; row < t.panel.model().rowCount(); ++row)
      shown << t.panel.model().data(t.panel.model().index(row, c)).toString();
    EXPECT_EQ(columnOf(whole, c), shown);
  }
  const QStringList x = columnOf(whole, t.column("x"));
  EXPECT_EQ(x.first(), QStringLiteral("Right, ft"));
  for (const QString& cell : x.mid(1)) {
    bool plain = false;
    cell.toDouble(&plain);
    EXPECT_TRUE(plain || cell.isEmpty()) << cell.toStdString();  // empty: on a wall
  }
  t.choose({1, 3});
  QTest::keyClick(&t.panel.grid(), Qt::Key_C, Qt::ControlModifier);
  EXPECT_EQ(columnOf(QApplication::clipboard()->text(), 0),
            (QStringList{x.isEmpty() ? QString() : t.panel.model().headerData(0, Qt::Horizontal).toString(),
                         t.cell(1, "prop"), t.cell(3, "prop")}));
}

TEST(TablesPanel, RowsAndTheYardAreOneSelection) {
  Tables t;
  t.choose({2});
  const Id id = t.panel.model().recordAt(2);
  EXPECT_EQ(t.document.selection().ids(), std::set<Id>{id});
  t.choose({0, 2});
  EXPECT_EQ(t.document.selection().ids(), (std::set<Id>{t.panel.model().recordAt(0), id}));
  const Id other = t.panel.model().recordAt(t.panel.model().rowCount() - 1);
  t.document.selection().set({other});
  EXPECT_EQ(t.panel.grid().selectedRows(), std::vector<int>{t.rowOf(other)});
  EXPECT_EQ(t.panel.grid().currentIndex().row(), t.rowOf(other));
  t.panel.grid().sortByColumn(t.column("pixels"), Qt::DescendingOrder);
  EXPECT_EQ(t.panel.grid().selectedRows(), std::vector<int>{t.rowOf(other)});
  // A filter that hides the row takes nothing from the selection of the yard.
  t.panel.findChild<QLineEdit*>(QStringLiteral("tableFilter"))->setText(QStringLiteral("no such words"));
  EXPECT_EQ(t.document.selection().ids(), std::set<Id>{other});
  t.panel.findChild<QLineEdit*>(QStringLiteral("tableFilter"))->clear();
  EXPECT_EQ(t.panel.grid().selectedRows(), std::vector<int>{t.rowOf(other)});
}

TEST(TablesPanel, EditsALengthInPlaceAsOnTheForm) {
  Tables t;
  const Id id = t.panel.model().recordAt(0);
  const std::string before = t.bytes();
  auto* line = t.open<QLineEdit>(0, "along_wall");
  ASSERT_TRUE(line);
  QTest::keyClicks(line, QStringLiteral("12' 6\""));
  QTest::keyClick(line, Qt::Key_Return);
  EXPECT_FALSE(t.editing());
  const auto* prop = yard::find<yard::Prop>(t.document.yard(), id);
  EXPECT_EQ(prop->at.x.count, 3'810'000'000);  // 12 ft 6 in at 0.3048 m a foot, exactly
  EXPECT_EQ(t.lastStep(), "Change Place of " + prop->name);
  t.panel.settle();
  EXPECT_EQ(t.cell(t.rowOf(id), "along_wall"), QStringLiteral("12.50"));
  EXPECT_EQ(t.document.history().steps().size(), 1u);
  t.document.undo();
  EXPECT_EQ(t.bytes(), before);
}

TEST(TablesPanel, RefusesWhatIsNoLengthAndEscapeChangesNothing) {
  Tables t;
  const std::string before = t.bytes();
  auto* line = t.open<QLineEdit>(0, "along_wall");
  ASSERT_TRUE(line);
  QTest::keyClicks(line, QStringLiteral("12 elephants"));
  QTest::keyClick(line, Qt::Key_Return);
  ASSERT_TRUE(t.editing());
  EXPECT_FALSE(t.panel.findChild<CellEditor*>()->field().reason().isEmpty());
  QTest::keyClick(line, Qt::Key_Escape);
  EXPECT_FALSE(t.editing());
  EXPECT_EQ(t.bytes(), before);
  EXPECT_FALSE(t.document.history().canUndo());
}

TEST(TablesPanel, SeveralSelectedRowsAreOneStep) {
  Tables t;
  t.choose({0, 1, 2});
  const std::set<Id> ids = t.document.selection().ids();
  const std::string before = t.bytes();
  auto* combo = t.open<QComboBox>(1, "status");
  ASSERT_TRUE(combo);
  combo->setCurrentIndex(static_cast<int>(yard::PropStatus::Building));
  Q_EMIT combo->activated(combo->currentIndex());
  EXPECT_FALSE(t.editing());
  for (const Id id : ids)
    EXPECT_EQ(yard::find<yard::Prop>(t.document.yard(), id)->status, yard::PropStatus::Building);
  EXPECT_EQ(t.lastStep(), "Change Status of 3 props");
  EXPECT_EQ(t.document.history().steps().size(), 1u);
  t.document.undo();
  EXPECT_EQ(t.bytes(), before);
  // A name names one.
  t.choose({0, 1, 2});
  auto* line = t.open<QLineEdit>(1, "prop");
  ASSERT_TRUE(line);
  QTest::keyClicks(line, QStringLiteral("Only this one"));
  QTest::keyClick(line, Qt::Key_Return);
  int named = 0;
  for (const auto& [id, prop] : yard::all<yard::Prop>(t.document.yard()))
    named += prop->name == "Only this one";
  EXPECT_EQ(named, 1);
}

TEST(TablesPanel, GoingAlongARowKeepsTheSelectedRows) {
  Tables t;
  auto& grid = t.panel.grid();
  grid.setFocus();
  grid.setCurrentIndex(t.panel.model().index(0, 0));
  for (int i = 0; i < 2; ++i) QTest::keyClick(&grid, Qt::Key_Down, Qt::ShiftModifier);
  QTest::keyClick(&grid, Qt::Key_End);
  EXPECT_EQ(grid.selectedRows(), (std::vector<int>{0, 1, 2}));
  EXPECT_EQ(grid.currentIndex().column(), t.column("status"));
  QTest::keyClick(&grid, Qt::Key_F2);
  auto* combo = t.panel.findChild<CellEditor*>()->findChild<QComboBox*>();
  ASSERT_TRUE(combo);
  combo->setCurrentIndex(static_cast<int>(yard::PropStatus::Building));
  Q_EMIT combo->activated(combo->currentIndex());
  EXPECT_FALSE(t.editing());
  EXPECT_EQ(t.lastStep(), "Change Status of 3 props");
  QTest::keyClick(&grid, Qt::Key_Down);
  EXPECT_EQ(grid.selectedRows().size(), 1u);
}

TEST(TablesPanel, ALeadThatNothingWasSaidOfGetsItsWireToo) {
  Tables t;
  t.panel.showTable(QStringLiteral("lead_cut_list"));
  t.panel.settle();
  std::set<int> rows;
  for (int row = 0; row < t.panel.model().rowCount() && rows.size() < 3; ++row)
    if (const auto cells = editedCells(t.document, t.panel.model(), row, t.column("wire"), {}))
      if (!cells->leads.empty()) rows.insert(row);
  ASSERT_EQ(rows.size(), 3u);
  QStringList leads;
  for (const int row : rows) leads << t.cell(row, "lead");
  Id other;
  for (const auto& [id, wire] : yard::all<yard::Wire>(t.document.yard()))
    if (wire->name != t.cell(*rows.begin(), "wire").toStdString() &&
        wire->conductors == yard::ConductorSet::PowerAndData)
      other = id;
  ASSERT_TRUE(other);
  const std::string before = t.bytes();
  t.choose(rows);
  auto* combo = t.open<QComboBox>(*rows.begin(), "wire");
  ASSERT_TRUE(combo);
  combo->setCurrentIndex(combo->findData(static_cast<qlonglong>(other.value)));
  Q_EMIT combo->activated(combo->currentIndex());
  EXPECT_FALSE(t.editing());
  EXPECT_EQ(t.lastStep(), "Change Wire of 3 leads");
  t.panel.settle();
  int changed = 0;
  for (int row = 0; row < t.panel.model().rowCount(); ++row)
    if (leads.contains(t.cell(row, "lead"))) {
      ++changed;
      EXPECT_EQ(t.cell(row, "wire").toStdString(), yard::labelOf(t.document.yard(), other));
    }
  EXPECT_EQ(changed, 3);
  EXPECT_EQ(t.document.history().steps().size(), 1u);
  t.document.undo();
  EXPECT_EQ(t.bytes(), before);
}

TEST(TablesPanel, TabGoesToTheNextCellThatCanBeChanged) {
  Tables t;
  auto* line = t.open<QLineEdit>(0, "along_wall");
  ASSERT_TRUE(line);
  QTest::keyClick(line, Qt::Key_Tab);
  EXPECT_TRUE(t.editing());
  EXPECT_EQ(t.panel.grid().currentIndex().column(), t.column("up_wall"));
  auto* next = t.panel.findChild<CellEditor*>()->findChild<QLineEdit*>();
  QTest::keyClick(next, Qt::Key_Escape);
  EXPECT_FALSE(t.editing());
  // A computed figure opens no editor and says why.
  QString said;
  QObject::connect(&t.document, &Document::said, [&said](const QString& text) { said = text; });
  EXPECT_FALSE(t.open<QLineEdit>(0, "pixels"));
  EXPECT_TRUE(said.contains(QStringLiteral("computed"))) << said.toStdString();
}

TEST(TablesPanel, EveryCellThatTakesAValueShowsItsField) {
  Tables t;
  int fields = 0;
  for (const auto& [name, title] : papers::tableNames()) {
    const papers::Table table = papers::table(*t.document.assessment(), name);
    for (std::size_t row = 0; row < table.rows.size(); ++row)
      for (std::size_t c = 0; c < table.columns.size(); ++c)
        if (const auto cell = cellField(t.document.yard(), table, c, table.rowRecord[row])) {
          ++fields;
          EXPECT_TRUE(cellValue(t.document.yard(), *cell)) << name << " " << table.columns[c];
          EXPECT_NE(cell->info.type, yard::FieldType::List) << name << " " << table.columns[c];
        }
  }
  EXPECT_GT(fields, 300);
}

TEST(TablesPanel, IsOneTabStopAndHasNames) {
  Tables t;
  EXPECT_FALSE(t.panel.grid().tabKeyNavigation());
  for (const QWidget* widget : t.panel.findChildren<QWidget*>()) {
    if (!(widget->focusPolicy() & Qt::TabFocus) || !widget->isVisibleTo(&t.panel)) continue;
    if (widget->objectName().startsWith(QStringLiteral("qt_"))) continue;
    EXPECT_FALSE(widget->accessibleName().isEmpty() && widget->property("text").toString().isEmpty())
        << widget->metaObject()->className() << " " << widget->objectName().toStdString();
  }
  QTest::keyClick(&t.panel.grid(), Qt::Key_Home, Qt::ControlModifier);
  EXPECT_EQ(t.panel.grid().currentIndex().row(), 0);
  QTest::keyClick(&t.panel.grid(), Qt::Key_End, Qt::ControlModifier);
  EXPECT_EQ(t.panel.grid().currentIndex().row(), t.panel.model().rowCount() - 1);
}

// Nothing blocks for more than 100 ms on the largest sample (ux-conventions, Speed: 0.1 s).
TEST(TablesPanel, IsQuickOnTheLargestSample) {
  Tables t("large-grounds.yard");
  for (const auto& [name, title] : papers::tableNames()) {
    QElapsedTimer clock;
    clock.start();
    t.panel.showTable(QString::fromStdString(name));
    const auto chosen = clock.elapsed();
    EXPECT_TRUE(QTest::qWaitFor([&] { return t.panel.model().table().name == name; }, 5000));
    clock.restart();
    t.panel.grid().sortByColumn(0, Qt::DescendingOrder);
    const auto sorted = clock.restart();
    t.panel.findChild<QLineEdit*>(QStringLiteral("tableFilter"))->setText(QStringLiteral("1"));
    const auto filtered = clock.restart();
    t.panel.findChild<QLineEdit*>(QStringLiteral("tableFilter"))->clear();
    const auto cleared = clock.restart();
    t.panel.grid().selectAll();
    const auto selected = clock.restart();
    t.panel.tsv();
    const auto copied = clock.elapsed();
    std::printf(
        "%s: %d rows; choose %lld, sort %lld, filter %lld, clear %lld, select all %lld, copy %lld ms\n",
        name.c_str(), t.panel.model().rowCount(), static_cast<long long>(chosen),
        static_cast<long long>(sorted), static_cast<long long>(filtered), static_cast<long long>(cleared),
        static_cast<long long>(selected), static_cast<long long>(copied));
    for (const auto took : {sorted, filtered, cleared, selected, copied}) EXPECT_LT(took, 100) << name;
  }
}

}  // namespace yw::ui
