#pragma once
#include "core/yard/records.h"
#include "ui/canvas/items/canvas_item.h"

namespace yw::ui {

/// House, walk, drive, bed, tree, fence, water, keep-out, buried line, public strip, sight triangle or lot
/// line, by the line weights and hatches of a site plan. What has a tolerance shows it as a band.
class FeatureItem : public CanvasItem {
 public:
  FeatureItem(const Look& look, base::Id id);
  void setFeature(const yard::GroundFeature& feature);
  const QPolygonF& line() const { return line_; }
  bool closed() const;
  /// Where something must not stand.
  bool keptOut() const;

  bool hit(QPointF scene, double reach) const override;
  QRectF extent() const override { return line_.boundingRect(); }
  bool touches(const QRectF& rect) const override;
  QRectF boundingRect() const override;
  void paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget* widget) override;

 private:
  void paintHatch(QPainter& painter) const;
  void paintTolerance(QPainter& painter) const;
  void paintOutline(QPainter& painter) const;
  void paintTicks(QPainter& painter) const;
  void paintReason(QPainter& painter) const;
  void paintName(QPainter& painter) const;

  yard::FeatureKind kind_ = yard::FeatureKind::Bed;
  QPolygonF line_;
  double tolerance_ = 0.0;  ///< mm
  QString name_, reason_;
  mutable double hatchGap_ = 0.0;  ///< the gap hatchLines_ were made for
  mutable std::vector<QLineF> hatchLines_;
};

/// A wall's foot on the plan: shown only when selected, there to be clicked.
class WallFootItem : public CanvasItem {
 public:
  WallFootItem(const Look& look, base::Id id);
  void setWall(const yard::Wall& wall);
  bool hit(QPointF scene, double reach) const override;
  QRectF extent() const override { return line_.boundingRect(); }
  bool touches(const QRectF& rect) const override;
  double weight() const override { return 1e7; }  // a house's wall never covers what stands before it
  QRectF boundingRect() const override;
  void paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget* widget) override;

 private:
  QPolygonF line_;
};

}  // namespace yw::ui
