#pragma once
#include <QPointF>
#include <QString>
#include <optional>
#include <set>
#include <vector>

#include "core/yard/yard.h"

namespace yw::ui {

/// Why a place was caught; nearer the front wins where two are equally near.
enum class Catch { End, Center, EqualGap, InLine, Grid };

/// A place that can catch, in the scene, and the words that name it.
struct CatchPoint {
  QPointF at;
  Catch kind = Catch::End;
  QString name;  ///< `corner of House`, `center of Ring 3`
};

/// Where a wanted place was caught, or the wanted place itself (`caught` false).
struct Snapped {
  QPointF at;
  bool caught = false;
  Catch kind = Catch::Grid;
  QString name;
  std::vector<QPointF> guides;  ///< the places it is in line with
};

/// Answers 'which place does the hand mean?' for every tool. Knows no view: millimetres of scene throughout.
class Snapper {
 public:
  void setPoints(std::vector<CatchPoint> points) { points_ = std::move(points); }
  void addPoint(CatchPoint point) { points_.push_back(std::move(point)); }
  /// Adds places that keep an equal gap: as far beyond one center as the next is, and half way between two.
  void addEqualGaps(QPointF near, std::size_t most = 12);
  /// 0: no grid. `name` is how the step reads, `1′`.
  void setGrid(double step, QString name) { grid_ = step, gridName_ = std::move(name); }
  double grid() const { return grid_; }
  const std::vector<CatchPoint>& points() const { return points_; }

  /// The nearest catch within `reach`; places before lines, lines before the grid.
  Snapped snap(QPointF wanted, double reach) const;

 private:
  std::optional<Snapped> inLine(QPointF wanted, double reach) const;
  std::vector<CatchPoint> points_;
  double grid_ = 0.0;
  QString gridName_;
};

/// Ends and centers of everything on the plan but `without`.
std::vector<CatchPoint> planCatches(const yard::Yard& yard, const std::set<base::Id>& without);
/// Ends and centers on a wall's face: its corners, openings, and what hangs there.
std::vector<CatchPoint> wallCatches(const yard::Yard& yard, base::Id wall, const std::set<base::Id>& without);

/// A grid step that stands at least `least` logical pixels apart at `scale` pixels a mm, and how it reads.
struct GridStep {
  double step;  ///< mm
  QString name;
};
GridStep gridStep(double scale, double least, base::UnitSystem units);

}  // namespace yw::ui
