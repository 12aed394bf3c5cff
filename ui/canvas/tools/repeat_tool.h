#pragma once
#include <optional>
#include <vector>

#include "ui/canvas/canvas_view.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// Repeats what is selected in a line, a grid, round a circle, mirrored or along a line drawn click by click,
/// with a preview of every copy; one step. How many is typed, or changed by + and −.
class RepeatTool : public PointTool {
  Q_OBJECT
 public:
  RepeatTool(CanvasView& view, RepeatKind kind);
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void doubleClick(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  std::int64_t count() const { return count_; }

 private:
  std::vector<edits::Copying> copies() const;
  void count(QKeyEvent& event);
  void place();
  std::vector<edits::Copying> copiesAlong() const;
  QStringList note() const;
  base::Vec2 way() const;  ///< from what is repeated to the pointer, m

  RepeatKind kind_;
  std::set<base::Id> ids_;
  QPointF anchor_;                     ///< place of the first of them
  std::int64_t count_ = 3, rows_ = 1;  ///< in a row, the first included; rows of a grid
  std::vector<QPointF> path_;          ///< places clicked, without the anchor
  bool along_ = false;                 ///< copies turn with the line
  bool typing_ = false;                ///< the next digit joins the number
  std::optional<base::Vec2> row_;      ///< a grid's first row is fixed: way to its end
  Snapped snapped_;
  ToolEvent last_;
};

}  // namespace yw::ui
