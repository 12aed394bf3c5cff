#pragma once
#include <optional>
#include <vector>

#include "core/base/two_tapes.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// A place by two tapes from two fixed points: click them (or walk them with Page Up and Page Down and press
/// Enter), type both lengths, choose the side. It lies over another tool, which gets the place as if it had
/// been clicked; over selecting it moves the one thing that is selected. The fixed points are kept for the
/// next place; Backspace in an empty field chooses others.
class TapeTool : public PointTool {
  Q_OBJECT
 public:
  /// `below`: the tool that wants the place; null: what is selected is moved.
  TapeTool(CanvasView& view, std::unique_ptr<Tool> below);
  ~TapeTool() override;
  QString name() const override;
  QString status() const override;
  void start() override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  void doubleClick(const ToolEvent&) override {}
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  void yardChanged() override;
  /// Where the place would be now; nothing before both lengths meet.
  std::optional<QPointF> candidate() const;
  /// What stands beside the pointer.
  QStringList note() const;

 private:
  bool choosingPoints() const { return points_.size() < 2; }
  void ask();
  void entered(base::Length typed);
  void backToPoints();
  void walk(int by);
  void solve();
  void give();
  void giveBack();
  base::Length usualError() const;

  std::unique_ptr<Tool> below_;
  base::Id moved_;
  std::vector<CatchPoint> points_;  ///< fixed points
  std::vector<base::Length> tapes_;
  std::optional<base::TapedPlaces> places_;
  QString refusal_;
  bool askingError_ = false;
  std::optional<bool> left_;  ///< side by key; none: the one nearer to the pointer
  int walked_ = -1;
  std::vector<CatchPoint> walk_;
  Snapped snapped_;
  ToolEvent last_;
};

}  // namespace yw::ui
