#pragma once
#include <vector>

#include "core/edit/change.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// Brings the yard's picture to scale: click both ends of something whose length is known and type it. Then a
/// third distance, typed from the tape, says how far the picture can be trusted.
class PhotoScaleTool : public PointTool {
  Q_OBJECT
 public:
  explicit PhotoScaleTool(CanvasView& view);
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;

 private:
  void entered(base::Length typed);
  bool hasPhoto() const;
  bool checking_ = false;
  std::vector<QPointF> places_;
  QString verdict_;
  ToolEvent last_;
};

/// The Site with its picture scaled so that from..to is `distance`, keeping `from` where it is.
yard::Site scaledPhoto(const yard::Site& site, base::Point from, base::Point to, base::Length distance);

}  // namespace yw::ui
