// Placing: what is picked from the strip is taken to the drawing where it is set down.
#include <QAction>
#include <QTabWidget>

#include "core/file/my_props.h"
#include "core/shapes/shape.h"
#include "ui/canvas/front_view.h"
#include "ui/canvas/tools/measure_tool.h"
#include "ui/canvas/tools/north_tool.h"
#include "ui/canvas/tools/place_tool.h"
#include "ui/canvas/yard_view.h"
#include "ui/dialogs/gear_dialog.h"
#include "ui/panels/place_strip.h"
#include "ui/window/main_window.h"

namespace yw::ui {

using base::Id;
using yard::RecordKind;

void MainWindow::connectPlace(PlaceStrip& strip) {
  strip.setMetric([this] { return yard::settings(document_.yard()).units == base::UnitSystem::Metric; });
  connect(&strip, &PlaceStrip::propAsked, this, [this](const QString& kind) { placeProp(kind); });
  connect(&strip, &PlaceStrip::groundAsked, this, [this](yard::FeatureKind kind) {
    drawings_->setCurrentIndex(0);
    yard_->drawFeature(kind);
    yard_->setFocus();
  });
  connect(&strip, &PlaceStrip::gearAsked, this, [this](RecordKind kind) { addGear(kind); });
  connect(&strip, &PlaceStrip::runAsked, this, [this] { pullRun(document_.selection().single()); });
  connect(&strip, &PlaceStrip::feedAsked, this, [this] {
    drawings_->setCurrentIndex(0);
    yard_->addFeed();
    yard_->setFocus();
  });
  connect(&strip, &PlaceStrip::measureAsked, this, [this] {
    view().setTool(std::make_unique<MeasureTool>(view()));
    view().setFocus();
  });
  connect(&strip, &PlaceStrip::northAsked, this, [this] {
    drawings_->setCurrentIndex(0);
    yard_->setTool(std::make_unique<NorthTool>(*yard_));
    yard_->setFocus();
  });
  connect(&strip, &PlaceStrip::outlinesAsked, this, [this] { bringOutlinesIn({}); });
  connect(&strip, &PlaceStrip::pictureAsked, this,
          [this] { findChild<QAction*>(QStringLiteral("actionPicture"))->trigger(); });
}

void MainWindow::placeProp(const QString& kindName) {
  const std::string asked = kindName.toStdString();
  const shapes::Kind* kind = shapes::findKind(asked);
  if (asked.starts_with("mine:"))
    if (const auto library = file::readMyProps(file::myPropsFile()))
      if (const auto* mine = yard::find<yard::Prop>(*library, Id{kindName.mid(5).toLongLong()}))
        kind = shapes::findKind(mine->kind);
  if (!kind) return;
  // What usually hangs on a wall is placed there when there is a wall.
  const auto walls = yard::all<yard::Wall>(document_.yard());
  const bool hang = !walls.empty() && (kind->onWall || drawings_->currentIndex() == 1);
  if (hang) {
    if (!front_->wall()) showWall(walls.front().first);
    drawings_->setCurrentIndex(1);
  } else {
    drawings_->setCurrentIndex(0);
  }
  CanvasView& on = view();
  on.setTool(
      std::make_unique<PlaceTool>(on, PlaceWhat{RecordKind::Prop, asked}, hang ? front_->wall() : Id{}));
  on.setFocus();
}

void MainWindow::addGear(RecordKind kind) {
  if (kind == RecordKind::Box || kind == RecordKind::Outlet || kind == RecordKind::OtherLoad ||
      kind == RecordKind::AudiencePoint || kind == RecordKind::SpotHeight) {
    const bool wall = kind == RecordKind::Box && drawings_->currentIndex() == 1 && front_->wall();
    if (!wall) drawings_->setCurrentIndex(0);
    view().setTool(std::make_unique<PlaceTool>(view(), PlaceWhat{kind, {}}, wall ? front_->wall() : Id{}));
    view().setFocus();
    return;
  }
  GearDialog dialog(document_, kind, this);
  dialog.addOne();
  dialog.exec();
}

void MainWindow::pullRun(Id from) {
  drawings_->setCurrentIndex(0);
  if (yard::find<yard::Port>(document_.yard(), from))
    yard_->startRun(from);
  else
    yard_->pullRun();
  yard_->setFocus();
}

/// A prop or box that is about to be placed goes along to the drawing that is now in front.
void MainWindow::takeAlong(bool toFront) {
  CanvasView& from = toFront ? static_cast<CanvasView&>(*yard_) : *front_;
  CanvasView& to = toFront ? static_cast<CanvasView&>(*front_) : *yard_;
  const auto* tool = dynamic_cast<PlaceTool*>(&from.tool());
  if (!tool || (tool->what().record != RecordKind::Prop && tool->what().record != RecordKind::Box)) return;
  const PlaceWhat what = tool->what();
  from.setTool(nullptr);
  if (toFront && !front_->wall()) return;
  to.setTool(std::make_unique<PlaceTool>(to, what, toFront ? front_->wall() : Id{}));
}

}  // namespace yw::ui
