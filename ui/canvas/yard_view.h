#pragma once
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/yard_scene.h"

namespace yw::ui {

/// The Yard: the plan, drawn to scale, on which everything is placed, wired and seen.
class YardView : public CanvasView {
  Q_OBJECT
 public:
  explicit YardView(Document& document, QWidget* parent = nullptr);

  // ---- tools, as menus and the Place strip start them
  void drawFeature(yard::FeatureKind kind);
  void placeProp(const std::string& kind);  ///< a key of shapes::kinds()
  void placeGear(yard::RecordKind kind);    ///< Box, Outlet, OtherLoad, AudiencePoint, SpotHeight
  void scalePhoto(bool check = false);      ///< or only asks for a third distance

  void addMove(edit::Editor& editor, const std::set<base::Id>& ids, base::Point by) const override;
  std::optional<QPointF> placeHere(base::Id id) const override;
  edits::Plane plane() const override { return edits::Plane::Plan; }
  bool canMoveHere(base::Id id) const override;
  bool canTurnHere(base::Id id) const override;
  std::vector<CatchPoint> catches(const std::set<base::Id>& without) const override;

 protected:
  Furniture furniture() const override;
  QPointF findingPlace(const findings::Finding& finding, bool& here) const override;
  void place(const QByteArray& what, QPointF scene) override;
};

}  // namespace yw::ui
