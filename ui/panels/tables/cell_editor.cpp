#include "ui/panels/tables/cell_editor.h"

#include <QApplication>
#include <QCheckBox>
#include <QComboBox>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QVBoxLayout>

#include "ui/fields/pick_fields.h"

namespace yw::ui {

CellEditor::CellEditor(ValueField* field, QWidget* over) : QFrame(over), field_(field) {
  setObjectName(QStringLiteral("cellEditor"));
  setFrameShape(QFrame::Box);
  setAutoFillBackground(true);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(2, 2, 2, 2);
  field_->setParent(this);
  column->addWidget(field_);
  input_ = field_;
  while (input_->focusProxy()) input_ = input_->focusProxy();
  input_->installEventFilter(this);
  // A choice is made when it is picked: nothing more to confirm.
  const auto picked = [this] {
    QMetaObject::invokeMethod(
        this,
        [this] {
          if (field_->reason().isEmpty()) leave(Next::Here);
        },
        Qt::QueuedConnection);
  };
  if (auto* combo = qobject_cast<QComboBox*>(input_)) connect(combo, &QComboBox::activated, this, picked);
  if (auto* box = qobject_cast<QCheckBox*>(input_)) connect(box, &QCheckBox::clicked, this, picked);
}

void CellEditor::place(const QRect& cell) {
  constexpr int kLeastWidth = 180;
  cell_ = cell;
  const QSize room = parentWidget()->size();
  layout()->activate();
  const int width = std::max(cell.width(), kLeastWidth);
  const int least =
      layout()->hasHeightForWidth() ? layout()->totalHeightForWidth(width) : sizeHint().height();
  const QSize wanted(width, std::max(cell.height(), least));
  const int x = std::clamp(cell.x(), 0, std::max(0, room.width() - wanted.width()));
  const int y = std::clamp(cell.y(), 0, std::max(0, room.height() - wanted.height()));
  setGeometry(QRect(QPoint(x, y), wanted));
}

void CellEditor::begin() {
  show();
  raise();
  input_->setFocus(Qt::OtherFocusReason);
  if (auto* line = qobject_cast<QLineEdit*>(input_)) line->selectAll();
}

/// A reading or a reason that comes or goes wants another height.
bool CellEditor::event(QEvent* event) {
  const bool taken = QFrame::event(event);
  if (event->type() == QEvent::LayoutRequest && isVisible()) place(cell_);
  return taken;
}

bool CellEditor::commit() {
  if (auto* typed = qobject_cast<TypedField*>(field_)) return typed->commitTyped();
  return true;
}

void CellEditor::leave(Next next) {
  if (leaving_) return;
  leaving_ = true;
  Q_EMIT left(next);
}

bool CellEditor::keyPressed(int key, bool control) {
  const bool lines = qobject_cast<QPlainTextEdit*>(input_) != nullptr;
  switch (key) {
    case Qt::Key_Escape:
      if (auto* typed = qobject_cast<TypedField*>(field_)) typed->restore();
      if (lines) return false;  // puts its own text back; the next Esc leaves
      leave(Next::Here);
      return true;
    case Qt::Key_Return:
    case Qt::Key_Enter:
      if (lines && !control) return false;
      if (commit()) leave(Next::Here);
      return true;
    case Qt::Key_Tab:
    case Qt::Key_Backtab:
      if (commit()) leave(key == Qt::Key_Tab ? Next::After : Next::Before);
      return true;
    default:
      return false;
  }
}

bool CellEditor::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() == QEvent::ShortcutOverride) {
    event->accept();  // the window's keys wait while a cell is edited
    return false;
  }
  if (event->type() == QEvent::KeyPress) {
    const auto* key = static_cast<QKeyEvent*>(event);
    return keyPressed(key->key(), key->modifiers() & Qt::ControlModifier);
  }
  if (event->type() == QEvent::FocusOut) {
    const auto reason = static_cast<QFocusEvent*>(event)->reason();
    if (reason != Qt::PopupFocusReason && reason != Qt::ActiveWindowFocusReason && commit())
      QMetaObject::invokeMethod(
          this, [this] { leave(Next::Here); }, Qt::QueuedConnection);
  }
  return QFrame::eventFilter(watched, event);
}

}  // namespace yw::ui
