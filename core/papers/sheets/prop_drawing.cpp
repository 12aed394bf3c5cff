#include "core/papers/sheets/prop_drawing.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/base/number_text.h"
#include "core/papers/label_placer.h"

namespace yw::papers {
namespace {

using base::Vec3;
using shapes::Shape;
using Weight = Occupancy::Weight;

struct Span {
  double low = 0.0, high = 0.0;
  double size() const { return high - low; }
};

Span spanOf(const std::vector<Vec3>& points, double Vec3::*axis) {
  if (points.empty()) return {};
  Span span{points.front().*axis, points.front().*axis};
  for (const Vec3 p : points) {
    span.low = std::min(span.low, p.*axis);
    span.high = std::max(span.high, p.*axis);
  }
  return span;
}

class PropDrawer {
 public:
  PropDrawer(Sketch sketch, const Shape& shape, PropView view, const Rect& frame, const PropMarks& marks,
             base::UnitSystem units)
      : s_(sketch),
        shape_(shape),
        view_(view),
        frame_(frame),
        marks_(marks),
        first_(marks.first()),
        last_(marks.last()),
        units_(units),
        taken_(frame) {
    std::vector<Vec3> all = shape.pixels;
    for (const std::vector<Vec3>& line : shape.frame) all.insert(all.end(), line.begin(), line.end());
    x_ = spanOf(all, &Vec3::x);
    v_ = spanOf(all, view == PropView::Above ? &Vec3::y : &Vec3::z);
    const Span depth = spanOf(shape.pixels, &Vec3::y);
    middle_ = (depth.low + depth.high) / 2;
    deep_ = view != PropView::Above && depth.size() > 0.25 * std::max(x_.size(), 1e-6);
    constexpr double kRoom = 13.0;
    scale_ = std::min((frame.w - 2 * kRoom) / std::max(x_.size(), 0.02),
                      (frame.h - 2 * kRoom) / std::max(v_.size(), 0.02));
  }

  int draw() {
    ground();
    frameLines();
    string();
    pixels();
    if (marks_.dimensioned) dimensions();
    if (!marks_.rowsNumbered) ends();
    return numbers();
  }

 private:
  Mm at(Vec3 p) const {
    const double x = p.x - (x_.low + x_.high) / 2;
    const double v = (view_ == PropView::Above ? p.y : p.z) - (v_.low + v_.high) / 2;
    return {frame_.center().x + (view_ == PropView::Back ? -x : x) * scale_, frame_.center().y - v * scale_};
  }
  /// On the side of a deep prop that faces away.
  bool hidden(Vec3 p) const {
    return deep_ && (view_ == PropView::Back ? p.y < middle_ : p.y > middle_) && p.y != middle_;
  }
  bool inRun(std::int64_t pixel) const { return pixel >= first_ && pixel <= last_; }
  const Vec3& pixel(std::int64_t number) const { return shape_.pixels[static_cast<std::size_t>(number - 1)]; }
  std::int64_t count() const { return static_cast<std::int64_t>(shape_.pixels.size()); }

  void ground() {
    if (view_ == PropView::Above || v_.low > 0.3) return;
    const double y = at({0, 0, 0}).y;
    if (y < frame_.y || y > frame_.bottom()) return;
    s_.line({{frame_.x + 4, y}, {frame_.right() - 4, y}}, {Role::Ground, 0.25});
  }

  void frameLines() {
    for (const std::vector<Vec3>& line : shape_.frame) {
      std::vector<Mm> points;
      for (const Vec3 p : line) points.push_back(at(p));
      if (points.size() > 1) s_.line(std::move(points), {Role::SecondInk, 0.18});
    }
  }

  bool turned() const { return marks_.entered > marks_.left; }

  /// The way of the data from row to row; an arrow on each row.
  void string() {
    std::int64_t before = 0;
    for (const shapes::Row& row : shape_.rows) {
      if (row.first < 1 || row.last > count()) continue;
      const bool lit = inRun(row.first) || inRun(row.last);
      const Pen pen{lit ? Role::Ink : Role::SecondInk, 0.25};
      if (before > 0)
        s_.line({at(pixel(before)), at(pixel(row.first))},
                {inRun(before) && inRun(row.first) ? Role::Ink : Role::SecondInk, 0.25, Dash::Short});
      std::vector<Mm> points;
      for (std::int64_t k = row.first; k <= row.last; ++k) points.push_back(at(pixel(k)));
      for (std::size_t i = 0; i + 1 < points.size(); ++i)
        taken_.markLine(points[i], points[i + 1], 0.4, Weight::Hard);
      if (turned()) std::reverse(points.begin(), points.end());
      if (lit && points.size() > 1 && !hidden(pixel((row.first + row.last) / 2))) arrowed(points, pen);
      before = row.last;
    }
  }

