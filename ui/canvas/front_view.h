#pragma once
#include "ui/canvas/canvas_scene.h"
#include "ui/canvas/canvas_view.h"

namespace yw::ui {

/// Records of one wall, face-on: x along the wall, y up from the ground.
class FrontScene : public CanvasScene {
 public:
  using CanvasScene::CanvasScene;
  void setWall(base::Id wall);
  base::Id wall() const { return wall_; }

 protected:
  void syncYard() override;
  void syncAssessment() override;

 private:
  void syncHere(base::Id id, const yard::Record& record);
  base::Id wall_;
};

/// The House front: one wall seen face-on from outside, with its eaves, gables, windows, doors, what hangs on
/// it and the leads that run along it.
class FrontView : public CanvasView {
  Q_OBJECT
 public:
  explicit FrontView(Document& document, QWidget* parent = nullptr);
  void setWall(base::Id wall);
  base::Id wall() const;
  /// Begins drawing an opening by two corners.
  void drawOpening(yard::OpeningKind kind);

  void addMove(edit::Editor& editor, const std::set<base::Id>& ids, base::Point by) const override;
  std::optional<QPointF> placeHere(base::Id id) const override;
  bool canMoveHere(base::Id id) const override;
  bool canTurnHere(base::Id) const override { return false; }
  std::vector<CatchPoint> catches(const std::set<base::Id>& without) const override;

 protected:
  void drawBackground(QPainter* painter, const QRectF& rect) override;
  std::vector<LabelWish> labelWishes() const override;
  Furniture furniture() const override;
  QPointF findingPlace(const findings::Finding& finding, bool& here) const override;
  void place(const QByteArray& what, QPointF scene) override;

 private:
  FrontScene* scene_;
};

}  // namespace yw::ui
