#include "ui/canvas/snapping/snapper.h"

#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/look.h"

namespace yw::ui {

using base::Id;

namespace {

double apart(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }

QString named(const char* key, const yard::Yard& yard, Id id) {
  return said(key, {{"what", yard::labelOf(yard, id)}});
}

}  // namespace

void Snapper::addEqualGaps(QPointF near, std::size_t most) {
  std::vector<CatchPoint> centers;
  for (const CatchPoint& point : points_)
    if (point.kind == Catch::Center) centers.push_back(point);
  std::stable_sort(centers.begin(), centers.end(), [&](const CatchPoint& a, const CatchPoint& b) {
    return apart(a.at, near) < apart(b.at, near);
  });
  if (centers.size() > most) centers.resize(most);
  const QString name = said("canvas_catch_gap");
  for (std::size_t i = 0; i < centers.size(); ++i)
    for (std::size_t j = i + 1; j < centers.size(); ++j) {
      const QPointF a = centers[i].at, b = centers[j].at;
      points_.push_back({(a + b) / 2.0, Catch::EqualGap, name});
      points_.push_back({b + (b - a), Catch::EqualGap, name});
      points_.push_back({a + (a - b), Catch::EqualGap, name});
    }
}

Snapped Snapper::snap(QPointF wanted, double reach) const {
  Snapped best{wanted, false, Catch::Grid, {}, {}};
  double nearest = reach;
  for (const CatchPoint& point : points_) {
    const double away = apart(point.at, wanted);
    if (away > nearest || (best.caught && away == nearest && point.kind >= best.kind)) continue;
    nearest = away;
    best = {point.at, true, point.kind, point.name, {}};
  }
  if (best.caught) return best;
  if (auto line = inLine(wanted, reach * 0.6)) return *line;
  if (grid_ > 0) {
    const QPointF at(std::round(wanted.x() / grid_) * grid_, std::round(wanted.y() / grid_) * grid_);
    return {at, true, Catch::Grid, gridName_, {}};
  }
  return best;
}

/// Level with one center, straight above or below another, or both.
std::optional<Snapped> Snapper::inLine(QPointF wanted, double reach) const {
  const CatchPoint* level = nullptr;
  const CatchPoint* plumb = nullptr;
  for (const CatchPoint& point : points_) {
    if (point.kind != Catch::Center) continue;
    const double dy = std::abs(point.at.y() - wanted.y()), dx = std::abs(point.at.x() - wanted.x());
    if (dy <= reach && (!level || dy < std::abs(level->at.y() - wanted.y()))) level = &point;
    if (dx <= reach && (!plumb || dx < std::abs(plumb->at.x() - wanted.x()))) plumb = &point;
  }
  if (!level && !plumb) return std::nullopt;
  Snapped snapped{wanted, true, Catch::InLine, {}, {}};
  if (level) {
    snapped.at.setY(level->at.y());
    snapped.guides.push_back(level->at);
  }
  if (plumb) {
    snapped.at.setX(plumb->at.x());
    snapped.guides.push_back(plumb->at);
  }
  snapped.name = said("canvas_catch_line");
  return snapped;
}

std::vector<CatchPoint> planCatches(const yard::Yard& yard, const std::set<Id>& without) {
  std::vector<CatchPoint> points;
  for (const auto& [id, record] : yard.records) {
    if (without.contains(id)) continue;
    if (const auto* feature = std::get_if<yard::GroundFeature>(record.get())) {
      const QString name = named("canvas_catch_end", yard, id);
      for (const base::Point& p : feature->outline) points.push_back({toScene(p), Catch::End, name});
    } else if (const auto place = edits::planPlace(yard, id)) {
      if (const auto* prop = std::get_if<yard::Prop>(record.get());
          prop && !prop->wall && prop->path.size() > 1) {
        const double turn = base::radians(prop->heading), c = std::cos(turn), s = std::sin(turn);
        const base::Vec2 way = base::vec(prop->path.back());
        const base::Vec2 end = base::vec(prop->at) + base::Vec2{way.x * c - way.y * s, way.x * s + way.y * c};
        points.push_back({toScene(base::point(end)), Catch::End, named("canvas_catch_line_end", yard, id)});
      }
      points.push_back({toScene(*place), Catch::Center, named("canvas_catch_center", yard, id)});
    }
  }
  return points;
}

std::vector<CatchPoint> wallCatches(const yard::Yard& yard, Id wallId, const std::set<Id>& without) {
  std::vector<CatchPoint> points;
  const auto* wall = yard::find<yard::Wall>(yard, wallId);
  if (!wall) return points;
  const QString corner = named("canvas_catch_end", yard, wallId);
  const base::Length length = base::toLength({base::distance(base::vec(wall->from), base::vec(wall->to))});
  for (const base::Point p : {base::Point{}, base::Point{length, {}}, base::Point{{}, wall->eaveHeight},
                              base::Point{length, wall->eaveHeight}})
    points.push_back({toScene(p), Catch::End, corner});
  for (const yard::Opening& opening : wall->openings) {
    const QString name = opening.name.empty() ? said("canvas_catch_opening")
                                              : said("canvas_catch_end", {{"what", opening.name}});
    for (const base::Point p : {opening.at, opening.at + base::Point{opening.width, {}},
                                opening.at + base::Point{{}, opening.height},
                                opening.at + base::Point{opening.width, opening.height}})
      points.push_back({toScene(p), Catch::End, name});
    points.push_back(
        {toScene(opening.at + base::Point{{opening.width.count / 2}, {opening.height.count / 2}}),
         Catch::Center, name});
  }
  for (const auto& [id, prop] : yard::all<yard::Prop>(yard))
    if (prop->wall == wallId && !without.contains(id))
      points.push_back({toScene(prop->at + base::Point{{}, prop->base}), Catch::Center,
                        named("canvas_catch_center", yard, id)});
  return points;
}

GridStep gridStep(double scale, double least, base::UnitSystem units) {
  const bool feet = units == base::UnitSystem::FeetInches;
  static constexpr std::int64_t inchSteps[] = {1, 3, 6, 12, 24, 60, 120, 240, 600, 1200};
  static constexpr std::int64_t millimetreSteps[] = {10, 50, 100, 250, 500, 1000, 2000, 5000, 10'000, 50'000};
  for (int i = 0; i < 10; ++i) {
    const base::Length step = feet ? base::inches(inchSteps[i]) : base::millimetres(millimetreSteps[i]);
    const double mm = base::metres(step).si * 1e3;
    if (mm * scale >= least || i == 9) return {mm, said("canvas_catch_grid", {{"step", step}}, units)};
  }
  return {0.0, {}};
}

}  // namespace yw::ui
