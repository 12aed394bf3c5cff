#include "ui/canvas/tools/tool.h"

#include <QFontMetricsF>
#include <QPainter>
#include <algorithm>

#include "ui/canvas/canvas_view.h"

namespace yw::ui {

QRect Tool::bounds() const { return view_.viewport()->rect(); }

Document& Tool::document() const { return view_.document(); }

void Tool::repaint() {
  const QRect now = bounds();
  if (!painted_.isEmpty()) view_.viewport()->update(painted_);
  if (!now.isEmpty() && now != painted_) view_.viewport()->update(now);
  painted_ = now;
}

void Tool::statusChanged() { Q_EMIT view_.statusChanged(status()); }

void Tool::leave() { view_.setTool(nullptr); }

QRectF noteRect(const CanvasView& view, QPointF at, const QStringList& lines) {
  const QFontMetricsF metrics(typeFace(TypeSize::Text));
  double width = 0;
  for (const QString& line : lines) width = std::max(width, metrics.horizontalAdvance(line));
  const QRectF room = QRectF(view.viewport()->rect()).adjusted(4, 4, -4, -4);
  QRectF box(at + QPointF(16, 14),
             QSizeF(width + 14, metrics.height() * static_cast<double>(lines.size()) + 8));
  if (box.right() > room.right()) box.moveRight(std::max(at.x() - 12, room.left() + box.width()));
  if (box.bottom() > room.bottom()) box.moveBottom(std::max(at.y() - 10, room.top() + box.height()));
  return box;
}

QRectF paintNote(QPainter& painter, const CanvasView& view, QPointF at, const QStringList& lines) {
  if (lines.isEmpty()) return {};
  const QRectF box = noteRect(view, at, lines);
  const Look& look = view.look();
  painter.setPen(QPen(look.color(papers::Role::SecondInk), 1));
  painter.setBrush(look.color(papers::Role::Paper));
  painter.drawRect(box);
  painter.setFont(typeFace(TypeSize::Text));
  painter.setPen(look.color(papers::Role::Ink));
  const QFontMetricsF metrics(painter.font());
  QPointF line = box.topLeft() + QPointF(7, 4 + metrics.ascent());
  for (const QString& text : lines) {
    painter.drawText(line, text);
    line += QPointF(0, metrics.height());
  }
  return box.adjusted(-1, -1, 1, 1);
}

}  // namespace yw::ui
