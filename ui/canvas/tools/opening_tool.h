#pragma once
#include <functional>

#include "core/yard/records.h"
#include "ui/canvas/tools/point_tool.h"
#include "ui/canvas/tools/select_tool.h"

namespace yw::ui {

class FrontView;

/// Draws a window, door, gable or eave on a wall's face: drag from corner to corner, or click for the usual
/// size; a digit typed meanwhile asks for exact width and height.
class OpeningTool : public PointTool {
  Q_OBJECT
 public:
  OpeningTool(FrontView& view, yard::OpeningKind kind);
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  void release(const ToolEvent& event) override;
  void doubleClick(const ToolEvent&) override {}
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;

 private:
  bool flat() const { return kind_ == yard::OpeningKind::Eave || kind_ == yard::OpeningKind::Gable; }
  yard::Opening opening() const;  ///< as dragged or typed so far
  void entered(base::Length typed);
  void finish(yard::Opening opening);
  FrontView& front_;
  yard::OpeningKind kind_;
  std::optional<QPointF> corner_;
  bool dragged_ = false;
  base::Length width_;  ///< typed
  Snapped snapped_;
  ToolEvent last_, pressed_;
};

/// Selecting on a wall's face: records as everywhere, and the openings, which are none.
class FrontSelectTool : public SelectTool {
  Q_OBJECT
 public:
  explicit FrontSelectTool(FrontView& view);
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  void release(const ToolEvent& event) override;
  void doubleClick(const ToolEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  QRect bounds() const override;

 private:
  bool onHandle(QPoint view) const;
  edit::Change change(const ToolEvent& event) const;
  FrontView& front_;
  bool mine_ = false;    ///< an opening is under the hand
  bool sizing_ = false;  ///< by its upper right corner
  bool dragging_ = false;
  ToolEvent pressed_, last_;
};

}  // namespace yw::ui