  void arrowed(const std::vector<Mm>& points, Pen pen) {
    s_.line(points, pen);
    const std::size_t tip = points.size() * 3 / 5;  // past the middle, clear of the joint's number
    if (tip > 0) s_.line({points[tip - 1], points[tip]}, pen, true);
  }

  void pixels() {
    std::vector<Mm> lit, pale;
    for (std::int64_t k = 1; k <= count(); ++k) {
      const Mm p = at(pixel(k));
      (inRun(k) && !hidden(pixel(k)) ? lit : pale).push_back(p);
      taken_.markRect({p.x - 0.7, p.y - 0.7, 1.4, 1.4}, hidden(pixel(k)) ? Weight::Soft : Weight::Hard);
    }
    const double pitch =
        count() > 1 ? std::hypot(at(pixel(2)).x - at(pixel(1)).x, at(pixel(2)).y - at(pixel(1)).y) : 2.0;
    const double dot = std::clamp(pitch * 0.5, 0.4, 1.2);
    if (!pale.empty()) s_.cloud(std::move(pale), Role::Ground, dot * 0.6);
    if (!lit.empty()) s_.cloud(std::move(lit), Role::Ink, dot);
  }

  bool label(std::int64_t number, const std::string& words, Type type, bool mustStand) {
    const Mm p = at(pixel(number));
    const double w = widthOf(words, type) + 0.4, h = type.size * (kCapHeight + 0.1);
    Occupancy before = taken_;
    const PlacedLabel placed = placeBeside(taken_, {p.x - 0.8, p.y - 0.8, 1.6, 1.6}, {p}, w, h);
    if (!placed.clear && !mustStand) {
      taken_ = std::move(before);
      return false;
    }
    if (placed.leaderFrom != placed.leaderTo)
      s_.line({placed.leaderFrom, placed.leaderTo}, {Role::Ink, 0.13});
    s_.filled(placed.box.corners(), Role::Paper);
    s_.text({placed.box.x + 0.2, placed.box.y + type.size * (kCapHeight + 0.05)}, words, type);
    return true;
  }

  /// Over pixels and frame, from end to end, outside the drawing.
  void dimensions() {
    const double y = frame_.bottom() - 5.5, x = frame_.x + 7.0;
    const Vec3 low{x_.low, v_.low, v_.low}, high{x_.high, v_.high, v_.high};
    double left = at(low).x, right = at(high).x;
    if (left > right) std::swap(left, right);
    const double top = at(high).y, bottom = at(low).y;
    const Pen pen{Role::Ink, 0.18};
    constexpr double kThin = 0.005;  // metres: a line has no width worth a dimension
    const auto words = [&](double metres) { return base::lengthText(base::toLength({metres}), units_); };
    if (x_.size() > kThin) {
      s_.line({{(left + right) / 2, y}, {left, y}}, pen, true);
      s_.line({{(left + right) / 2, y}, {right, y}}, pen, true);
      for (const double edge : {left, right}) s_.line({{edge, y - 1.5}, {edge, y + 1.5}}, pen);
      s_.text({(left + right) / 2, y + 4.0}, words(x_.size()), {kNoteSize, true, false, Align::Center});
      taken_.markRect({left, y - 2, right - left, 7}, Weight::Hard);
    }
    if (v_.size() <= kThin) return;
    upright(x, top, bottom, words(v_.size()));
    // What stands clear of the ground: how far, and the pixels above it, in a line of their own.
    const Span lit = spanOf(shape_.pixels, &Vec3::z);
    constexpr double kClear = 0.05;
    if (view_ == PropView::Above || lit.low - v_.low < kClear || lit.size() <= kThin) return;
    const double low2 = at({0, 0, lit.low}).y, high2 = at({0, 0, lit.high}).y, x2 = frame_.right() - 4.0;
    constexpr double kRoomForWords = 11.0;
    if (bottom - low2 > kRoomForWords) upright(x2, low2, bottom, words(lit.low - v_.low));
    if (low2 - high2 > kRoomForWords) upright(x2, high2, low2, words(lit.size()));
  }

