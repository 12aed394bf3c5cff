#pragma once
#include <optional>

#include "core/routes/routes.h"

namespace yw::routes {

/// Where a cable ends: its place and what it hangs on.
struct EndPlace {
  Vec3 at;
  Id wall;             ///< on this wall; none: over the ground
  Id prop;             ///< on this prop
  bool known = false;  ///< false: the record is gone or stands in no box
};
EndPlace endPlace(const yard::Yard& yard, const Shapes& shapes, const yard::Terminal& terminal);

/// Pixel range of a stretch, drawn into what the prop has: first and last, 1-based, first <= last. {1, 0}:
/// none.
yard::Range rangeOf(const yard::RunItem& item, const Shapes& shapes);
/// Where data enters and leaves a stretch.
yard::Terminal entryOf(const yard::RunItem& item, const Shapes& shapes);
yard::Terminal exitOf(const yard::RunItem& item, const Shapes& shapes);

/// How a cable lies between two ends.
struct Lie {
  std::vector<Vec3> path;
  std::vector<Lay> lays;                          ///< of the piece from each place to the next
  double planLength = 0.0, verticalLength = 0.0;  ///< m
  bool blocked = false;
  bool onGround = false;  ///< it runs along the ground, so walks are crossed and keep-outs entered
};
/// Ends nearer than this are joined straight, m. Common practice, no source: what the tails of two strings
/// span.
inline constexpr double kTouching = 0.6;
/// The rule, first that fits:
///  1. ends nearer than kTouching, both on one prop, or an end that is not known: straight from end to end;
///  2. both on one wall, or on two walls that meet: along the wall at the height of the higher end, and
///  straight up
///     or down at the lower one;
///  3. else down to the ground, the shortest way along it, and up again; both legs count.
/// Places the person put on the way always mean 3. A way over the ground that comes to more than `most`
/// metres with its legs gives way to the shortest one.
Lie lie(const yard::Yard& yard, const Ground& ground, const EndPlace& from, const EndPlace& to,
        const std::vector<Vec2>& via, double most = Ground::kAnyLength);

/// Walks and drives without provision that a way over the ground crosses outside a trench.
std::vector<Id> crossedBy(const Ground& ground, const Lie& lie);

/// The part of `whole` between two shares of its length, 0..1.
Lie partOf(const Lie& whole, double from, double to);

}  // namespace yw::routes
