#pragma once
#include <cmath>

#include "core/base/quantity.h"

namespace yw::base {

/// A stored place on the ground plan: x east, y north of the yard's origin.
/// On a wall: x along the wall from its first end, y up from the ground.
struct Point {
  Length x, y;
  auto operator<=>(const Point&) const = default;
  Point operator+(Point o) const { return {x + o.x, y + o.y}; }
  Point operator-(Point o) const { return {x - o.x, y - o.y}; }
};

/// Computing twin of Point, metres.
struct Vec2 {
  double x = 0.0, y = 0.0;
  bool operator==(const Vec2&) const = default;
  Vec2 operator+(Vec2 o) const { return {x + o.x, y + o.y}; }
  Vec2 operator-(Vec2 o) const { return {x - o.x, y - o.y}; }
  Vec2 operator*(double k) const { return {x * k, y * k}; }
};
inline double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
inline double cross(Vec2 a, Vec2 b) { return a.x * b.y - a.y * b.x; }
inline double norm(Vec2 a) { return std::hypot(a.x, a.y); }
inline double distance(Vec2 a, Vec2 b) { return norm(b - a); }
inline Vec2 vec(Point p) { return {metres(p.x).si, metres(p.y).si}; }
inline Point point(Vec2 v) { return {toLength({v.x}), toLength({v.y})}; }

/// Metres. In the yard: x east, y north, z up. In a prop's own frame: x to the right as seen from its
/// front, y away from the viewer, z up from the ground (or from the anchor of a wall prop).
struct Vec3 {
  double x = 0.0, y = 0.0, z = 0.0;
  bool operator==(const Vec3&) const = default;
  Vec3 operator+(Vec3 o) const { return {x + o.x, y + o.y, z + o.z}; }
  Vec3 operator-(Vec3 o) const { return {x - o.x, y - o.y, z - o.z}; }
  Vec3 operator*(double k) const { return {x * k, y * k, z * k}; }
};
inline double norm(Vec3 a) { return std::sqrt(a.x * a.x + a.y * a.y + a.z * a.z); }
inline double distance(Vec3 a, Vec3 b) { return norm(b - a); }
inline Vec2 plan(Vec3 a) { return {a.x, a.y}; }

}  // namespace yw::base
