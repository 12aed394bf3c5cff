#pragma once
#include <QWidget>
#include <set>

#include "core/file/import/outlines.h"

namespace yw::ui {

/// A small plan of the outlines of a file. A click on a corner marks it as an end of a known length; a click
/// elsewhere on an outline chooses it.
class OutlinePicture : public QWidget {
  Q_OBJECT
 public:
  explicit OutlinePicture(QWidget* parent = nullptr);
  /// `ends`: of the known length, at most two.
  void show(const file::Outlines* outlines, std::set<std::size_t> chosen, std::vector<base::Point> ends);
  QPointF placeOf(base::Point place) const;  ///< in the widget
  QSize sizeHint() const override { return {420, 420}; }
  QSize minimumSizeHint() const override { return {260, 220}; }

 Q_SIGNALS:
  void cornerClicked(yw::base::Point place);
  void outlineClicked(std::size_t index);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;

 private:
  const file::Outlines* outlines_ = nullptr;
  std::set<std::size_t> chosen_;
  std::vector<base::Point> ends_;
};

}  // namespace yw::ui
