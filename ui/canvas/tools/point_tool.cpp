#include "ui/canvas/tools/point_tool.h"

#include <QKeyEvent>
#include <QPainter>
#include <cmath>

#include "core/base/number_text.h"
#include "ui/canvas/canvas_view.h"

namespace yw::ui {

using papers::Role;

PointTool::PointTool(CanvasView& view) : Tool(view), entry_(new InlineEntry(view.viewport())) {}

PointTool::~PointTool() { delete entry_; }

bool PointTool::stop() {
  if (!asking()) return false;
  entry_->put();
  return true;
}

Snapped PointTool::caught(const ToolEvent& event) {
  if ((event.modifiers & Qt::AltModifier) || !view().snaps())
    return {event.scene, false, Catch::Grid, {}, {}};
  if (snapperScale_ != view().scaleNow()) {
    snapper_ = view().snapper();
    snapperScale_ = view().scaleNow();
  }
  constexpr double kSnapReach = 10.0;
  return snapper_.snap(event.scene, kSnapReach / view().scaleNow());
}

void PointTool::paintCatch(QPainter& painter, const Snapped& snapped) const {
  if (!snapped.caught) return;
  const QPointF at = view().toView(snapped.at);
  painter.setPen(QPen(view().look().color(Role::Accent), 1, Qt::DashLine));
  for (const QPointF guide : snapped.guides) painter.drawLine(at, view().toView(guide));
  painter.setPen(QPen(view().look().color(Role::Accent), 1.4));
  painter.setBrush(Qt::NoBrush);
  painter.drawEllipse(at, 5, 5);
}

bool PointTool::beginsLength(const QKeyEvent& event) {
  if (event.modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier)) return false;
  const QString text = event.text();
  return text.size() == 1 &&
         (text[0].isDigit() || text[0] == QLatin1Char('.') || text[0] == QLatin1Char('('));
}

base::UnitSystem PointTool::units() const { return view().units(); }

QString PointTool::lengthWords(double mm) const {
  return QString::fromStdString(base::lengthText(base::toLength({mm * 1e-3}), units()));
}

double angleOf(QPointF way) {
  const double degrees = std::atan2(-way.y(), way.x()) * 180.0 / M_PI;
  return degrees < 0 ? degrees + 360.0 : degrees;
}

QPointF constrained(QPointF way) {
  const double length = std::hypot(way.x(), way.y());
  const double turned = std::round(angleOf(way) / 15.0) * 15.0 * M_PI / 180.0;
  // Exactly level and plumb ways stay so to the last bit.
  const double c = std::abs(std::cos(turned)) < 1e-12 ? 0.0 : std::cos(turned);
  const double s = std::abs(std::sin(turned)) < 1e-12 ? 0.0 : std::sin(turned);
  return {length * c, -length * s};
}

}  // namespace yw::ui
