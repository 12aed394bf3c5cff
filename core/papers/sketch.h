#pragma once
#include <string>
#include <vector>

#include "core/papers/drawing.h"

namespace yw::papers {

using base::Id;

/// Type sizes of paper in mm of em: 16, 12 and 9 points.
inline constexpr double kIdSize = 16 * 25.4 / 72, kTextSize = 12 * 25.4 / 72, kNoteSize = 9 * 25.4 / 72;
/// Widest name that stands in a drawing, mm; longer ones are shortened there and whole in the lists.
inline constexpr double kWidestName = 62.0;
/// Base line to base line, in ems; height of a capital, in ems (B612: 1500 of 2000 units).
inline constexpr double kLineStep = 1.22, kCapHeight = 0.75, kDescent = 0.22;

struct Rect {
  double x = 0.0, y = 0.0, w = 0.0, h = 0.0;
  double right() const { return x + w; }
  double bottom() const { return y + h; }
  Mm center() const { return {x + w / 2, y + h / 2}; }
  std::vector<Mm> corners() const { return {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}; }
  Rect grown(double by) const { return {x - by, y - by, w + 2 * by, h + 2 * by}; }
};

struct Pen {
  Role role = Role::Ink;
  double width = 0.25;
  Dash dash = Dash::Solid;
};

struct Type {
  double size = kTextSize;
  bool bold = false, mono = false;
  Align align = Align::Left;
  Role role = Role::Ink;
  double turn = 0.0;
};

/// Puts items on a page for one record.
class Sketch {
 public:
  Sketch(std::vector<Item>& items, Id record) : items_(&items), record_(record) {}
  Sketch of(Id record) const { return {*items_, record}; }
  Id record() const { return record_; }

  Item& line(std::vector<Mm> points, Pen pen = {}, bool arrow = false);
  Item& area(std::vector<Mm> points, Pen pen = {});
  Item& filled(std::vector<Mm> points, Role role);
  Item& hatched(std::vector<Mm> points, Pen pen);
  Item& cloud(std::vector<Mm> points, Role role, double dot);
  /// `at` is on the base line.
  Item& text(Mm at, const std::string& words, Type type = {});
  /// Broken into lines no wider than `width`, the first base line at `at`; the y below the last line.
  double paragraph(Mm at, double width, const std::string& words, Type type = {});
  void rect(const Rect& r, Pen pen = {}) { area(r.corners(), pen); }
  /// A box for a tick, and one to write a figure in.
  void tickBox(Mm upperLeft, double side);
  void clip(const Rect& r);
  void endClip();
  /// The bar to a tick: how much of an allowance is used, the tick at 100 %. `r` ends at 125 %.
  void bar(const Rect& r, double used);

 private:
  Item& add(Item::Type type, std::vector<Mm> points, Pen pen);
  std::vector<Item>* items_;
  Id record_;
};

/// Shortened with `…` to no more than `width`.
std::string shortened(const std::string& words, double width, const Type& type);
double widthOf(const std::string& words, const Type& type);

/// Coordinates to a thousandth of a millimetre and texts as the font has them, so that every writer and every
/// machine gets the same figures.
void settle(std::vector<Item>& items);

}  // namespace yw::papers
