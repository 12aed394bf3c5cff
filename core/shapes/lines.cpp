#include "core/shapes/lines.h"

#include <algorithm>
#include <cmath>

#include "core/shapes/sizes.h"

namespace yw::shapes {

const std::vector<Vec2>& circlePoints() {
  static const std::vector<Vec2> all = [] {
    std::vector<Vec2> points;
    for (int i = 0; i <= 48; ++i) points.push_back({std::cos(kPi * i / 24), std::sin(kPi * i / 24)});
    return points;
  }();
  return all;
}

Vec3 Arc::at(double angle) const {
  return {centre.x + radius * std::cos(angle), centre.y, centre.z + radius * std::sin(angle)};
}

std::vector<Vec3> Arc::line() const {
  std::vector<Vec3> points;
  if (from == 0 && to == 2 * kPi) {
    for (const Vec2 on : circlePoints())
      points.push_back({centre.x + radius * on.x, centre.y, centre.z + radius * on.y});
    return points;
  }
  const int steps = std::max(2, static_cast<int>(std::ceil(std::abs(to - from) / (kPi / 24))));
  for (int i = 0; i <= steps; ++i) points.push_back(at(from + (to - from) * i / steps));
  return points;
}

std::vector<Vec3> Ring::line() const { return Arc{centre, radius, 0, 2 * kPi}.line(); }

namespace {

/// Hours at the quarters anticlockwise from 3 o'clock.
constexpr int kHours[] = {3, 12, 9, 6};

int mirrored(int hour) { return hour == 3 || hour == 9 ? 12 - hour : hour; }

/// Quarters of a turn from 3 o'clock anticlockwise.
int quartersTo(int hour) { return static_cast<int>(std::find(kHours, kHours + 4, hour) - kHours); }

}  // namespace

void addRing(ShapeBuilder& build, const Ring& ring) {
  // A clockwise ring is the mirror image of an anticlockwise one that starts at the mirrored hour.
  const auto shown = [&](int hour) { return std::to_string(ring.clockwise ? mirrored(hour) : hour); };
  const std::string prefix = ring.name.empty() ? "" : ring.name + ", ";
  const std::string whole = ring.name.empty() ? "ring" : ring.name;
  const std::int64_t n = ring.pixels;
  const int startQuarter = quartersTo(ring.clockwise ? mirrored(ring.startHour) : ring.startHour);
  const std::int64_t start = (startQuarter * n + 1) / 4;  // least j with 4j + 2 >= startQuarter * n
  int quarter = -1;
  for (std::int64_t i = 0; i < n; ++i) {
    const std::int64_t j =
        (start + i) % n;  // the j-th of the ring stands at (j + 1/2) pitches from 3 o'clock
    const int here = static_cast<int>((4 * j + 2) / n);
    if (!ring.oneRow && here != quarter) {
      if (quarter >= 0) build.endRow(prefix + shown(kHours[(quarter + 1) % 4]) + " o'clock");
      build.startRow(prefix + shown(kHours[here]) + " to " + shown(kHours[(here + 1) % 4]) + " o'clock");
      quarter = here;
    } else if (ring.oneRow && i == 0) {
      build.startRow(whole);
    }
    const double angle = 2 * kPi * (static_cast<double>(j) + 0.5) / static_cast<double>(n);
    const double x = ring.radius * std::cos(angle);
    build.add({ring.centre.x + (ring.clockwise ? -x : x), ring.centre.y,
               ring.centre.z + ring.radius * std::sin(angle)});
  }
  if (ring.oneRow)
    build.endRow(whole + ", " + std::to_string(ring.startHour) + " o'clock");
  else
    build.endRow(prefix + shown(kHours[(quarter + 1) % 4]) + " o'clock");
}

ChoiceInfo startHourChoice() {
  return {"start",
          "Starts at",
          {{"6", "6 o'clock, leads hidden"}, {"3", "3 o'clock"}, {"9", "9 o'clock"}, {"12", "12 o'clock"}}};
}

int startHourOf(const yard::Prop& prop) {
  const Sizes size(prop);
  for (const int hour : {12, 3, 9})
    if (size.chosen("start", std::to_string(hour))) return hour;
  return 6;
}

Polyline::Polyline(std::vector<Vec3> points, bool closed) : points_(std::move(points)), along_{0.0} {
  if (closed) points_.push_back(points_.front());
  for (std::size_t i = 1; i < points_.size(); ++i)
    along_.push_back(along_.back() + base::distance(points_[i - 1], points_[i]));
}

Vec3 Polyline::at(double distance) const {
  const auto after = std::upper_bound(along_.begin() + 1, along_.end() - 1, distance);
  const auto side = static_cast<std::size_t>(after - along_.begin()) - 1;
  const double t = (distance - along_[side]) / sideLength(side);
  return points_[side] + (points_[side + 1] - points_[side]) * t;
}

}  // namespace yw::shapes
