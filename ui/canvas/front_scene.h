#pragma once
#include "ui/canvas/canvas_scene.h"
#include "ui/canvas/items/photo_item.h"
#include "ui/canvas/items/wall_item.h"

namespace yw::ui {

/// One wall face-on, with what hangs on it. Scene: x along the wall from its first end, y up from the ground,
/// flipped.
class FrontScene : public CanvasScene {
  Q_OBJECT
 public:
  using CanvasScene::CanvasScene;
  void setWall(base::Id wall);
  base::Id wall() const { return wall_; }
  WallItem* wallItem() const;
  void syncYard() override;
  void syncAssessment() override;
  /// Where a place of the yard falls on the wall's face, and how far before it (m, outside positive).
  std::pair<QPointF, double> onFace(base::Vec3 yard) const;

 private:
  void syncProp(base::Id id, const yard::Prop& prop);
  void syncMark(base::Id id, yard::RecordKind kind, base::Vec3 place);
  QPolygonF faceLine(const routes::RoutedCable& cable) const;
  void syncPhoto(const yard::Wall* wall);
  base::Id wall_;
  PhotoItem* photo_ = nullptr;  ///< owned by the scene
};

}  // namespace yw::ui
