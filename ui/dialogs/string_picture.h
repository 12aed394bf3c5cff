#pragma once
#include <QWidget>
#include <vector>

#include "core/base/point.h"

namespace yw::ui {

/// A small picture of a prop from the front with its pixels numbered in the order of the string, joined by
/// the string. Dragging one pixel onto another asks to string it there.
class StringPicture : public QWidget {
  Q_OBJECT
 public:
  explicit StringPicture(QWidget* parent = nullptr);
  /// Places as drawn, and which of them (0-based) is the 1st, 2nd … of the string; hops longer than `reach`
  /// (m; 0: none) are marked.
  void show(std::vector<base::Vec3> places, std::vector<std::size_t> order, double reach);
  /// Where the n-th pixel of the string (0-based) is in the widget.
  QPointF placeOf(std::size_t n) const;
  QSize sizeHint() const override { return {520, 420}; }
  QSize minimumSizeHint() const override { return {240, 200}; }

 Q_SIGNALS:
  /// Both 0-based in the order of the string; `stretch`: Shift was held, all of its line goes along.
  void moveAsked(std::size_t from, std::size_t to, bool stretch);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;

 private:
  std::ptrdiff_t nearest(QPointF at) const;  ///< in the order of the string; -1: none near
  std::vector<base::Vec3> places_;
  std::vector<std::size_t> order_;
  double reach_ = 0;
  std::ptrdiff_t dragged_ = -1;
  QPointF pointer_;
};

}  // namespace yw::ui