  void upright(double x, double top, double bottom, const std::string& words) {
    const Pen pen{Role::Ink, 0.18};
    s_.line({{x, (top + bottom) / 2}, {x, top}}, pen, true);
    s_.line({{x, (top + bottom) / 2}, {x, bottom}}, pen, true);
    for (const double edge : {top, bottom}) s_.line({{x - 1.5, edge}, {x + 1.5, edge}}, pen);
    Type type{kNoteSize, true, false, Align::Center};
    type.turn = 90;
    s_.text({x - 1.5, (top + bottom) / 2}, words, type);
    taken_.markRect({x - 5, top, 7, bottom - top}, Weight::Hard);
  }

  void ends() {
    if (first_ < 1 || last_ > count()) return;
    const Type type{kTextSize, true};
    label(marks_.entered, say("end_in"), type, true);
    label(marks_.left, say("end_out"), type, true);
    for (const auto& [number, words] : marks_.feeds) {
      if (number < 1 || number > count()) continue;
      const Mm p = at(pixel(number));
      s_.rect({p.x - 1.3, p.y - 1.3, 2.6, 2.6}, {Role::FeedCable, 0.35});
      taken_.markRect({p.x - 1.3, p.y - 1.3, 2.6, 2.6}, Weight::Hard);
      label(number, words, {kNoteSize, true}, true);
    }
  }

  /// Of the row's two ends the one farther from the middle, as seen here.
  std::int64_t outerEnd(const shapes::Row& row) const {
    const auto far = [&](std::int64_t k) {
      const Mm p = at(pixel(k)), c = frame_.center();
      return std::hypot(p.x - c.x, p.y - c.y);
    };
    return far(row.last) > far(row.first) ? row.last : row.first;
  }

  int rowNumbers() {
    constexpr std::size_t kMostRows = 60;
    const std::size_t every = (shape_.rows.size() + kMostRows - 1) / kMostRows;
    int missed = 0;
    for (std::size_t i = 0; i < shape_.rows.size(); i += every)
      if (!label(outerEnd(shape_.rows[i]), std::to_string(i + 1), {kTextSize, true}, false)) ++missed;
    return missed;
  }

  int numbers() {
    if (marks_.rowsNumbered) return rowNumbers();
    std::set<std::int64_t> wanted{first_, last_};
    const std::size_t every =
        marks_.mostNumbers == 0 ? 1
                                : std::max<std::size_t>(1, (2 * shape_.rows.size() + marks_.mostNumbers - 1) /
                                                               marks_.mostNumbers);
    for (std::size_t i = 0; i < shape_.rows.size(); i += every) {
      const shapes::Row& row = shape_.rows[i];
      if (inRun(row.first)) wanted.insert(row.first);
      if (inRun(row.last)) wanted.insert(row.last);
    }
    int missed = 0;
    const Type type{kNoteSize};
    for (const std::int64_t number : wanted) {
      if (number < 1 || number > count() || hidden(pixel(number))) continue;
      if (!label(number, std::to_string(number), type, false)) ++missed;
    }
    return missed;
  }

  Sketch s_;
  const Shape& shape_;
  PropView view_;
  Rect frame_;
  const PropMarks& marks_;
  std::int64_t first_, last_;
  base::UnitSystem units_;
  Occupancy taken_;
  Span x_, v_;
  double middle_ = 0.0, scale_ = 1.0;
  bool deep_ = false;
};

}  // namespace

std::vector<PropView> viewsOf(const Shape& shape) {
  const double wide = spanOf(shape.pixels, &Vec3::x).size(), deep = spanOf(shape.pixels, &Vec3::y).size(),
               high = spanOf(shape.pixels, &Vec3::z).size();
  if (high < 0.2 * std::max(wide, deep) && deep > high && deep > 0.05) return {PropView::Above};
  return {PropView::Front, PropView::Back};
}

double heightToWidth(const Shape& shape, PropView view) {
  const double wide = spanOf(shape.pixels, &Vec3::x).size();
  const double high = spanOf(shape.pixels, view == PropView::Above ? &Vec3::y : &Vec3::z).size();
  return high / std::max(wide, 0.02);
}

int drawPropView(Sketch sketch, const Digest& d, Id prop, PropView view, const Rect& frame,
                 const PropMarks& marks) {
  const auto* shape = lookUp(d.a.shapes, prop);
  if (shape == nullptr || (*shape)->pixels.empty()) return 0;
  return PropDrawer(sketch.of(prop), **shape, view, frame, marks, d.units).draw();
}

}  // namespace yw::papers
