#pragma once
// What the canvas tests share: sample yards, events, pictures.
#include <QApplication>
#include <QDir>
#include <QPixmap>
#include <QString>
#include <QTest>
#include <string>

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

/// A yard with nothing in it, units feet and inches, and a view of it, shown at 1000 × 700.
template <class View = YardView>
struct Bench {
  Document document;
  View view{document};
  Bench() {
    view.resize(1000, 700);
    view.show();
    view.setFocus();
  }
  base::Id add(yard::Record record) {
    edit::Editor editor(document.yard());
    const base::Id id = editor.add(std::move(record));
    document.commit(editor.finish("add"));
    return id;
  }
  base::Id addProp(const std::string& kind, const std::string& name, double x, double y) {
    yard::Prop prop = shapes::usualProp(kind);
    prop.name = name;
    prop.at = base::point(base::Vec2{x, y});
    return add(prop);
  }
  /// Shows 10 × 7 m of yard with its origin in the middle: 0.1 logical pixels a mm.
  void lookAtOrigin() {
    view.fit(QRectF(-5000, -3500, 10000, 7000), 0.0);
    view.settle();
  }
  QPoint at(double x, double y) const { return view.toView(toScene(base::Vec2{x, y})).toPoint(); }
  std::string undoName() const { return document.history().undoName(); }
  std::size_t steps() const { return document.history().position(); }
  template <class R>
  const R& get(base::Id id) const {
    return *yard::find<R>(document.yard(), id);
  }
  const std::set<base::Id>& chosen() { return document.selection().ids(); }
};

inline void key(QWidget& widget, int which, Qt::KeyboardModifiers modifiers = {}, bool repeated = false,
                const QString& text = {}) {
  QKeyEvent press(QEvent::KeyPress, which, modifiers, text, repeated);
  QApplication::sendEvent(&widget, &press);
}
inline void click(CanvasView& view, QPoint at, Qt::KeyboardModifiers modifiers = {}) {
  QTest::mouseClick(view.viewport(), Qt::LeftButton, modifiers, at);
}

/// Several moves, so that a drag is a drag.
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
