#pragma once
#include <vector>

#include "core/edit/change.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// Brings a picture to scale, the yard's or that of a wall face-on: click both ends of something whose length
/// is known and type it. Then a third distance, typed from the tape, says how far the picture can be trusted.
class PhotoScaleTool : public PointTool {
  Q_OBJECT
 public:
  /// `wall`: whose picture; none: the yard's. `check`: the scale stands, only the third distance is asked.
  explicit PhotoScaleTool(CanvasView& view, base::Id wall = {}, bool check = false);
  /// Moves the picture instead: a click on a place of it, then one where that place belongs.
  void moveInstead() { moving_ = true; }
  QString name() const override;
  QString status() const override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;

 private:
  void entered(base::Length typed);
  void scale(base::Point from, base::Point to, base::Length typed);
  void movePhoto();
  void check(base::Point from, base::Point to, base::Length typed);
  bool hasPhoto() const;
  base::Id wall_;
  bool checking_ = false, moving_ = false;
  std::vector<QPointF> places_;
  ToolEvent last_;
};

/// The Site with its picture scaled so that from..to is `distance`, keeping `from` where it is.
yard::Site scaledPhoto(const yard::Site& site, base::Point from, base::Point to, base::Length distance);
/// The same of a wall's picture, in the wall's frame.
yard::Wall scaledPhoto(const yard::Wall& wall, base::Point from, base::Point to, base::Length distance);

}  // namespace yw::ui
