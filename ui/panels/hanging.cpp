#include "ui/panels/hanging.h"

#include <algorithm>

namespace yw::ui {

namespace {

/// Plan place of a point of the wall's own frame (x along it from its first end).
base::Point onPlan(const yard::Wall& wall, base::Point own) {
  const base::Vec2 from = base::vec(wall.from), along = base::vec(wall.to) - from;
  const double length = base::norm(along);
  if (length <= 0.0) return wall.from;
  return base::point(from + along * (base::metres(own.x).si / length));
}

base::Point onWall(const yard::Wall& wall, base::Point plan, base::Length height) {
  const base::Vec2 from = base::vec(wall.from), along = base::vec(wall.to) - from;
  const double length = base::norm(along);
  const double x = length > 0.0 ? base::dot(base::vec(plan) - from, along) / length : 0.0;
  return {base::toLength({std::clamp(x, 0.0, length)}), height};
}

template <class R>
void rehang(const yard::Yard& yard, const R& before, R& after, base::Length& height) {
  if (before.wall == after.wall) return;
  base::Point plan = before.at;
  if (const auto* old = yard::find<yard::Wall>(yard, before.wall)) {
    height = before.at.y;
    plan = onPlan(*old, before.at);
  }
  const auto* wall = yard::find<yard::Wall>(yard, after.wall);
  after.at = wall ? onWall(*wall, plan, height) : plan;
}

}  // namespace

yard::Record rehung(const yard::Yard& yard, const yard::Record& before, yard::Record after) {
  if (auto* prop = std::get_if<yard::Prop>(&after)) {
    const auto& old = std::get<yard::Prop>(before);
    base::Length height = prop->base;
    rehang(yard, old, *prop, height);
    if (!prop->wall) prop->base = {};
  } else if (auto* box = std::get_if<yard::Box>(&after)) {
    rehang(yard, std::get<yard::Box>(before), *box, box->height);
  }
  return after;
}

}  // namespace yw::ui
