#pragma once
#include <vector>

#include "core/yard/records.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// Draws the outline of a ground feature: clicks, or typed lengths along the pointer's way. Shift keeps to
/// multiples of 15°; Enter or a double click ends it, Backspace takes one corner back. A tree is a circle:
/// center, then edge. A house gets its walls with it, in the same step.
class DrawTool : public PointTool {
  Q_OBJECT
 public:
  DrawTool(CanvasView& view, yard::FeatureKind kind);
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  void doubleClick(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;

  const std::vector<QPointF>& corners() const { return corners_; }

 private:
  bool closed() const;
  bool round() const { return kind_ == yard::FeatureKind::Tree; }
  QPointF candidate() const;
  void addCorner(QPointF scene);
  void finish();
  QStringList note() const;

  yard::FeatureKind kind_;
  std::vector<QPointF> corners_;
  Snapped snapped_;
  ToolEvent last_;
};

}  // namespace yw::ui
