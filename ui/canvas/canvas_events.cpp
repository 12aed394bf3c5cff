// What the hand does on a view: mouse, wheel, keys, drops. Tools decide what it means.
#include <QContextMenuEvent>
#include <QDragEnterEvent>
#include <QDropEvent>
#include <QHelpEvent>
#include <QInputDevice>
#include <QKeyEvent>
#include <QMenu>
#include <QMimeData>
#include <QMouseEvent>
#include <QNativeGestureEvent>
#include <QScrollBar>
#include <QToolTip>
#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/tools/select_tool.h"

namespace yw::ui {

using base::Id;

// ---- mouse

ToolEvent CanvasView::toolEvent(const QMouseEvent& event) const {
  const QPointF at = event.position();
  return {toSceneExact(at), at.toPoint(), event.button(), event.buttons(), event.modifiers()};
}

bool CanvasView::startPan(QMouseEvent* event) {
  const bool pans = event->button() == Qt::MiddleButton || (event->button() == Qt::LeftButton && spaceDown_);
  if (!pans) return false;
  panning_ = true;
  panFrom_ = event->position().toPoint();
  viewport()->setCursor(Qt::ClosedHandCursor);
  return true;
}

void CanvasView::mousePressEvent(QMouseEvent* event) {
  setFocus(Qt::MouseFocusReason);
  if (startPan(event)) return;
  if (event->button() == Qt::LeftButton) tool_->press(toolEvent(*event));
}

void CanvasView::mouseMoveEvent(QMouseEvent* event) {
  pointerScene_ = toSceneExact(event->position());
  Q_EMIT pointerMoved(placeText(pointerScene_));
  if (panning_) {
    const QPoint now = event->position().toPoint(), by = panFrom_ - now;
    panFrom_ = now;
    horizontalScrollBar()->setValue(horizontalScrollBar()->value() + by.x());
    verticalScrollBar()->setValue(verticalScrollBar()->value() + by.y());
    return;
  }
  tool_->move(toolEvent(*event));
}

void CanvasView::mouseReleaseEvent(QMouseEvent* event) {
  if (panning_) {
    panning_ = false;
    viewport()->setCursor(spaceDown_ ? Qt::OpenHandCursor : tool_->cursor());
    return;
  }
  if (event->button() == Qt::LeftButton) tool_->release(toolEvent(*event));
}

void CanvasView::mouseDoubleClickEvent(QMouseEvent* event) {
  if (startPan(event)) return;
  if (event->button() == Qt::LeftButton) tool_->doubleClick(toolEvent(*event));
}

void CanvasView::leaveEvent(QEvent* event) {
  QGraphicsView::leaveEvent(event);
  Q_EMIT pointerMoved({});
}

void CanvasView::wheelEvent(QWheelEvent* event) {
  const bool control = event->modifiers() & Qt::ControlModifier;
  const bool touchpad = event->device() && event->device()->type() == QInputDevice::DeviceType::TouchPad;
  if (control || (wheelZooms_ && !touchpad && !(event->modifiers() & Qt::ShiftModifier))) {
    const int turned = event->angleDelta().y() ? event->angleDelta().y() : event->angleDelta().x();
    if (turned) zoomAt(std::pow(1.2, turned / 120.0), event->position());
  } else {
    QPoint by = event->pixelDelta().isNull() ? event->angleDelta() / 2 : event->pixelDelta();
    if ((event->modifiers() & Qt::ShiftModifier) && by.x() == 0) by = QPoint(by.y(), 0);
    horizontalScrollBar()->setValue(horizontalScrollBar()->value() - by.x());
    verticalScrollBar()->setValue(verticalScrollBar()->value() - by.y());
  }
  event->accept();
}

bool CanvasView::viewportEvent(QEvent* event) {
  if (event->type() == QEvent::NativeGesture) {
    const auto* gesture = static_cast<QNativeGestureEvent*>(event);
    if (gesture->gestureType() == Qt::ZoomNativeGesture) {
      zoomAt(1.0 + gesture->value(), gesture->position());
      return true;
    }
  }
  if (event->type() == QEvent::ToolTip) {
    const auto* help = static_cast<QHelpEvent*>(event);
    const QString tip = selecting_ ? tipAt(help->pos()) : QString();
    if (tip.isEmpty())
      QToolTip::hideText();
    else
      QToolTip::showText(help->globalPos(), tip, viewport());
    return true;
  }
  return QGraphicsView::viewportEvent(event);
}

QString CanvasView::tipAt(QPoint view) const {
  if (const auto finding = findingAt(view)) {
    const auto report = document_.report();
    if (*finding < report->findings.size())
      return QString::fromStdString(base::text(report->findings[*finding].sentence, units()));
  }
  const QPointF scene = toSceneExact(view);
  const auto ids = idsAt(scene, true);
  if (ids.empty()) return {};
  const yard::Yard& yard = document_.shownYard();
  const std::string label = yard::labelOf(yard, ids.front());
  const auto [prop, pixel] = pixelAt(scene);
  const auto& a = document_.assessment();
  if (prop != ids.front() || pixel == 0 || !a) return QString::fromStdString(label);
  const auto wired = a->wiredIn.find(prop);
  if (wired != a->wiredIn.end())
    for (const auto& [run, item] : wired->second) {
      const auto layout = a->layouts.find(run);
      const auto figure = a->limit.runs.find(run);
      if (layout == a->layouts.end() || figure == a->limit.runs.end()) continue;
      for (std::size_t i = 0; i < layout->second->pixels.size() && i < figure->second.volts.size(); ++i) {
        const auto& place = layout->second->pixels[i];
        if (place.prop != prop || place.pixel != pixel) continue;
        return said("canvas_tip_pixel",
                    {{"what", label},
                     {"pixel", pixel},
                     {"volts", base::toVoltage({figure->second.volts[i]})},
                     {"run", yard::labelOf(yard, run)}},
                    units());
      }
    }
  return said("canvas_tip_unwired", {{"what", label}, {"pixel", pixel}}, units());
}

// ---- keys

bool CanvasView::event(QEvent* event) {
  // Bare keys belong to the view while it has the focus, whatever menus use them for elsewhere.
  if (event->type() == QEvent::ShortcutOverride) {
    const auto* key = static_cast<QKeyEvent*>(event);
    const bool bare = !(key->modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier));
    const bool function = key->key() >= Qt::Key_F1 && key->key() <= Qt::Key_F35 && key->key() != Qt::Key_F2;
    const bool copies = !selecting_ && key->key() == Qt::Key_C && key->modifiers() == Qt::ControlModifier;
    if ((bare && !function) || copies) {
      event->accept();
      return true;
    }
  }
  return QGraphicsView::event(event);
}

