// What can be done with what is selected: all that a right click offers on a drawing, and a little more.
#include <QAction>
#include <QLabel>
#include <QMenu>
#include <QMenuBar>
#include <QStatusBar>
#include <QTabWidget>

#include "ui/canvas/front_view.h"
#include "ui/canvas/hand_rules.h"
#include "ui/canvas/yard_view.h"
#include "ui/dialogs/find_dialog.h"
#include "ui/dialogs/hand_dialog.h"
#include "ui/window/main_window.h"

namespace yw::ui {

void MainWindow::buildItemMenu() {
  QMenu* menu = menuBar()->addMenu(tr("&Item"));
  // The drawings take these keys themselves, so that fields and tables keep theirs: shown, not bound.
  add(menu, tr("&Edit\tEnter"), {}, "actionEdit", [this] { Q_EMIT view().editAsked(); });
  menu->addSeparator();
  add(menu, tr("&Turn by 15°\tR"), {}, "actionTurn", [this] { view().turnSelected(base::toAngle(15.0)); });
  add(menu, tr("Turn &back by 15°\tShift+R"), {}, "actionTurnBack",
      [this] { view().turnSelected(base::toAngle(-15.0)); });
  add(menu, tr("&Hold still"), {}, "actionHold", [this] { view().holdSelected(true); });
  add(menu, tr("&Let it move"), {}, "actionLetGo", [this] { view().holdSelected(false); });
  add(menu, tr("Place by t&wo tapes"), {}, "actionTapes", [this] { view().placeByTapes(); });
  menu->addSeparator();
  add(menu, tr("&Pull a run from here"), {}, "actionRun",
      [this] { pullRun(document_.selection().single()); });
  add(menu, tr("&Add a feed"), {}, "actionFeed", [this] {
    drawings_->setCurrentIndex(0);
    yard_->addFeed();
    yard_->setFocus();
  });
  add(menu, tr("Turn &round in its run\tT"), {}, "actionTurnRound", [this] { view().turnRoundSelected(); });
  // What has nothing to work on is grey.
  const auto offer = [this, menu] {
    const bool any = !document_.selection().ids().empty();
    for (QAction* action : menu->actions())
      if (action->objectName() != QStringLiteral("actionFeed")) action->setEnabled(any);
  };
  connect(&document_.selection(), &Selection::changed, this, offer);
  offer();
}

void MainWindow::find() {
  FindDialog dialog(document_, this);
  if (dialog.exec() != QDialog::Accepted || !dialog.found()) return;
  document_.selection().set({dialog.found()});
  if (!view().canvas().item(dialog.found())) drawings_->setCurrentIndex(0);
  view().centerSelection();
  view().setFocus();
}

void MainWindow::buildHandMenu() {
  const auto apply = [this](const HandRules& rules) {
    rules.applyTo(*yard_);
    rules.applyTo(*front_);
    rules.save();
  };
  viewMenu_->addSeparator();
  add(viewMenu_, tr("Pointer and &keys…"), {}, "actionHand", [this, apply] {
    HandDialog dialog(HandRules::load(), yard::settings(document_.yard()).units, this);
    connect(&dialog, &HandDialog::changed, this, apply);
    dialog.exec();
  });
  auto* catches = new QLabel(this);
  catches->setObjectName(QStringLiteral("statusCatches"));
  statusBar()->addPermanentWidget(catches);
  const auto snapsChanged = [this, catches, apply](bool snaps) {
    catches->setText(snaps ? tr("catching on") : tr("catching off"));
    HandRules rules = HandRules::load();
    if (rules.snaps == snaps) return;
    rules.snaps = snaps;
    apply(rules);
  };
  for (CanvasView* v : std::initializer_list<CanvasView*>{yard_, front_})
    connect(v, &CanvasView::snapsChanged, this, snapsChanged);
  const HandRules rules = HandRules::load();
  apply(rules);
  snapsChanged(rules.snaps);
}

}  // namespace yw::ui
