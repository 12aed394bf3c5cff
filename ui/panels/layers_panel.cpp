#include "ui/panels/layers_panel.h"

#include <QCheckBox>
#include <QComboBox>
#include <QGridLayout>
#include <QLabel>

#include "ui/canvas/canvas_view.h"

namespace yw::ui {

LayersPanel::LayersPanel(const QList<CanvasView*>& views, QWidget* parent) : QWidget(parent) {
  setObjectName(QStringLiteral("layersPanel"));
  auto* grid = new QGridLayout(this);
  auto* colors = new QComboBox(this);
  colors->setObjectName(QStringLiteral("colorBy"));
  colors->addItems({tr("Volts at the brightness limit"), tr("Run"), tr("Pixel product")});
  colors->setAccessibleName(tr("Color pixels by"));
  grid->addWidget(new QLabel(tr("Color pixels by"), this), 0, 0);
  grid->addWidget(colors, 0, 1, 1, 2);
  connect(colors, &QComboBox::activated, this, [views](int index) {
    for (CanvasView* view : views) view->setColorBy(static_cast<ColorBy>(index));
  });
  grid->addWidget(new QLabel(tr("Show"), this), 1, 1);
  grid->addWidget(new QLabel(tr("Hold still"), this), 1, 2);
  const QStringList names{tr("Picture"), tr("Ground"), tr("Cables"),   tr("Props"),
                          tr("Gear"),    tr("Labels"), tr("Findings"), tr("Grid")};
  for (int i = 0; i < kLayers; ++i) {
    const auto layer = static_cast<Layer>(i);
    auto* shown = new QCheckBox(this);
    auto* held = new QCheckBox(this);
    shown->setObjectName(QStringLiteral("show%1").arg(i));
    held->setObjectName(QStringLiteral("hold%1").arg(i));
    shown->setAccessibleName(tr("Show %1").arg(names[i]));
    held->setAccessibleName(tr("Hold %1 still").arg(names[i]));
    shown->setMinimumSize(24, 24);
    held->setMinimumSize(24, 24);
    shown->setChecked(views.first()->layerShown(layer));
    held->setChecked(views.first()->layerHeld(layer));
    held->setEnabled(layer != Layer::Labels && layer != Layer::Findings && layer != Layer::Grid);
    grid->addWidget(new QLabel(names[i], this), i + 2, 0);
    grid->addWidget(shown, i + 2, 1);
    grid->addWidget(held, i + 2, 2);
    connect(shown, &QCheckBox::toggled, this, [views, layer](bool on) {
      for (CanvasView* view : views) view->setLayerShown(layer, on);
    });
    connect(held, &QCheckBox::toggled, this, [views, layer](bool on) {
      for (CanvasView* view : views) view->setLayerHeld(layer, on);
    });
  }
  grid->setRowStretch(kLayers + 2, 1);
  grid->setColumnStretch(0, 1);
}

}  // namespace yw::ui
