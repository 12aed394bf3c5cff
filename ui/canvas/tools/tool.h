#pragma once
#include <QObject>
#include <QPoint>
#include <QPointF>
#include <QRect>
#include <QString>

class QKeyEvent;
class QPainter;

namespace yw::ui {

class CanvasView;
class Document;

/// A mouse event as a tool sees it.
struct ToolEvent {
  QPointF scene;
  QPoint view;  ///< in the viewport
  Qt::MouseButton button = Qt::NoButton;
  Qt::MouseButtons buttons = Qt::NoButton;
  Qt::KeyboardModifiers modifiers = Qt::NoModifier;
};

/// What the pointer does on a view: one class a tool. A tool changes the yard through the document only, and
/// one gesture is one step.
class Tool : public QObject {
  Q_OBJECT
 public:
  explicit Tool(CanvasView& view) : view_(view) {}

  virtual QString name() const = 0;    ///< `Draw walk`
  virtual QString status() const = 0;  ///< what to do next, one sentence
  virtual void start() {}              ///< it became the view's tool
  virtual void press(const ToolEvent&) {}
  virtual void move(const ToolEvent&) {}
  virtual void release(const ToolEvent&) {}
  virtual void doubleClick(const ToolEvent& event) { press(event); }
  virtual bool key(QKeyEvent&) { return false; }
  virtual void keyReleased(QKeyEvent&) {}
  /// Escape: stops the gesture under way. False if there was none: the tool is left.
  virtual bool stop() { return false; }
  /// A place that was not clicked but found otherwise, as by two tapes; only where takesPlaces() says so.
  virtual bool takesPlaces() const { return false; }
  virtual void takePlace(QPointF) {}
  /// Draws over everything, in logical pixels of the viewport.
  virtual void paint(QPainter&) {}
  /// Where paint() draws; the whole viewport unless the tool knows better.
  virtual QRect bounds() const;
  virtual Qt::CursorShape cursor() const { return Qt::CrossCursor; }
  /// The yard or its assessment changed under the tool.
  virtual void yardChanged() {}
  /// Something was done, undone or done again: a gesture under way rests on a yard that is gone.
  virtual void historyMoved() {}
  void repaint();  ///< where it was drawn and where it will be

 protected:
  CanvasView& view() const { return view_; }
  Document& document() const;
  void statusChanged();  ///< tells the status line
  void leave();          ///< back to selecting

 private:
  CanvasView& view_;
  QRect painted_;
};

/// Words in a small box beside a place of the viewport, kept inside it. Gives the box.
QRectF paintNote(QPainter& painter, const class CanvasView& view, QPointF at, const QStringList& lines);
QRectF noteRect(const class CanvasView& view, QPointF at, const QStringList& lines);

}  // namespace yw::ui
