#include "ui/canvas/tools/north_tool.h"

#include <QPainter>
#include <cmath>

#include "ui/canvas/canvas_view.h"

namespace yw::ui {

using papers::Role;

QString NorthTool::name() const { return said("canvas_tool_north"); }

QString NorthTool::status() const {
  return said(from_ ? "canvas_status_north_second" : "canvas_status_north_first");
}

QPointF NorthTool::end() const {
  if (last_.modifiers & Qt::ShiftModifier) return *from_ + constrained(last_.scene - *from_);
  return snapped_.at;
}

std::optional<base::Angle> NorthTool::north() const {
  if (!from_) return std::nullopt;
  const QPointF way = end() - *from_;
  if (std::hypot(way.x(), way.y()) < 1.0) return std::nullopt;  // mm
  const double turned = std::fmod(angleOf(way) + 270.0, 360.0);
  return base::toAngle(turned > 180.0 ? turned - 360.0 : turned);
}

void NorthTool::move(const ToolEvent& event) {
  last_ = event;
  snapped_ = caught(event);
  repaint();
}

void NorthTool::press(const ToolEvent& event) {
  move(event);
  if (!from_) {
    from_ = snapped_.at;
    statusChanged();
    return repaint();
  }
  const auto angle = north();
  if (!angle) return;
  edit::Editor editor(document().yard());
  editor.update<yard::Site>(yard::siteId(editor.yard()), [&](yard::Site& site) { site.north = *angle; });
  const edit::Change change = editor.finish(name().toStdString());
  if (!change.empty()) document().commit(change);
  leave();
}

bool NorthTool::stop() {
  if (PointTool::stop()) return true;
  if (!from_) return false;
  from_.reset();
  statusChanged();
  repaint();
  return true;
}

void NorthTool::paint(QPainter& painter) {
  paintCatch(painter, snapped_);
  if (!from_) return;
  const QPointF a = view().toView(*from_), b = view().toView(end());
  const double length = std::hypot(b.x() - a.x(), b.y() - a.y());
  painter.setPen(QPen(view().look().color(Role::Accent), 1.8));
  painter.drawLine(a, b);
  if (length > 1.0) {
    const QPointF back = (a - b) * (12.0 / length), aside(-back.y() * 0.5, back.x() * 0.5);
    painter.drawLine(b, b + back + aside);
    painter.drawLine(b, b + back - aside);
  }
  if (const auto angle = north())
    paintNote(painter, view(), b,
              {said(angle->count < 0 ? "canvas_note_north_right" : "canvas_note_north_left",
                    {{"angle", base::Angle{std::abs(angle->count)}}})});
}

}  // namespace yw::ui
