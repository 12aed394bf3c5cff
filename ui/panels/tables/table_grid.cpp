#include <QKeyEvent>
#include <QPainter>
#include <QStyledItemDelegate>
#include <algorithm>

#include "ui/panels/tables/tables_panel.h"

namespace yw::ui {

namespace {

/// Draws a frame in the cell that has the keys, so that it is seen within a selected row too.
class FramedCell : public QStyledItemDelegate {
 public:
  using QStyledItemDelegate::QStyledItemDelegate;
  void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
    QStyledItemDelegate::paint(painter, option, index);
    if (!(option.state & QStyle::State_HasFocus)) return;
    const bool chosen = option.state & QStyle::State_Selected;
    painter->save();
    painter->setPen(QPen(option.palette.color(chosen ? QPalette::HighlightedText : QPalette::Text), 2));
    painter->drawRect(QRectF(option.rect).adjusted(1, 1, -2, -2));
    painter->restore();
  }
};

}  // namespace

TableGrid::TableGrid(QWidget* parent) : QTableView(parent) { setItemDelegate(new FramedCell(this)); }

std::vector<int> TableGrid::selectedRows() const {
  std::vector<int> rows;
  for (const QModelIndex& index : selectionModel()->selectedRows()) rows.push_back(index.row());
  std::sort(rows.begin(), rows.end());
  return rows;
}

bool TableGrid::edit(const QModelIndex& index, EditTrigger trigger, QEvent*) {
  if (!(trigger & editTriggers()) || !index.isValid()) return false;
  Q_EMIT editAsked(index);
  return true;
}

QItemSelectionModel::SelectionFlags TableGrid::selectionCommand(const QModelIndex& index,
                                                                const QEvent* event) const {
  if (event && event->type() == QEvent::KeyPress && index.isValid()) {
    const auto* key = static_cast<const QKeyEvent*>(event);
    const bool along = key->key() == Qt::Key_Left || key->key() == Qt::Key_Right ||
                       key->key() == Qt::Key_Home || key->key() == Qt::Key_End;
    const bool sameRow = index.row() == currentIndex().row();
    if (along && sameRow && selectionModel()->isRowSelected(index.row(), {}))
      return QItemSelectionModel::NoUpdate;
  }
  return QTableView::selectionCommand(index, event);
}

bool TableGrid::event(QEvent* event) {
  if (event->type() == QEvent::ShortcutOverride) {
    // The drawings' and menus' keys of the same name wait while the table has the focus.
    const auto* key = static_cast<QKeyEvent*>(event);
    if (key->matches(QKeySequence::Copy) || key->matches(QKeySequence::SelectAll) ||
        key->key() == Qt::Key_F2) {
      event->accept();
      return true;
    }
  }
  return QTableView::event(event);
}

void TableGrid::keyPressEvent(QKeyEvent* event) {
  if (event->matches(QKeySequence::Copy)) return copyAsked();
  if (event->key() == Qt::Key_Escape) return clearAsked();
  const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
  if (enter && currentIndex().isValid()) return editAsked(currentIndex());
  QTableView::keyPressEvent(event);
}

}  // namespace yw::ui
