#pragma once
// What the Yard and the House front do to records, as plain changes: no Qt, no view.
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/edit/change.h"

namespace yw::ui::edits {

using base::Angle;
using base::Id;
using base::Point;
using edit::Editor;
using yard::Yard;

/// True for records that have a place of their own and are not held still.
bool canMove(const Yard& yard, Id id);
/// Props on the ground and audience points.
bool canTurn(const Yard& yard, Id id);
/// Plan place of a record that has one (a ground feature: its first corner).
std::optional<Point> planPlace(const Yard& yard, Id id);

/// Moves records over the plan. What hangs on a wall slides along it; a house takes its walls with it.
void moveOnPlan(Editor& editor, const std::set<Id>& ids, Point by);
/// Moves what hangs on one wall over that wall's face (x along, y up).
void moveOnWall(Editor& editor, Id wall, const std::set<Id>& ids, Point by);
/// Turns records anticlockwise about their own places.
void turn(Editor& editor, const std::set<Id>& ids, Angle by);

/// Which plane a way lies on: the plan, where what hangs on a wall slides along it, or a wall's face.
enum class Plane { Plan, Face };
/// Copies of the records, `by` further, with free names. Gear comes without what is plugged into it; a prop
/// comes unwired.
std::set<Id> duplicate(Editor& editor, const std::set<Id>& ids, Point by, Plane plane);

/// Where a copy goes: turned about `center`, or mirrored left to right about the line straight up through it,
/// then shifted. Headings turn along.
struct Copying {
  base::Vec2 by;
  base::Vec2 center;
  double turn = 0.0;  ///< degrees anticlockwise
  bool mirrored = false;
  base::Vec2 operator()(base::Vec2 place) const;
};
/// One copy of each record for each of `places`, and an array record for each prop that was repeated. Ids of
/// the copies.
std::set<Id> repeat(Editor& editor, const std::set<Id>& ids, const std::vector<Copying>& places, Plane plane);

/// What is read of several: `Ring 3`, `3 props`, `4 items`.
std::string called(const Yard& yard, const std::set<Id>& ids);
/// Name of a step, from a key of resources/messages whose wording has {what}: `Move 3 props`.
std::string stepName(const char* key, const Yard& yard, const std::set<Id>& ids);

/// The walls of a house outline: one for each edge, outside to the right, named by where they face.
std::vector<Id> addWalls(Editor& editor, Id house);

}  // namespace yw::ui::edits
