#pragma once
#include "core/routes/routes.h"
#include "ui/canvas/items/canvas_item.h"

namespace yw::ui {

/// One cable along its way. What a click selects: its own record, else the run, supply or receiver it belongs
/// to.
class CableItem : public CanvasItem {
 public:
  CableItem(const Look& look, const routes::RoutedCable& cable);
  static base::Id selects(const routes::RoutedCable& cable);

  const routes::CableKey& key() const { return key_; }
  const QString& label() const { return label_; }
  const QPolygonF& line() const { return line_; }
  QPointF middle() const;
  bool chosen() const { return selected(); }
  /// On the plan the path's heights are dropped; on a wall `flatten` projects it.
  void setLine(QPolygonF line);
  /// A null pixel or a booster stands at its end.
  void setEnd(yard::RunItemKind kind) { end_ = kind; }
  void setCode(std::uint8_t code);  ///< kind color of its run, kUnwired: by what it is

  bool hit(QPointF scene, double reach) const override;
  QRectF extent() const override { return line_.boundingRect(); }
  bool touches(const QRectF& rect) const override;
  double weight() const override { return 1e6; }
  QRectF boundingRect() const override;
  void paint(QPainter* painter, const QStyleOptionGraphicsItem* option, QWidget* widget) override;

 private:
  void paintEnd(QPainter& painter) const;
  void paintArrow(QPainter& painter, const QColor& ink) const;
  routes::CableKey key_;
  QString label_;
  QPolygonF line_;
  yard::RunItemKind end_ = yard::RunItemKind::Stretch;
  bool blocked_ = false;
  std::uint8_t code_ = pixel_code::kUnwired;
};

/// The cable's path without heights, places that fall together once.
QPolygonF planLine(const routes::RoutedCable& cable);

}  // namespace yw::ui
