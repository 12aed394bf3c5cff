#include "ui/fields/flow_layout.h"

#include <QWidget>
#include <algorithm>

namespace yw::ui {

FlowLayout::FlowLayout(QWidget* parent, int gap) : QLayout(parent), gap_(gap) {
  setContentsMargins(0, 0, 0, 0);
}

FlowLayout::~FlowLayout() { qDeleteAll(items_); }

QLayoutItem* FlowLayout::takeAt(int index) {
  return index >= 0 && index < items_.size() ? items_.takeAt(index) : nullptr;
}

void FlowLayout::setGeometry(const QRect& rect) {
  QLayout::setGeometry(rect);
  arrange(rect, true);
}

QSize FlowLayout::minimumSize() const {
  QSize size;
  for (const QLayoutItem* item : items_) size = size.expandedTo(item->minimumSize());
  return size;
}

int FlowLayout::arrange(const QRect& rect, bool move) const {
  int x = rect.x(), y = rect.y(), rowHeight = 0;
  for (QLayoutItem* item : items_) {
    if (item->isEmpty()) continue;
    const QSize size(std::min(item->sizeHint().width(), std::max(rect.width(), 1)),
                     item->sizeHint().height());
    if (x > rect.x() && x + size.width() > rect.right() + 1) {
      x = rect.x();
      y += rowHeight + gap_;
      rowHeight = 0;
    }
    if (move) item->setGeometry(QRect(QPoint(x, y), size));
    x += size.width() + gap_;
    rowHeight = std::max(rowHeight, size.height());
  }
  return y + rowHeight - rect.y();
}

}  // namespace yw::ui
