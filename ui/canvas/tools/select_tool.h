#pragma once
#include <optional>
#include <set>
#include <vector>

#include "core/base/point.h"
#include "core/edit/change.h"
#include "ui/canvas/snapping/snapper.h"
#include "ui/canvas/tools/tool.h"

namespace yw::ui {

/// Selecting, moving, turning, and shaping outlines: what the pointer does when no other tool is taken.
class SelectTool : public Tool {
  Q_OBJECT
 public:
  using Tool::Tool;
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  void release(const ToolEvent& event) override;
  void doubleClick(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  QRect bounds() const override;
  Qt::CursorShape cursor() const override { return Qt::ArrowCursor; }

 private:
  enum class Gesture { None, Pressed, Band, Moving, Turning, Corner, Stopped };
  void click(const ToolEvent& event);
  void begin(const ToolEvent& event);
  void beginMoving(const ToolEvent& event);
  void dragMoving(const ToolEvent& event);
  void dragTurning(const ToolEvent& event);
  void dragCorner(const ToolEvent& event);
  edit::Change movedBy(base::Point by);
  QRectF band() const;
  QStringList note() const;  ///< words beside the pointer while dragging
  std::optional<QPoint> turnHandle() const;
  std::vector<QPoint> corners() const;
  int cornerAt(QPoint view) const;
  std::vector<QPoint> middles() const;
  int middleAt(QPoint view) const;

  Gesture gesture_ = Gesture::None;
  ToolEvent pressed_, last_;
  base::Id pressedId_;
  std::optional<std::size_t> finding_;  ///< whose sign was pressed
  std::vector<base::Id> stack_;         ///< what lay under the last click, for clicking deeper
  QPoint stackAt_;
  int corner_ = -1;
  bool inserting_ = false;  ///< a new corner, put in before corner_
  bool copies_ = false;
  bool snaps_ = true;
  QPointF anchor_;  ///< the moved thing's own place when the drag began
  Snapper snapper_;
  Snapped snapped_;
  edit::Change change_;
};

}  // namespace yw::ui
