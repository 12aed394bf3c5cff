#include "ui/canvas/hand_rules.h"

#include <QSettings>
#include <algorithm>

namespace yw::ui {

HandRules HandRules::load() {
  const QSettings settings;
  HandRules rules;
  rules.wheelZooms = settings.value(QStringLiteral("hand/wheelZooms"), true).toBool();
  rules.band =
      static_cast<BandRule>(std::clamp(settings.value(QStringLiteral("hand/band"), 0).toInt(), 0, 2));
  rules.snaps = settings.value(QStringLiteral("hand/catches"), true).toBool();
  rules.nudge = {std::max<qlonglong>(0, settings.value(QStringLiteral("hand/nudge"), 0).toLongLong())};
  return rules;
}

void HandRules::save() const {
  QSettings settings;
  settings.setValue(QStringLiteral("hand/wheelZooms"), wheelZooms);
  settings.setValue(QStringLiteral("hand/band"), static_cast<int>(band));
  settings.setValue(QStringLiteral("hand/catches"), snaps);
  settings.setValue(QStringLiteral("hand/nudge"), static_cast<qlonglong>(nudge.count));
}

void HandRules::applyTo(CanvasView& view) const {
  view.setWheelZooms(wheelZooms);
  view.setBandRule(band);
  view.setSnaps(snaps);
  view.setNudgeStep(nudge);
}

}  // namespace yw::ui