void CanvasView::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Escape) return escape();
  if (tool_->key(*event) || handleKey(*event)) {
    event->accept();
    return;
  }
  event->ignore();
}

/// Some X servers send a held key as release and press at one instant, and Qt does not always mark them as
/// repeats. No hand presses a key again that soon.
bool CanvasView::isHeld(const QKeyEvent& event) const {
  constexpr quint64 kInstant = 5;  // ms
  return event.isAutoRepeat() || (event.key() == releasedKey_ && event.timestamp() > 0 &&
                                  event.timestamp() - releasedAt_ <= kInstant);
}

bool CanvasView::handleKey(QKeyEvent& event) {
  const bool control = event.modifiers() & Qt::ControlModifier;
  switch (event.key()) {
    case Qt::Key_Space:
      if (!event.isAutoRepeat()) {
        spaceDown_ = true;
        viewport()->setCursor(Qt::OpenHandCursor);
      }
      return true;
    case Qt::Key_Left:
      nudge(-1, 0, event.modifiers(), isHeld(event));
      return true;
    case Qt::Key_Right:
      nudge(1, 0, event.modifiers(), isHeld(event));
      return true;
    case Qt::Key_Up:
      nudge(0, 1, event.modifiers(), isHeld(event));
      return true;
    case Qt::Key_Down:
      nudge(0, -1, event.modifiers(), isHeld(event));
      return true;
    case Qt::Key_PageDown:
      walk(1);
      return true;
    case Qt::Key_PageUp:
      walk(-1);
      return true;
    case Qt::Key_Return:
    case Qt::Key_Enter:
    case Qt::Key_F2:
      Q_EMIT editAsked();
      return true;
    case Qt::Key_F10:
      if (event.modifiers() != Qt::ShiftModifier) return false;
      openMenuAt({}, false);
      return true;
    case Qt::Key_Delete:
    case Qt::Key_Backspace:
      removeSelected();
      return true;
    case Qt::Key_Home:
      fitAll();
      return true;
    default:
      break;
  }
  if (control && (event.key() == Qt::Key_Plus || event.key() == Qt::Key_Equal)) return zoomIn(), true;
  if (control && event.key() == Qt::Key_Minus) return zoomOut(), true;
  if (control && event.key() == Qt::Key_D) return duplicateSelected(), true;
  if (control && event.key() == Qt::Key_C) return copySelected(), true;
  if (control && event.key() == Qt::Key_X) return cutSelected(), true;
  if (control && event.key() == Qt::Key_V) return paste(), true;
  if (control && event.key() == Qt::Key_A) return selectAll(), true;
  if (event.modifiers() & ~(Qt::ShiftModifier | Qt::KeypadModifier)) return false;
  if (event.key() == Qt::Key_F) return fitSelection(), true;
  if (event.key() == Qt::Key_S) {
    setSnaps(!snaps_);
    Q_EMIT statusChanged(said(snaps_ ? "canvas_catching_on" : "canvas_catching_off"));
    return true;
  }
  if (event.key() == Qt::Key_T && !selecting_ && tool_->takesPlaces()) return placeByTapes(), true;
  if (event.key() == Qt::Key_T) return turnRoundSelected(), true;
  if (event.key() == Qt::Key_R) {
    turnSelected(base::toAngle(event.modifiers() & Qt::ShiftModifier ? -15.0 : 15.0));
    return true;
  }
  return false;
}

