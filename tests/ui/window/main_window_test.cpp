// The whole window: files, closing, menus, and that every control has a name and a size for a hand.
#include <gtest/gtest.h>

#include <QAccessible>
#include <QAction>
#include <QApplication>
#include <QDialog>
#include <QDockWidget>
#include <QFile>
#include <QMenu>
#include <QMenuBar>
#include <QMessageBox>
#include <QProcess>
#include <QPushButton>
#include <QSettings>
#include <QTabWidget>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include "core/file/yard_file.h"
#include "core/shapes/shape.h"
#include "ui/canvas/front_view.h"
#include "ui/canvas/tools/place_tool.h"
#include "ui/canvas/yard_view.h"
#include "ui/dialogs/gear_dialog.h"
#include "ui/dialogs/print_dialog.h"
#include "ui/panels/place_strip.h"
#include "ui/panels/record_form.h"
#include "ui/panels/tables/tables_panel.h"
#include "ui/panels/totals_bar.h"
#include "ui/window/main_window.h"

namespace yw::ui {

const QString kPorch = QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard");

void addProp(Document& document, const char* kind) {
  edit::Editor editor(document.yard());
  yard::Prop prop = shapes::usualProp(kind);
  prop.name = kind;
  editor.add(prop);
  document.commit(editor.finish("Place it"));
}

/// Presses the button with that text in the next modal box.
void answerNext(const QString& text) {
  QTimer::singleShot(50, [text] {
    QWidget* modal = QApplication::activeModalWidget();
    if (modal == nullptr) return answerNext(text);
    for (QPushButton* button : modal->findChildren<QPushButton*>())
      if (button->text() == text) return button->click();
    ADD_FAILURE() << "no button " << text.toStdString();
    qobject_cast<QDialog*>(modal)->reject();
  });
}

TEST(MainWindow, AsksBeforeUnsavedWorkIsClosed) {
  MainWindow window;
  window.show();
  addProp(window.document(), "ring");
  answerNext(QStringLiteral("Keep editing"));
  EXPECT_FALSE(window.close());
  EXPECT_TRUE(window.isVisible());
  EXPECT_EQ(yard::all<yard::Prop>(window.document().yard()).size(), 1u);
  answerNext(QStringLiteral("Discard"));
  EXPECT_TRUE(window.close());
}

TEST(MainWindow, SavesWhenAskedToWhileClosing) {
  QTemporaryDir folder;
  const QString path = folder.filePath(QStringLiteral("a.yard"));
  MainWindow window;
  window.show();
  ASSERT_TRUE(window.document().save(path));
  addProp(window.document(), "ring");
  answerNext(QStringLiteral("Save"));
  EXPECT_TRUE(window.close());
  const auto opened = file::open(path.toStdString());
  ASSERT_TRUE(opened);
  EXPECT_EQ(yard::all<yard::Prop>(opened->yard).size(), 1u);
}

TEST(MainWindow, SaysWhyABadFileCannotBeOpenedAndKeepsTheYard) {
  MainWindow window;
  window.show();
  addProp(window.document(), "arch");
  QString said;
  QTimer::singleShot(50, [&] {
    auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
    ASSERT_TRUE(box);
    said = box->text();
    box->accept();
  });
  EXPECT_FALSE(window.openFile(QStringLiteral("/nowhere/missing.yard")));
  EXPECT_TRUE(said.contains(QStringLiteral("missing.yard"))) << said.toStdString();
  EXPECT_EQ(yard::all<yard::Prop>(window.document().yard()).size(), 1u);
  window.document().undo();
}

TEST(MainWindow, OffersTheNextActionOnlyOnAnEmptyYard) {
  MainWindow window;
  window.resize(1280, 720);
  window.show();
  auto* note = window.findChild<QWidget*>(QStringLiteral("emptyNote"));
  ASSERT_TRUE(note);
  EXPECT_TRUE(note->isVisible());
  ASSERT_TRUE(window.openFile(kPorch));
  EXPECT_FALSE(note->isVisible());
}

TEST(MainWindow, FitsASmallScreenWithLargeLetters) {
  MainWindow window;
  ASSERT_TRUE(window.openFile(kPorch));
  window.show();
  for (const auto& [id, prop] : yard::all<yard::Prop>(window.document().yard())) {
    window.document().selection().set({id});
    QApplication::processEvents();
    // 1366 × 768 dots at 1.5×, the smallest laptop in common use (common practice, no source).
    EXPECT_LE(window.minimumSizeHint().width(), 910) << prop->name;
    EXPECT_LE(window.minimumSizeHint().height(), 512) << prop->name;
  }
}

TEST(MainWindow, GivesTheYardTwoThirdsOfTheWidth) {
  MainWindow window;
  window.resize(1280, 720);
  window.show();
  ASSERT_TRUE(window.openFile(kPorch));
  QTest::qWait(50);
  EXPECT_GE(window.yardView().width(), 1280 * 66 / 100);
}

// The chart once slid up after the first click of a pulled run and moved the Yard under the pointer.
TEST(MainWindow, KeepsTheYardStillWhileARunIsPulled) {
  MainWindow window;
  window.resize(1280, 800);
  window.show();
  ASSERT_TRUE(window.openFile(kPorch));
  auto* chart = window.findChild<QWidget*>(QStringLiteral("chartDock"));
  ASSERT_TRUE(chart);
  const auto run = yard::all<yard::Run>(window.document().yard()).front().first;
  window.yardView().pullRun();
  window.document().selection().set({run});
  EXPECT_FALSE(chart->isVisible());
  window.yardView().setTool(nullptr);
  window.document().selection().clear();
  window.document().selection().set({run});
  EXPECT_TRUE(chart->isVisible());
}

TEST(MainWindow, UndoIsNamedAfterWhatItUndoes) {
  MainWindow window;
  window.show();
  addProp(window.document(), "ring");
  auto* undo = window.findChild<QAction*>(QStringLiteral("actionUndo"));
  EXPECT_EQ(undo->text(), QStringLiteral("Undo Place it"));
  undo->trigger();
  EXPECT_FALSE(undo->isEnabled());
}

TEST(MainWindow, TakesAMissingFileOffTheRecentList) {
  QSettings().setValue(QStringLiteral("recent"), QStringList{QStringLiteral("/nowhere/gone.yard")});
  MainWindow window;
  window.show();
  for (QMenu* menu : window.findChildren<QMenu*>())
    for (QAction* action : menu->actions())
      if (action->text().contains(QStringLiteral("gone.yard"))) {
        EXPECT_TRUE(action->text().contains(QStringLiteral("missing")));
        action->trigger();
        EXPECT_TRUE(QSettings().value(QStringLiteral("recent")).toStringList().isEmpty());
        return;
      }
  FAIL() << "the missing file was not listed";
}

/// Names that assistive tools read, of everything that takes the keyboard.
TEST(MainWindow, APropAboutToBePlacedGoesAlongToTheOtherDrawing) {
  MainWindow window;
  window.show();
  ASSERT_TRUE(window.openFile(kPorch));
  auto* strip = window.findChild<PlaceStrip*>();
  ASSERT_NE(strip, nullptr);
  Q_EMIT strip->propAsked(QStringLiteral("window_outline"));
  auto* drawings = window.findChild<QTabWidget*>(QStringLiteral("drawings"));
  EXPECT_EQ(drawings->currentIndex(), 1) << "what hangs on walls is placed there";
  EXPECT_NE(dynamic_cast<PlaceTool*>(&window.frontView().tool()), nullptr);
  EXPECT_TRUE(window.frontView().tool().status().contains(QStringLiteral("Front wall")));
  drawings->setCurrentIndex(0);
  EXPECT_TRUE(window.frontView().selecting());
  const auto* tool = dynamic_cast<PlaceTool*>(&window.yardView().tool());
  ASSERT_NE(tool, nullptr);
  EXPECT_EQ(tool->what().kind, "window_outline");
}

TEST(MainWindow, LooksTheSameYardInDusk) {
  MainWindow window;
  window.resize(1280, 800);
  window.show();
  ASSERT_TRUE(window.openFile(kPorch));
  auto* dusk = window.findChild<QAction*>(QStringLiteral("actionDusk"));
  dusk->trigger();
  QTest::qWait(30);
  const QImage dark = window.yardView().grab().toImage();
  dusk->trigger();
  QTest::qWait(30);
  const QImage light = window.yardView().grab().toImage();
  EXPECT_LT(qGray(dark.pixel(20, 20)), 80);
  EXPECT_GT(qGray(light.pixel(20, 20)), 200);
}

TEST(RecordForm, OpensForEveryKind) {
  Document document;
  document.newYard();
  for (int kind = 0; kind < yard::kRecordKinds; ++kind) {
    edit::Editor editor(document.yard());
    const base::Id id = editor.add(yard::defaultRecord(static_cast<yard::RecordKind>(kind)));
    document.commit(editor.finish("Add one"));
    RecordForm form(document);
    form.setRecords({id});
    form.show();
    QTest::qWait(1);
    document.undo();
  }
}

TEST(GearDialog, AddsAndDeletesByNamedSteps) {
  Document document;
  document.newYard();
  using yard::RecordKind;
  for (const RecordKind kind :
       {RecordKind::HouseCircuit, RecordKind::Outlet, RecordKind::Box, RecordKind::Supply,
        RecordKind::Controller, RecordKind::Receiver, RecordKind::Product, RecordKind::Wire}) {
    const std::string before = file::bytesOf(document.yard());
    GearDialog dialog(document, kind, nullptr);
    dialog.show();
    dialog.addOne();
    EXPECT_FALSE(dialog.form()->records().empty()) << yard::label(kind);
    EXPECT_EQ(document.history().undoName().rfind("Add", 0), 0u) << document.history().undoName();
    document.undo();
    EXPECT_EQ(file::bytesOf(document.yard()), before) << yard::label(kind);
  }
}

// New gear once stood in no box although one was selected: its ports could not be pulled from.
TEST(GearDialog, PutsNewGearIntoTheSelectedBoxOrTheOnlyOne) {
  Document document;
  document.newYard();
  using yard::RecordKind;
  const auto addBox = [&document](const char* name) {
    edit::Editor editor(document.yard());
    const base::Id id = editor.add(yard::Box{.name = name});
    document.commit(editor.finish("Add box"));
    return id;
  };
  const auto boxOfNew = [&document](RecordKind kind) {
    GearDialog dialog(document, kind, nullptr);
    dialog.addOne();
    const base::Id made = *dialog.form()->records().begin();
    const auto* supply = yard::find<yard::Supply>(document.yard(), made);
    const auto* controller = yard::find<yard::Controller>(document.yard(), made);
    return supply ? supply->box : controller ? controller->box : base::Id{};
  };
  EXPECT_EQ(boxOfNew(RecordKind::Supply), base::Id{});
  const base::Id first = addBox("K1");
  EXPECT_EQ(boxOfNew(RecordKind::Supply), first);
  EXPECT_EQ(boxOfNew(RecordKind::Controller), first);
  const base::Id second = addBox("K2");
  EXPECT_EQ(boxOfNew(RecordKind::Supply), base::Id{});
  document.selection().set({second});
  EXPECT_EQ(boxOfNew(RecordKind::Controller), second);
}

TEST(PrintDialog, WritesWhatIsChosenAndNotesItAsIssued) {
  QTemporaryDir folder;
  Document document;
  ASSERT_TRUE(document.open(kPorch));
  PrintDialog dialog(document, nullptr);
  dialog.show();
  const QString path = folder.filePath(QStringLiteral("sheets.pdf"));
  const auto written = dialog.writeTo(path);
  ASSERT_TRUE(written && *written);
  ASSERT_EQ(dialog.pages().sheets.size(), dialog.chosen().size());
  document.settleMargins();
  for (const papers::SheetRequest& request : dialog.chosen())
    EXPECT_TRUE(papers::revisionOf(*document.assessment(), *document.report(), request).issued)
        << "noted with the hash by which it is known again";
  QProcess info;
  info.start(QStringLiteral("pdfinfo"), {path});
  ASSERT_TRUE(info.waitForFinished());
  EXPECT_TRUE(info.readAllStandardOutput().contains("Pages:"));
  EXPECT_EQ(document.history().steps().size(), 1u);
  EXPECT_EQ(yard::all<yard::IssuedSheet>(document.yard()).size(), dialog.chosen().size());
}

TEST(MainWindow, OpensTheTablesAsAnAreaAndTheTotalsOpenTheParts) {
  MainWindow window;
  ASSERT_TRUE(window.openFile(kPorch));
  window.show();
  auto* dock = window.findChild<QDockWidget*>(QStringLiteral("tablesDock"));
  auto* panel = window.findChild<TablesPanel*>();
  ASSERT_TRUE(dock && panel);
  EXPECT_FALSE(dock->isVisible());
  window.findChild<QAction*>(QStringLiteral("actionTables"))->trigger();
  QTest::qWait(20);
  EXPECT_TRUE(dock->isVisible());
  EXPECT_EQ(panel->tableName(), QStringLiteral("props"));
  EXPECT_GT(panel->model().rowCount(), 3);
  Q_EMIT window.findChild<TotalsBar*>()->partsAsked();
  EXPECT_EQ(panel->tableName(), QStringLiteral("parts"));
}

}  // namespace yw::ui
