#pragma once
#include <QLayout>
#include <QList>

namespace yw::ui {

/// Widgets in rows, as many in each as fit, like words in a paragraph.
class FlowLayout : public QLayout {
 public:
  explicit FlowLayout(QWidget* parent = nullptr, int gap = 4);
  ~FlowLayout() override;
  void addItem(QLayoutItem* item) override { items_.append(item); }
  int count() const override { return static_cast<int>(items_.size()); }
  QLayoutItem* itemAt(int index) const override { return items_.value(index); }
  QLayoutItem* takeAt(int index) override;
  Qt::Orientations expandingDirections() const override { return {}; }
  bool hasHeightForWidth() const override { return true; }
  int heightForWidth(int width) const override { return arrange(QRect(0, 0, width, 0), false); }
  void setGeometry(const QRect& rect) override;
  QSize sizeHint() const override { return minimumSize(); }
  QSize minimumSize() const override;

 private:
  int arrange(const QRect& rect, bool move) const;
  QList<QLayoutItem*> items_;
  int gap_;
};

}  // namespace yw::ui
