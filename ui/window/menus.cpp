// The window's menus, files, closing and settings.
#include <QAction>
#include <QApplication>
#include <QBuffer>
#include <QCloseEvent>
#include <QCoreApplication>
#include <QDir>
#include <QDockWidget>
#include <QFile>
#include <QFileDialog>
#include <QFileInfo>
#include <QImageReader>
#include <QLabel>
#include <QMenuBar>
#include <QMessageBox>
#include <QMimeData>
#include <QPushButton>
#include <QSettings>
#include <QTabWidget>

#include "core/file/yard_file.h"
#include "ui/canvas/front_view.h"
#include "ui/canvas/yard_view.h"
#include "ui/dialogs/gear_dialog.h"
#include "ui/dialogs/list_dialog.h"
#include "ui/dialogs/my_props_dialog.h"
#include "ui/dialogs/plan_dialog.h"
#include "ui/dialogs/print_dialog.h"
#include "ui/dialogs/trade_off_dialog.h"
#include "ui/jobs/progress.h"
#include "ui/panels/edits.h"
#include "ui/panels/ideas/ideas_panel.h"
#include "ui/panels/tables/tables_panel.h"
#include "ui/window/main_window.h"

namespace yw::ui {

using base::Id;
using yard::RecordKind;

QAction* MainWindow::add(QMenu* menu, const QString& text, const QString& key, const char* name,
                         std::function<void()> act) {
  auto* action = new QAction(text, this);
  action->setObjectName(QLatin1String(name));
  if (!key.isEmpty()) action->setShortcut(QKeySequence(key));
  connect(action, &QAction::triggered, this, [act = std::move(act)] { act(); });
  menu->addAction(action);
  return action;
}

void MainWindow::buildFileMenu() {
  QMenu* file = menuBar()->addMenu(tr("&File"));
  add(file, tr("&New yard"), "Ctrl+N", "actionNew", [this] {
    if (mayClose()) document_.newYard();
  });
  add(file, tr("&Open…"), "Ctrl+O", "actionOpen", [this] {
    if (!mayClose()) return;
    const QString path =
        QFileDialog::getOpenFileName(this, tr("Open a yard"), {}, tr("Yards (*.yard);;All files (*)"));
    if (!path.isEmpty()) openFile(path);
  });
  QMenu* samples = file->addMenu(tr("Open a &sample yard"));
  for (const QString& name :
       QDir(samplesFolder()).entryList({QStringLiteral("*.yard")}, QDir::Files, QDir::Name))
    samples->addAction(QFileInfo(name).completeBaseName().replace(QLatin1Char('-'), QLatin1Char(' ')), this,
                       [this, name] {
                         if (mayClose()) openSample(name);
                       });
  recent_ = file->addMenu(tr("&Recent"));
  connect(recent_, &QMenu::aboutToShow, this, [this] { refillRecent(); });
  refillRecent();
  file->addSeparator();
  add(file, tr("&Save"), "Ctrl+S", "actionSave", [this] { save(); });
  add(file, tr("Save &as…"), "Ctrl+Shift+S", "actionSaveAs", [this] { saveAs(); });
  file->addSeparator();
  add(file, tr("Take in last year's &list…"), {}, "actionList",
      [this] { ListDialog(document_, this).exec(); });
  file->addSeparator();
  add(file, tr("&Print or save sheets…"), "Ctrl+P", "actionPrint",
      [this] { PrintDialog(document_, this).exec(); });
  file->addSeparator();
  add(file, tr("&Quit"), "Ctrl+Q", "actionQuit", [this] { close(); });
}

void MainWindow::buildEditMenu() {
  QMenu* edit = menuBar()->addMenu(tr("&Edit"));
  undo_ = add(edit, tr("Undo"), "Ctrl+Z", "actionUndo", [this] { document_.undo(); });
  redo_ = add(edit, tr("Redo"), "Ctrl+Y", "actionRedo", [this] { document_.redo(); });
  redo_->setShortcuts({QKeySequence(QStringLiteral("Ctrl+Y")), QKeySequence(QStringLiteral("Ctrl+Shift+Z"))});
  edit->addSeparator();
  // The drawings take these keys themselves, so that fields and tables keep theirs: shown, not bound.
  add(edit, tr("Cu&t\tCtrl+X"), {}, "actionCut", [this] { view().cutSelected(); });
  add(edit, tr("&Copy\tCtrl+C"), {}, "actionCopy", [this] { view().copySelected(); });
  add(edit, tr("&Paste\tCtrl+V"), {}, "actionPaste", [this] { view().paste(); });
  add(edit, tr("&Duplicate"), "Ctrl+D", "actionDuplicate", [this] { view().duplicateSelected(); });
  add(edit, tr("D&elete"), {}, "actionDelete", [this] { view().removeSelected(); });
  QMenu* repeat = edit->addMenu(tr("&Repeat"));
  const std::pair<RepeatKind, QString> kinds[] = {{RepeatKind::Line, tr("In a &line")},
                                                  {RepeatKind::Grid, tr("In a &grid")},
                                                  {RepeatKind::Circle, tr("Round a &circle")},
                                                  {RepeatKind::Mirror, tr("&Mirrored")},
                                                  {RepeatKind::Path, tr("&Along a line you draw")}};
  for (const auto& [kind, text] : kinds)
    add(repeat, text, {}, "actionRepeat", [this, kind = kind] {
      view().repeatSelected(kind);
      view().setFocus();
    })->setObjectName(QStringLiteral("actionRepeat%1").arg(static_cast<int>(kind)));
  add(edit, tr("Select &all"), "Ctrl+A", "actionSelectAll", [this] { view().selectAll(); });
  add(edit, tr("&Find…"), "Ctrl+F", "actionFind", [this] { find(); });
}

void MainWindow::buildYardMenu() {
  QMenu* menu = menuBar()->addMenu(tr("&Yard"));
  add(menu, tr("&Settings of this yard…"), "Ctrl+,", "actionSettings", [this] {
    editRecordDialog(document_, yard::settingsId(document_.yard()), tr("Settings of this yard"), this);
  });
  add(menu, tr("The &place and the season…"), {}, "actionSite", [this] {
    editRecordDialog(document_, yard::siteId(document_.yard()), tr("The place and the season"), this);
  });
  add(menu, tr("Pr&oposals…"), "Ctrl+Shift+P", "actionProposals",
      [this] { PlanDialog(document_, this).exec(); });
  add(menu, tr("What a &choice costs…"), {}, "actionTradeOffs",
      [this] { TradeOffDialog(document_, this).exec(); });
  add(menu, tr("&Ideas, side by side"), "Ctrl+I", "actionIdeas", [this] {
    showBelow(ideasDock_);
    if (auto* list = ideas_->findChild<QWidget*>(QStringLiteral("ideaList"))) list->setFocus();
  });
  menu->addSeparator();
  add(menu, tr("&My props…"), {}, "actionMyProps", [this] {
    drawings_->setCurrentIndex(0);
    const QPointF middle = yard_->toSceneExact(QRectF(yard_->viewport()->rect()).center());
    MyPropsDialog(document_, pointOf(middle), this).exec();
  });
  menu->addSeparator();
  add(menu, tr("Add a pict&ure of the yard…"), {}, "actionPicture", [this] { choosePicture({}); });
  add(menu, tr("Sca&le the picture again"), {}, "actionScalePicture", [this] {
    drawings_->setCurrentIndex(0);
    yard_->scalePhoto();
  });
  menu->addSeparator();
  for (const RecordKind kind :
       {RecordKind::HouseCircuit, RecordKind::Outlet, RecordKind::OtherLoad, RecordKind::Box,
        RecordKind::Supply, RecordKind::Controller, RecordKind::Receiver, RecordKind::Product,
        RecordKind::Wire, RecordKind::Price})
    add(menu, tr("%1…").arg(QString::fromUtf8(yard::label(kind))), {}, "actionGear", [this, kind] {
      GearDialog(document_, kind, this).exec();
    })->setObjectName(QStringLiteral("actionGear%1").arg(static_cast<int>(kind)));
}

void MainWindow::buildViewMenu() {
  viewMenu_ = menuBar()->addMenu(tr("&View"));
  add(viewMenu_, tr("Fit &all\tHome"), {}, "actionFitAll", [this] { view().fitAll(); });
  add(viewMenu_, tr("Fit the &selection\tF"), {}, "actionFitSelection", [this] { view().fitSelection(); });
  add(viewMenu_, tr("Zoom &in"), "Ctrl++", "actionZoomIn", [this] { view().zoomIn(); });
  add(viewMenu_, tr("Zoom &out"), "Ctrl+-", "actionZoomOut", [this] { view().zoomOut(); });
  viewMenu_->addSeparator();
  for (QDockWidget* one : {attentionDock_, itemDock_, chartDock_, tablesDock_, ideasDock_, layersDock_,
                           photoDock_, changesDock_})
    viewMenu_->addAction(one->toggleViewAction());
  add(viewMenu_, tr("&Go to the tables"), "Ctrl+T", "actionTables", [this] { showTables({}); });
  add(viewMenu_, tr("&Put areas back"), {}, "actionAreasBack", [this] {
    for (QDockWidget* one : {attentionDock_, itemDock_, layersDock_, photoDock_, changesDock_}) {
      addDockWidget(Qt::RightDockWidgetArea, one);
      one->setVisible(one != photoDock_ || !yard::site(document_.yard()).photo.empty());
    }
    for (QDockWidget* one : {layersDock_, photoDock_, changesDock_}) tabifyDockWidget(itemDock_, one);
    itemDock_->raise();
    addDockWidget(Qt::BottomDockWidgetArea, chartDock_);
    for (QDockWidget* one : {tablesDock_, ideasDock_}) {
      addDockWidget(Qt::BottomDockWidgetArea, one);
      tabifyDockWidget(chartDock_, one);
    }
  });
  viewMenu_->addSeparator();
  dusk_ = add(viewMenu_, tr("&Dusk (dark)"), {}, "actionDusk", [this] { setDusk(dusk_->isChecked()); });
  dusk_->setCheckable(true);
  QAction* still = add(viewMenu_, tr("Reduce &motion"), {}, "actionReduceMotion", [this] {
    const bool reduce = findChild<QAction*>(QStringLiteral("actionReduceMotion"))->isChecked();
    yard_->setMotion(!reduce);
    front_->setMotion(!reduce);
  });
  still->setCheckable(true);
}

void MainWindow::buildHelpMenu() {
  QMenu* help = menuBar()->addMenu(tr("&Help"));
  add(help, tr("&Cautions"), {}, "actionCautions", [this] {
    say(tr("Cautions"), tr("Mains voltage kills. Outdoor outlets need GFCI protection; let a licensed "
                           "electrician do what your local code asks for.\n\n"
                           "Fuse every V+ where it leaves its supply. Short circuits make wire glow before a "
                           "large fuse opens.\n\n"
                           "Keep ladders, poles and lines well away from overhead lines. Nobody climbs "
                           "alone, in wind or in the dark.\n\n"
                           "Before anything is driven into the ground, have buried lines located.\n\n"
                           "Yardwright computes and warns. It approves nothing: your local code and the "
                           "people licensed for it decide."));
  });
  add(help, tr("&About Yardwright"), {}, "actionAbout", [this] {
    say(tr("About Yardwright"), tr("Yardwright %1\nPlan, check and print the wiring of a yard of pixel "
                                   "props.\nGPL-3.0-or-later, without warranty.")
                                    .arg(QStringLiteral(YARDWRIGHT_VERSION)));
  });
}

void MainWindow::say(const QString& title, const QString& text) {
  QMessageBox box(QMessageBox::NoIcon, title, text, QMessageBox::Ok, this);
  box.setObjectName(QStringLiteral("messageBox"));
  box.exec();
}

// ---- files

QString MainWindow::samplesFolder() {
  const QString app = QCoreApplication::applicationDirPath();
  for (const QString& place : {app + QStringLiteral("/../share/yardwright/sample-yards"),
                               app + QStringLiteral("/../../../sample-yards"),
                               QDir::currentPath() + QStringLiteral("/sample-yards")})
    if (QDir(place).exists()) return QDir(place).absolutePath();
  return {};
}

bool MainWindow::openFile(const QString& path) {
  const auto read = std::make_shared<std::optional<base::Result<Document::Ready>>>();
  const bool whole = runWithProgress(this, tr("Opening %1…").arg(QFileInfo(path).fileName()),
                                     [read, path](Progress&) { *read = Document::read(path); });
  if (!whole || !*read) return false;
  auto& opened = **read;
  if (!opened) {
    QMessageBox box(QMessageBox::Warning, tr("This yard cannot be opened"),
                    errorText(opened.error(), document_.yard()), QMessageBox::Ok, this);
    box.setObjectName(QStringLiteral("openFailed"));
    box.exec();
    return false;
  }
  document_.open(std::move(*opened), path);
  remember(path);
  return true;
}

bool MainWindow::openSample(const QString& name) {
  const QString path = samplesFolder() + QLatin1Char('/') + name;
  if (!openFile(path)) return false;
  return true;
}

bool MainWindow::save() {
  if (document_.filePath().isEmpty()) return saveAs();
  const auto saved = document_.save(document_.filePath());
  if (!saved) {
    QMessageBox::warning(this, tr("Not saved"), errorText(saved.error(), document_.yard()));
    return false;
  }
  return true;
}

bool MainWindow::saveAs() {
  const QString now =
      document_.filePath().isEmpty() ? document_.title() + QStringLiteral(".yard") : document_.filePath();
  QString path = QFileDialog::getSaveFileName(this, tr("Save the yard"), now, tr("Yards (*.yard)"));
  if (path.isEmpty()) return false;
  if (QFileInfo(path).suffix().isEmpty()) path += QStringLiteral(".yard");
  const auto saved = document_.save(path);
  if (!saved) {
    QMessageBox::warning(this, tr("Not saved"), errorText(saved.error(), document_.yard()));
    return false;
  }
  remember(path);
  return true;
}

bool MainWindow::mayClose() {
  if (document_.isSaved()) return true;
  QMessageBox box(QMessageBox::Question, tr("Unsaved changes"),
                  tr("%1 has changes that are not saved.").arg(document_.title()), QMessageBox::NoButton,
                  this);
  box.setObjectName(QStringLiteral("closeQuestion"));
  auto* saveIt = box.addButton(tr("Save"), QMessageBox::AcceptRole);
  auto* discard = box.addButton(tr("Discard"), QMessageBox::DestructiveRole);
  auto* keep = box.addButton(tr("Keep editing"), QMessageBox::RejectRole);
  box.setDefaultButton(saveIt);
  box.setEscapeButton(keep);
  box.exec();
  if (box.clickedButton() == saveIt) return save();
  return box.clickedButton() == discard;
}

bool MainWindow::offerRecovery() {
  for (const edit::LeftJournal& left : edit::leftJournals(Document::journalFolder())) {
    const QString name = !left.yardFile.empty()  ? QString::fromStdString(left.yardFile.filename().string())
                         : left.yardName.empty() ? tr("A yard that was never saved")
                                                 : QString::fromStdString(left.yardName);
    const QString when = QString::fromStdString(left.savedAt).replace(QLatin1Char('T'), QLatin1Char(' '));
    QMessageBox box(
        QMessageBox::Question, tr("Unsaved work was found"),
        (left.changes == 1
             ? tr("%1 has 1 change that was not saved when the program ended: %3, on %2.")
                   .arg(name, when, QString::fromStdString(left.lastChange))
             : tr("%1 has %4 changes that were not saved when the program ended. The last: %3, on %2.")
                   .arg(name, when, QString::fromStdString(left.lastChange), QString::number(left.changes))),
        QMessageBox::NoButton, this);
    box.setObjectName(QStringLiteral("recoveryQuestion"));
    auto* take = box.addButton(tr("Take it back"), QMessageBox::AcceptRole);
    auto* drop = box.addButton(tr("Throw it away"), QMessageBox::DestructiveRole);
    auto* later = box.addButton(tr("Ask me next time"), QMessageBox::RejectRole);
    box.setEscapeButton(later);
    box.exec();
    if (box.clickedButton() == drop) std::filesystem::remove(left.file);
    if (box.clickedButton() != take) continue;
    auto yard = edit::recover(left.file);
    if (!yard) {
      QMessageBox::warning(this, tr("It cannot be read"), errorText(yard.error(), document_.yard()));
      continue;
    }
    document_.takeRecovered(Document::ready(std::move(*yard)),
                            QString::fromStdString(left.yardFile.string()));
    std::filesystem::remove(left.file);
    return true;
  }
  return false;
}

void MainWindow::remember(const QString& path) {
  QSettings settings;
  QStringList list = settings.value(QStringLiteral("recent")).toStringList();
  const QString whole = QFileInfo(path).absoluteFilePath();
  list.removeAll(whole);
  list.prepend(whole);
  settings.setValue(QStringLiteral("recent"), list.mid(0, 10));
}

void MainWindow::refillRecent() {
  recent_->clear();
  QSettings settings;
  const QStringList list = settings.value(QStringLiteral("recent")).toStringList();
  for (const QString& path : list) {
    const bool there = QFileInfo::exists(path);
    recent_->addAction(there ? path : tr("%1 (missing)").arg(path), this, [this, path, there, list] {
      if (there) {
        if (mayClose()) openFile(path);
        return;
      }
      QStringList rest = list;
      rest.removeAll(path);
      QSettings().setValue(QStringLiteral("recent"), rest);
      setHint(tr("%1 is not there any more and was taken off the list.").arg(path));
    });
  }
  if (list.isEmpty()) recent_->addAction(tr("Nothing yet"))->setEnabled(false);
}

// ---- closing, dropping, settings

void MainWindow::closeEvent(QCloseEvent* event) {
  if (!mayClose()) return event->ignore();
  writeSettings();
  document_.newYard();  // nothing is left to recover
  event->accept();
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event) {
  if (event->mimeData()->hasUrls()) event->acceptProposedAction();
}

void MainWindow::dropEvent(QDropEvent* event) {
  const QString path = event->mimeData()->urls().value(0).toLocalFile();
  const QString suffix = QFileInfo(path).suffix().toLower();
  if (suffix == QLatin1String("yard")) {
    if (mayClose()) openFile(path);
  } else if (QStringList{"png", "jpg", "jpeg", "pdf"}.contains(suffix)) {
    importPicture(path, drawings_->currentIndex() == 1 ? front_->wall() : Id{});
  } else if (QStringList{"svg", "dxf", "geojson", "json"}.contains(suffix)) {
    bringOutlinesIn(path);
  } else {
    say(tr("Cannot be used"), tr("Drop a yard file (.yard) to open it, a PNG or JPEG picture or a PDF page "
                                 "to put it under the Yard, or "
                                 "an SVG, DXF or GeoJSON file to take outlines from it."));
  }
}

void MainWindow::readSettings() {
  QSettings settings;
  restoreGeometry(settings.value(QStringLiteral("geometry")).toByteArray());
  const bool dusk = settings.value(QStringLiteral("dusk"), false).toBool();
  dusk_->setChecked(dusk);
  setDusk(dusk);
  const bool reduce = settings.value(QStringLiteral("reduceMotion"), false).toBool();
  findChild<QAction*>(QStringLiteral("actionReduceMotion"))->setChecked(reduce);
  yard_->setMotion(!reduce);
  front_->setMotion(!reduce);
}

void MainWindow::writeSettings() {
  QSettings settings;
  settings.setValue(QStringLiteral("geometry"), saveGeometry());
  settings.setValue(QStringLiteral("dusk"), dusk_->isChecked());
  settings.setValue(QStringLiteral("reduceMotion"),
                    findChild<QAction*>(QStringLiteral("actionReduceMotion"))->isChecked());
}

}  // namespace yw::ui
