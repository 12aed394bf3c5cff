#pragma once
#include <vector>

#include "core/yard/records.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// Draws the outline of a ground feature: clicks, or typed lengths along the pointer's way. Shift keeps to
/// multiples of 15°, and a side nearly square to the last one is squared; Enter or a double click ends it,
/// Backspace takes one corner back. Dragged from the first corner, or with `30' x 20'` typed, it is a
/// rectangle. A tree is a circle: center, then edge. A house gets its walls with it, in the same step.
class DrawTool : public PointTool {
  Q_OBJECT
 public:
  DrawTool(CanvasView& view, yard::FeatureKind kind);
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  void release(const ToolEvent& event) override;
  void doubleClick(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  bool takesPlaces() const override { return true; }
  void takePlace(QPointF scene) override;

  const std::vector<QPointF>& corners() const { return corners_; }

 private:
  bool closed() const;
  bool round() const { return kind_ == yard::FeatureKind::Tree; }
  QPointF candidate() const;
  QPointF squared(QPointF way) const;
  /// A walk of two corners: Enter asks how wide.
  bool widens() const;
  void addStrip(base::Length width);
  void addRectangle(QPointF opposite);
  void addCorner(QPointF scene);
  void finish();
  QStringList note() const;

  yard::FeatureKind kind_;
  std::vector<QPointF> corners_;
  Snapped snapped_;
  ToolEvent last_;
  std::optional<QPoint> pressedAt_;  ///< in the viewport; the first corner, while the button is down
  bool rectangle_ = false;
  bool width_ = false;  ///< the field asks for a strip's width
  QString told_;        ///< why Enter did nothing; until the next corner
};

}  // namespace yw::ui
