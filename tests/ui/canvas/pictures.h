#pragma once
// What the canvas tests share: sample yards, events, pictures.
#include <QDir>
#include <QPixmap>
#include <QString>
#include <QTest>

#include "ui/canvas/yard_view.h"

namespace yw::ui {

inline QString samplePath(const char* name) {
  return QStringLiteral(YARDWRIGHT_ROOT) + QStringLiteral("/sample-yards/") + QLatin1String(name);
}

/// Saves a picture of the view into the folder YARDWRIGHT_PICTURES names, if it is set.
inline QImage pictured(CanvasView& view, const QString& name) {
  view.settle();
  const QImage image = view.grab().toImage();
  const QString folder = qEnvironmentVariable("YARDWRIGHT_PICTURES");
  if (!folder.isEmpty()) image.save(QDir(folder).filePath(name + QStringLiteral(".png")));
  return image;
}

/// Two moves, so that a drag is a drag.
inline void drag(CanvasView& view, QPoint from, QPoint to, Qt::KeyboardModifiers modifiers = {}) {
  QTest::mousePress(view.viewport(), Qt::LeftButton, modifiers, from);
  for (int i = 1; i <= 4; ++i) {
    const QPoint at = from + (to - from) * i / 4;
    QMouseEvent move(QEvent::MouseMove, QPointF(at), view.viewport()->mapToGlobal(QPointF(at)), Qt::NoButton,
                     Qt::LeftButton, modifiers);
    QApplication::sendEvent(view.viewport(), &move);
  }
  QTest::mouseRelease(view.viewport(), Qt::LeftButton, modifiers, to);
}

inline void hover(CanvasView& view, QPoint at, Qt::KeyboardModifiers modifiers = {}) {
  QMouseEvent move(QEvent::MouseMove, QPointF(at), view.viewport()->mapToGlobal(QPointF(at)), Qt::NoButton,
                   Qt::NoButton, modifiers);
  QApplication::sendEvent(view.viewport(), &move);
}

inline void wheel(CanvasView& view, QPointF at, int notches, Qt::KeyboardModifiers modifiers = {}) {
  QWheelEvent turn(at, view.viewport()->mapToGlobal(at), {}, QPoint(0, 120 * notches), Qt::NoButton,
                   modifiers, Qt::NoScrollPhase, false);
  QApplication::sendEvent(view.viewport(), &turn);
}

}  // namespace yw::ui
