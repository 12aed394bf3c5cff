#pragma once
#include <optional>

#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// Two clicks along a line that runs north, as along a map's meridian or a compass needle: the second lies to
/// the north of the first. Sets the direction of north in one step.
class NorthTool : public PointTool {
  Q_OBJECT
 public:
  using PointTool::PointTool;
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;

 private:
  QPointF end() const;
  /// From plan up, anticlockwise; none while both places are one.
  std::optional<base::Angle> north() const;
  std::optional<QPointF> from_;
  Snapped snapped_;
  ToolEvent last_;
};

}  // namespace yw::ui
