#pragma once
#include <QPolygonF>
#include <QStringList>
#include <optional>
#include <set>
#include <vector>

#include "core/assess/assess.h"
#include "core/base/point.h"
#include "core/edit/change.h"
#include "ui/canvas/snapping/snapper.h"
#include "ui/canvas/tools/tool.h"

namespace yw::ui {

class CableItem;

/// Selecting, moving, turning, shaping outlines, and pulling a jumper through another prop: what the pointer
/// does when no other tool is taken. While something wired is dragged, the reach of its leads and the volts
/// at the worst pixel stand beside the pointer, as the engine has them.
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
  void yardChanged() override;
  void historyMoved() override { stop(); }
  QStringList note() const;  ///< words beside the pointer while dragging

 private:
  enum class Gesture { None, Pressed, Band, Moving, Turning, Corner, Jumper, Stopped };
  void click(const ToolEvent& event);
  void begin(const ToolEvent& event);
  void beginMoving(const ToolEvent& event);
  void dragMoving(const ToolEvent& event);
  void dragTurning(const ToolEvent& event);
  void dragCorner(const ToolEvent& event);
  void dragJumper(const ToolEvent& event);
  const CableItem* jumperAt(QPointF scene) const;
  bool beginJumper();
  void tryJumper();
  void turnJumper();
  bool dragged(const ToolEvent& event) const;  ///< far enough from where it was pressed
  void show(edit::Change change);              ///< as it would be
  void tellOutcome();
  edit::Change movedBy(base::Point by);
  QRectF band() const;
  std::optional<QPoint> turnHandle() const;
  std::vector<QPoint> corners() const;
  int cornerAt(QPoint view) const;
  std::vector<QPoint> middles() const;
  int middleAt(QPoint view) const;

  static constexpr double kHandle = 7.0;  ///< radius of a handle, logical pixels
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
  base::Id jumperRun_, jumperProp_;  ///< the run whose cable is held, the prop it is held over
  std::int64_t jumperItem_ = 0;
  std::optional<bool> jumperTurned_;
  bool jumperReversed_ = false;
  QPolygonF jumperLine_;
  QString refusal_;
  assess::AssessmentPtr before_;  ///< when the drag began
  QStringList outcome_;           ///< what the engine says of it
};

}  // namespace yw::ui
