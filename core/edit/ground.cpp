#include "core/edit/ground.h"

#include <algorithm>
#include <cmath>

#include "core/yard/labels.h"

namespace yw::edit {
namespace {

/// Where an outside faces, in words; `outward` is a plan direction, `north` the site's.
const char* facingKey(base::Vec2 outward, base::Angle north) {
  constexpr double kDegrees = 180.0 / 3.14159265358979323846;
  const double fromNorth = std::atan2(outward.y, outward.x) * kDegrees - 90.0 - base::degrees(north);
  const int quarter = static_cast<int>(std::lround(fromNorth / 90.0)) & 3;  // anticlockwise from north
  static constexpr const char* keys[] = {"canvas_wall_north", "canvas_wall_west", "canvas_wall_south",
                                         "canvas_wall_east"};
  return keys[quarter];
}

}  // namespace

yard::GroundFeature usualFeature(yard::FeatureKind kind) {
  using enum yard::FeatureKind;
  yard::GroundFeature feature;
  feature.kind = kind;
  feature.blocksLeads = kind == House || kind == Tree || kind == Water || kind == KeepOut || kind == Fence;
  if (kind == BuriedLine) feature.tolerance = base::inches(24);
  if (kind == SightTriangle) {
    feature.clearFrom = base::inches(30);
    feature.clearTo = base::feet(8);
  }
  return feature;
}

std::vector<base::Id> addWalls(Editor& editor, base::Id house) {
  const auto* feature = yard::find<yard::GroundFeature>(editor.yard(), house);
  if (!feature || feature->outline.size() < 3) return {};
  std::vector<base::Point> corners = feature->outline;
  double twice = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    twice += base::cross(base::vec(corners[i]), base::vec(corners[(i + 1) % corners.size()]));
  if (twice < 0) std::reverse(corners.begin(), corners.end());  // anticlockwise: the outside is on the right
  std::vector<base::Id> walls;
  const base::Angle north = yard::site(editor.yard()).north;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    yard::Wall wall;
    wall.feature = house;
    wall.from = corners[i];
    wall.to = corners[(i + 1) % corners.size()];
    const base::Vec2 along = base::vec(wall.to) - base::vec(wall.from);
    wall.name = yard::freeName(editor.yard(), yard::RecordKind::Wall,
                               base::text(base::Message{facingKey({along.y, -along.x}, north), {}}));
    walls.push_back(editor.add(wall));
  }
  return walls;
}

}  // namespace yw::edit
