#pragma once
#include <QStringList>
#include <QTimer>
#include <optional>

#include "core/propose/propose.h"
#include "ui/canvas/tools/tool.h"

namespace yw::ui {

/// Puts a feed at a pixel: resting on any pixel of a run shows box, fuse position, wire and length as the
/// program would choose them, and the volts at the worst pixel then; a click does it. Everything can be
/// changed later in This item.
class FeedTool : public Tool {
  Q_OBJECT
 public:
  explicit FeedTool(CanvasView& view);
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void doubleClick(const ToolEvent&) override {}
  void move(const ToolEvent& event) override;
  void paint(QPainter& painter) override;
  void yardChanged() override;
  QStringList note() const;

 private:
  void propose();
  base::Id prop_, run_;
  std::int64_t pixel_ = 0, place_ = 0;  ///< of the prop, along the run
  std::optional<propose::Proposal> proposal_;
  QStringList outcome_;           ///< volts with it, as the engine has them
  std::int64_t proposedAt_ = -1;  ///< revision of the yard that it is for
  QTimer soon_;
  ToolEvent last_;
};

/// Run and place along it (1-based) of a prop's pixel; {none, 0} if no run reaches it.
std::pair<base::Id, std::int64_t> runPlaceOf(const assess::Assessment& a, base::Id prop, std::int64_t pixel);

}  // namespace yw::ui
