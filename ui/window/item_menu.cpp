// What can be done with what is selected: all that a right click offers on a drawing, and a little more.
#include <QAction>
#include <QMenu>
#include <QMenuBar>
#include <QTabWidget>

#include "ui/canvas/front_view.h"
#include "ui/canvas/yard_view.h"
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
  menu->addSeparator();
  add(menu, tr("&Pull a run from here"), {}, "actionRun",
      [this] { pullRun(document_.selection().single()); });
  add(menu, tr("&Add a feed"), {}, "actionFeed", [this] {
    drawings_->setCurrentIndex(0);
    yard_->addFeed();
    yard_->setFocus();
  });
  add(menu, tr("Turn &round in its run\tT"), {}, "actionTurnRound", [this] { view().turnRoundSelected(); });
}

}  // namespace yw::ui
