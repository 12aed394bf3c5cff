#pragma once
#include <vector>

#include "core/yard/records.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// A window, door, eave or gable drawn on a wall seen face-on, by two opposite corners. After the first
/// corner a typed length is the width, a second one the height.
class OpeningTool : public PointTool {
  Q_OBJECT
 public:
  OpeningTool(CanvasView& view, base::Id wall, yard::OpeningKind kind);
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;

 private:
  QRectF shape() const;  ///< scene
  void finish();
  base::Id wall_;
  yard::OpeningKind kind_;
  std::vector<QPointF> places_;
  std::optional<double> width_, height_;  ///< typed, mm
  Snapped snapped_;
  ToolEvent last_;
};

}  // namespace yw::ui
