// The window as hands use it: menus, finding, dropping, pasting, what is set for the pointer and the keys.
#include <gtest/gtest.h>

#include <QAction>
#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QContextMenuEvent>
#include <QDropEvent>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QMenu>
#include <QMessageBox>
#include <QMimeData>
#include <QSettings>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>
#include <QUrl>

#include "core/yard/labels.h"
#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/hand_rules.h"
#include "ui/dialogs/find_dialog.h"
#include "ui/dialogs/hand_dialog.h"
#include "ui/fields/typed_field.h"
#include "ui/window/main_window.h"

namespace yw::ui {
namespace {

struct Open {
  MainWindow window;
  Open() {
    window.resize(1280, 800);
    window.show();
    EXPECT_TRUE(window.openFile(samplePath("porch-and-lawn.yard")));
    window.yardView().setFocus();
  }
  Document& document() { return window.document(); }
  const yard::Yard& yard() { return window.document().yard(); }
  template <class R>
  base::Id first() {
    return yard::all<R>(yard()).front().first;
  }
  /// A prop that stands on the ground.
  base::Id standing() {
    for (const auto& [id, prop] : yard::all<yard::Prop>(yard()))
      if (!prop->wall) return id;
    return {};
  }
};

/// Object names of what the menu offers, menus within it too.
void gather(const QMenu& menu, QStringList& names) {
  for (const QAction* action : menu.actions()) {
    if (action->menu())
      gather(*action->menu(), names);
    else if (!action->isSeparator())
      names << action->objectName();
  }
}

/// Opens the menu and closes it again; what it offered.
QStringList offered(const std::function<void()>& open) {
  QStringList names;
  QTimer::singleShot(30, [&] {
    auto* menu = qobject_cast<QMenu*>(QApplication::activePopupWidget());
    ASSERT_TRUE(menu) << "no menu came up";
    gather(*menu, names);
    menu->close();
  });
  open();
  return names;
}

QStringList offeredByRightClick(CanvasView& view, QPoint at) {
  return offered([&] {
    QContextMenuEvent event(QContextMenuEvent::Mouse, at, view.viewport()->mapToGlobal(at));
    QApplication::sendEvent(view.viewport(), &event);
  });
}

TEST(ContextMenu, OffersNothingThatTheMainMenuLacks) {
  Open open;
  const base::Id prop = open.first<yard::Prop>();
  open.document().selection().set({prop});
  open.window.yardView().copySelected();  // so that Paste is offered
  std::set<std::set<base::Id>> selections{
      {}, {prop}, {open.first<yard::Box>()}, {open.first<yard::Run>()}, {open.first<yard::GroundFeature>()}};
  std::set<base::Id> all;
  for (const auto& [id, record] : yard::all<yard::Prop>(open.yard())) all.insert(id);
  selections.insert(all);
  QStringList seen;
  for (const auto& ids : selections) {
    open.document().selection().set(ids);
    seen += offered([&] { key(open.window.yardView(), Qt::Key_F10, Qt::ShiftModifier); });
  }
  open.window.yardView().holdSelected(true);
  seen += offered([&] { key(open.window.yardView(), Qt::Key_F10, Qt::ShiftModifier); });
  seen.removeDuplicates();
  EXPECT_GE(seen.size(), 15) << seen.join(QLatin1Char(' ')).toStdString();
  for (QString name : seen) {
    ASSERT_TRUE(name.startsWith(QStringLiteral("menu"))) << "an entry without a name: " << name.toStdString();
    const QString twin = name.replace(0, 4, QStringLiteral("action"));
    EXPECT_TRUE(open.window.findChild<QAction*>(twin)) << twin.toStdString() << " is not in the main menu";
  }
}

TEST(ContextMenu, ByKeyItOpensForWhatIsSelectedAndByMouseForWhatIsUnderIt) {
  Open open;
  YardView& view = open.window.yardView();
  const base::Id prop = open.first<yard::Prop>();
  open.document().selection().set({prop});
  const QStringList byKey = offered([&] { key(view, Qt::Key_F10, Qt::ShiftModifier); });
  EXPECT_TRUE(byKey.contains(QStringLiteral("menuDuplicate")));
  open.document().selection().clear();
  const auto props = yard::all<yard::Prop>(open.yard());
  const QPoint at = view.toView(view.canvas().item(props.back().first)->pos()).toPoint();
  const QStringList byMouse = offeredByRightClick(view, at);
  EXPECT_TRUE(byMouse.contains(QStringLiteral("menuEdit")));
  EXPECT_FALSE(open.document().selection().ids().empty());
}

TEST(ContextMenu, PasteHerePutsCopiesAtTheClick) {
  Open open;
  YardView& view = open.window.yardView();
  open.document().selection().set({open.standing()});
  view.copySelected();
  const std::size_t before = yard::all<yard::Prop>(open.yard()).size();
  const QPoint at(120, 90);
  QTimer::singleShot(30, [] {
    auto* menu = qobject_cast<QMenu*>(QApplication::activePopupWidget());
    ASSERT_TRUE(menu);
    for (QAction* action : menu->actions())
      if (action->objectName() == QStringLiteral("menuPaste")) action->trigger();
    menu->close();
  });
  QContextMenuEvent event(QContextMenuEvent::Mouse, at, view.viewport()->mapToGlobal(at));
  const QPointF wanted = view.toSceneExact(at);
  QApplication::sendEvent(view.viewport(), &event);
  ASSERT_EQ(yard::all<yard::Prop>(open.yard()).size(), before + 1);
  const auto place = view.placeHere(open.document().selection().single());
  ASSERT_TRUE(place);
  EXPECT_LE(std::hypot(place->x() - wanted.x(), place->y() - wanted.y()), 1.0);
}

TEST(Paste, ByKeysIsAlwaysInView) {
  Open open;
  YardView& view = open.window.yardView();
  for (const base::Id id : {open.first<yard::Prop>(), open.standing()}) {  // on a wall; on the ground
    open.document().selection().set({id});
    key(view, Qt::Key_C, Qt::ControlModifier);
    view.fit(QRectF(200'000, 200'000, 5000, 5000));  // far off
    key(view, Qt::Key_V, Qt::ControlModifier);
    const QRectF extent = view.canvas().extentOf(open.document().selection().ids());
    EXPECT_TRUE(QRectF(view.viewport()->rect()).contains(view.toView(extent.center())));
    EXPECT_EQ(open.document().history().undoName().rfind("Paste ", 0), 0U);
  }
}

TEST(EditItem, MenuEnterF2AndDoubleClickAllOpenTheEditor) {
  Open open;
  YardView& view = open.window.yardView();
  auto* dock = open.window.findChild<QWidget*>(QStringLiteral("itemDock"));
  ASSERT_TRUE(dock);
  const base::Id prop = open.first<yard::Prop>();
  const auto opens = [&](const std::function<void()>& act) {
    dock->hide();
    open.document().selection().set({prop});
    act();
    return dock->isVisible();
  };
  EXPECT_TRUE(opens([&] { open.window.findChild<QAction*>(QStringLiteral("actionEdit"))->trigger(); }));
  EXPECT_TRUE(opens([&] { key(view, Qt::Key_Return); }));
  EXPECT_TRUE(opens([&] { key(view, Qt::Key_F2); }));
  const QPoint at = view.toView(view.canvas().prop(prop)->pixelPlace(1)).toPoint();
  EXPECT_TRUE(opens([&] { QTest::mouseDClick(view.viewport(), Qt::LeftButton, {}, at); }));
}

TEST(Find, EnterSelectsAndCentersWhatHasTheName) {
  Open open;
  YardView& view = open.window.yardView();
  const auto props = yard::all<yard::Prop>(open.yard());
  const base::Id wanted = props.back().first;
  view.fit(QRectF(200'000, 200'000, 5000, 5000));
  QTimer::singleShot(30, [&] {
    auto* dialog = qobject_cast<FindDialog*>(QApplication::activeModalWidget());
    ASSERT_TRUE(dialog);
    auto* typed = dialog->findChild<QLineEdit*>(QStringLiteral("findTyped"));
    QTest::keyClicks(typed, QString::fromStdString(yard::labelOf(open.yard(), wanted)));
    QTest::keyClick(typed, Qt::Key_Return);
    if (dialog->isVisible()) dialog->reject();
  });
  open.window.findChild<QAction*>(QStringLiteral("actionFind"))->trigger();
  EXPECT_EQ(open.document().selection().single(), wanted);
  const QPointF middle = view.canvas().item(wanted)->extent().center();
  EXPECT_LE(std::hypot(view.toView(middle).x() - view.viewport()->width() / 2.0,
                       view.toView(middle).y() - view.viewport()->height() / 2.0),
            2.0);
}

TEST(Find, NarrowsWhileTypingAndCentersTheBoxOfWhatHasNoPlace) {
  Open open;
  FindDialog dialog(open.document(), &open.window);
  auto* typed = dialog.findChild<QLineEdit*>(QStringLiteral("findTyped"));
  auto* list = dialog.findChild<QListWidget*>(QStringLiteral("findList"));
  auto* count = dialog.findChild<QLabel*>(QStringLiteral("findCount"));
  const int all = list->count();
  typed->setText(QStringLiteral("no such name"));
  EXPECT_EQ(list->count(), 0);
  EXPECT_TRUE(count->text().contains(QStringLiteral("no such name")));
  const base::Id supply = open.first<yard::Supply>();
  typed->setText(QString::fromStdString(yard::labelOf(open.yard(), supply)));
  EXPECT_GE(list->count(), 1);
  EXPECT_LT(list->count(), all);
  YardView& view = open.window.yardView();
  view.fit(QRectF(200'000, 200'000, 5000, 5000));
  open.document().selection().set({supply});
  view.centerSelection();
  const base::Id box = yard::boxOf(open.yard(), supply);
  EXPECT_TRUE(QRectF(view.viewport()->rect()).contains(view.toView(view.canvas().item(box)->pos())));
}

TEST(PointerAndKeys, AreSetOnceForBothDrawingsAndKept) {
  QSettings().remove(QStringLiteral("hand"));
  {
    Open open;
    HandDialog dialog(HandRules::load(), base::UnitSystem::FeetInches, &open.window);
    QObject::connect(&dialog, &HandDialog::changed, &open.window, [&](const HandRules& rules) {
      rules.applyTo(open.window.yardView());
      rules.save();
    });
    dialog.show();
    dialog.findChild<QComboBox*>(QStringLiteral("handWheel"))->setCurrentIndex(1);
    dialog.findChild<QComboBox*>(QStringLiteral("handBand"))->setCurrentIndex(2);
    auto* nudge = dialog.findChild<LengthField*>(QStringLiteral("field_nudge"));
    ASSERT_TRUE(nudge);
    nudge->edit()->setFocus();
    nudge->edit()->selectAll();
    QTest::keyClicks(nudge->edit(), QStringLiteral("3 in"));
    QTest::keyClick(nudge->edit(), Qt::Key_Return);
    EXPECT_FALSE(open.window.yardView().wheelZooms());
    EXPECT_EQ(open.window.yardView().bandRule(), BandRule::Touched);
    EXPECT_EQ(open.window.yardView().nudgeStep(), base::inches(3));
  }
  Open again;
  EXPECT_FALSE(again.window.yardView().wheelZooms());
  EXPECT_EQ(again.window.yardView().bandRule(), BandRule::Touched);
  EXPECT_EQ(again.window.yardView().nudgeStep(), base::inches(3));
  auto* catches = again.window.findChild<QLabel*>(QStringLiteral("statusCatches"));
  ASSERT_TRUE(catches);
  const QString before = catches->text();
  key(again.window.yardView(), Qt::Key_S);
  EXPECT_NE(catches->text(), before) << "the status line says whether places catch";
  EXPECT_FALSE(HandRules::load().snaps);
  QSettings().remove(QStringLiteral("hand"));
}

// Once a finding had been opened, each change took the keys away from the Yard: the second arrow moved
// nothing.
TEST(KeysStayOnTheYard, WhileWhatIsWrongChangesUnderThem) {
  Open open;
  YardView& view = open.window.yardView();
  open.document().settle();
  view.fitAll();
  view.settle();
  base::Id wired;
  for (const auto& [id, prop] : yard::all<yard::Prop>(open.yard()))
    if (prop->name == "Star") wired = id;
  ASSERT_TRUE(wired);
  const auto report = open.document().report();
  const auto low = std::find_if(report->findings.begin(), report->findings.end(),
                                [&](const auto& finding) { return finding.rule == "low_volts"; });
  ASSERT_NE(low, report->findings.end());
  Q_EMIT view.findingClicked(static_cast<std::size_t>(low - report->findings.begin()));
  EXPECT_EQ(open.window.focusWidget(), &view) << "a sign that is clicked opens, and the keys stay";
  open.document().selection().set({wired});
  const base::Point before = yard::find<yard::Prop>(open.yard(), wired)->at;
  for (int i = 0; i < 3; ++i) {
    QWidget* keys = open.window.focusWidget();
    ASSERT_TRUE(keys);
    key(*keys, Qt::Key_Right, Qt::ShiftModifier);
    open.document().settle();
    QApplication::processEvents();
  }
  EXPECT_EQ(yard::find<yard::Prop>(open.yard(), wired)->at.x - before.x, base::inches(30));
}

void dropFile(MainWindow& window, const QString& path) {
  QMimeData data;
  data.setUrls({QUrl::fromLocalFile(path)});
  QDragEnterEvent enter(QPoint(300, 300), Qt::CopyAction, &data, Qt::LeftButton, {});
  QApplication::sendEvent(&window, &enter);
  EXPECT_TRUE(enter.isAccepted());
  QDropEvent drop(QPointF(300, 300), Qt::CopyAction, &data, Qt::LeftButton, {});
  QApplication::sendEvent(&window, &drop);
}

TEST(Drop, APictureComesUnderTheYardAPlanOpensOthersAreExplained) {
  const QTemporaryDir folder;
  MainWindow window;
  window.resize(1280, 800);
  window.show();
  const QString picture = folder.filePath(QStringLiteral("yard.png"));
  QImage image(40, 30, QImage::Format_RGB32);
  image.fill(Qt::green);
  ASSERT_TRUE(image.save(picture));
  dropFile(window, picture);
  EXPECT_FALSE(yard::site(window.document().yard()).photo.empty());
  EXPECT_EQ(window.document().history().undoName(), "Add the picture");
  window.document().undo();
  EXPECT_TRUE(yard::site(window.document().yard()).photo.empty());
  const QString other = folder.filePath(QStringLiteral("song.mp3"));
  QFile file(other);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write("la");
  file.close();
  QString said;
  QTimer::singleShot(30, [&] {
    auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
    ASSERT_TRUE(box);
    said = box->text();
    box->accept();
  });
  const std::size_t steps = window.document().history().position();
  dropFile(window, other);
  EXPECT_TRUE(said.contains(QStringLiteral(".yard"))) << said.toStdString();
  EXPECT_EQ(window.document().history().position(), steps);
  dropFile(window, samplePath("porch-and-lawn.yard"));
  EXPECT_FALSE(yard::all<yard::Prop>(window.document().yard()).empty());
}

}  // namespace
}  // namespace yw::ui
