#pragma once
#include <vector>

#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// Two clicks: how far, how far right and up, at what angle, in both units. Ctrl+C copies it. Changes
/// nothing.
class MeasureTool : public PointTool {
  Q_OBJECT
 public:
  using PointTool::PointTool;
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  bool takesPlaces() const override { return true; }
  void takePlace(QPointF scene) override;
  /// The figures, one line each; empty before the second place is known.
  QStringList lines() const;

 private:
  std::vector<QPointF> places_;
  Snapped snapped_;
  ToolEvent last_;
};

}  // namespace yw::ui
