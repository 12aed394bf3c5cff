#pragma once
#include <QPointer>
#include <optional>

#include "ui/canvas/snapping/snapper.h"
#include "ui/canvas/tools/inline_entry.h"
#include "ui/canvas/tools/tool.h"

namespace yw::ui {

/// What tools that set places share: catching, the field for typed lengths, the pointer's last place.
class PointTool : public Tool {
  Q_OBJECT
 public:
  explicit PointTool(CanvasView& view);
  ~PointTool() override;
  void yardChanged() override { snapperScale_ = 0.0; }
  bool stop() override;

 protected:
  /// Where the hand means; Alt suspends catching.
  Snapped caught(const ToolEvent& event);
  void paintCatch(QPainter& painter, const Snapped& snapped) const;
  InlineEntry& entry() { return *entry_; }
  bool asking() const { return entry_ && entry_->asking(); }
  /// True for a key that begins a length: a digit, a dot, a bracket.
  static bool beginsLength(const QKeyEvent& event);
  base::UnitSystem units() const;
  QString lengthWords(double mm) const;

 private:
  QPointer<InlineEntry> entry_;
  Snapper snapper_;
  double snapperScale_ = 0.0;
};

/// A way turned to the nearest multiple of 15°.
QPointF constrained(QPointF way);
/// Degrees anticlockwise from level, 0 up to 360.
double angleOf(QPointF way);

}  // namespace yw::ui
