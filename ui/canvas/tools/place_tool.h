#pragma once
#include <QByteArray>
#include <optional>
#include <string>
#include <vector>

#include "core/shapes/shape.h"
#include "core/yard/records.h"
#include "ui/canvas/items/prop_drawing.h"
#include "ui/canvas/tools/point_tool.h"

namespace yw::ui {

/// What the Place strip hands over, by click or by drag (CanvasView::kPlaceMime): a kind of prop or a piece
/// of gear.
struct PlaceWhat {
  yard::RecordKind record =
      yard::RecordKind::Prop;  ///< Prop, Box, Outlet, OtherLoad, AudiencePoint, SpotHeight
  std::string kind;            ///< of a prop: a key of shapes::kinds(), or `mine:7`, one of the person's own
  QByteArray mime() const;     ///< `prop:ring`, `prop:mine:7`, `box`
  static std::optional<PlaceWhat> fromMime(const QByteArray& data);
};

/// Sets down a prop or a piece of gear: a ghost follows the pointer, a click places it, Shift stays for more,
/// R turns it, Enter drops it where the view looks. Kinds along a path are drawn click by click, or by typed
/// lengths. On the plan, what hangs on walls is caught by the nearest wall.
class PlaceTool : public PointTool {
  Q_OBJECT
 public:
  /// `wall`: the wall seen face-on; none: the plan.
  PlaceTool(CanvasView& view, PlaceWhat what, base::Id wall = {});
  QString name() const override;
  QString status() const override;
  void start() override;
  void press(const ToolEvent& event) override;
  void move(const ToolEvent& event) override;
  void doubleClick(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  bool takesPlaces() const override { return !wall_; }
  void takePlace(QPointF scene) override;
  const PlaceWhat& what() const { return what_; }

  /// Sets it down at a place of the scene, as a drop does; false if it cannot be (a path, or no wall to hang
  /// on).
  bool placeAt(QPointF scene);

 private:
  struct Foot {  ///< where a plan place falls on a wall
    base::Id wall;
    double along = 0.0;  ///< m from its first end
    QPointF scene;
  };
  /// Drawn click by click: kinds along a path, and an own shape: upright on a wall seen face-on, flat on the
  /// plan.
  bool path() const;
  bool needsWall() const { return kind_ && kind_->onWall; }
  std::optional<Foot> footAt(QPointF scene, double reach) const;
  double heightOnWall(base::Id wall) const;
  yard::Record recordAt(QPointF scene) const;
  bool finishPath();
  bool own() const { return kind_ && kind_->name == "own"; }
  yard::OwnLine ownLine(const std::vector<QPointF>& places, base::Point zero) const;
  void drawOwn(yard::Prop& prop) const;
  void commit(yard::Record record, bool more);
  QPointF candidate() const;
  void addPlace(QPointF at);
  std::optional<base::Length> typedLength() const;

  void readMine();
  yard::Prop newProp() const;

  PlaceWhat what_;
  yard::Yard library_;  ///< of my props, if one of them is placed
  base::Id mine_;
  base::Id wall_;
  const shapes::Kind* kind_ = nullptr;
  PropDrawingPtr ghost_;
  double heading_ = 0.0;
  std::vector<QPointF> path_;
  std::vector<std::vector<QPointF>> lines_;  ///< of an own shape, drawn before the one in the hand
  Snapped snapped_;
  ToolEvent last_;
};

}  // namespace yw::ui