void CanvasView::keyReleaseEvent(QKeyEvent* event) {
  releasedKey_ = event->key();
  releasedAt_ = event->timestamp();
  if (event->key() == Qt::Key_Space && !event->isAutoRepeat()) {
    spaceDown_ = false;
    if (!panning_) viewport()->setCursor(tool_->cursor());
  }
  tool_->keyReleased(*event);
}

void CanvasView::escape() {
  if (tool_->stop()) return;
  if (!selecting_) return setTool(nullptr);
  clearHere();
  document_.selection().clear();
}

void CanvasView::focusInEvent(QFocusEvent* event) {
  QGraphicsView::focusInEvent(event);
  viewport()->update();
}

void CanvasView::focusOutEvent(QFocusEvent* event) {
  QGraphicsView::focusOutEvent(event);
  spaceDown_ = false;
  viewport()->update();
}

/// The whole drawing is one Tab stop.
bool CanvasView::focusNextPrevChild(bool next) { return QWidget::focusNextPrevChild(next); }

// ---- menu and drops

void CanvasView::contextMenuEvent(QContextMenuEvent* event) {
  openMenuAt(event->pos(), event->reason() == QContextMenuEvent::Mouse);
  event->accept();
}

/// By the mouse where it was clicked; by a key beside what is selected.
void CanvasView::openMenuAt(QPoint at, bool byMouse) {
  if (!selecting_) return;
  if (byMouse) {
    const auto ids = idsAt(toSceneExact(at));
    if (!ids.empty() && !document_.selection().ids().contains(ids.front()))
      document_.selection().set({ids.front()});
  } else {
    const QRectF extent = canvas_->extentOf(document_.selection().ids());
    at = extent.isNull() ? viewport()->rect().center() : toView(extent.center()).toPoint();
    const QRect room = viewport()->rect();
    at = QPoint(std::clamp(at.x(), 0, room.right()), std::clamp(at.y(), 0, room.bottom()));
  }
  menuScene_ = toSceneExact(at);
  QMenu menu(this);
  menu.setObjectName(QStringLiteral("canvasMenu"));
  buildMenu(menu);
  Q_EMIT contextMenuBuilding(&menu);
  if (!menu.isEmpty()) menu.exec(viewport()->mapToGlobal(at));
}

void CanvasView::dragEnterEvent(QDragEnterEvent* event) {
  if (event->mimeData()->hasFormat(QLatin1String(kPlaceMime)))
    event->acceptProposedAction();
  else
    event->ignore();
}

void CanvasView::dragMoveEvent(QDragMoveEvent* event) {
  if (event->mimeData()->hasFormat(QLatin1String(kPlaceMime)))
    event->acceptProposedAction();
  else
    event->ignore();
}

void CanvasView::dropEvent(QDropEvent* event) {
  if (!event->mimeData()->hasFormat(QLatin1String(kPlaceMime))) return event->ignore();
  place(event->mimeData()->data(QLatin1String(kPlaceMime)), toSceneExact(event->position()));
  event->acceptProposedAction();
  setFocus();
}

}  // namespace yw::ui
