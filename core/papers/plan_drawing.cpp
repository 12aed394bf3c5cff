#include "core/papers/plan_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/papers/label_placer.h"
#include "core/routes/obstacles.h"

namespace yw::papers {
namespace {

using base::Vec2;
using Weight = Occupancy::Weight;

constexpr double kMostCableGap = 14.0;                 // mm a lead's name may step aside
constexpr double kBoxSide = 3.6, kOutletRadius = 1.3;  // mm, signs on the plan

std::vector<Mm> circle(Mm c, double r) {
  std::vector<Mm> points;
  for (int i = 0; i < 20; ++i) {
    const double angle = i * std::numbers::pi / 10.0;
    points.push_back({c.x + r * std::cos(angle), c.y - r * std::sin(angle)});
  }
  return points;
}

Rect boundsOf(const std::vector<Mm>& points) {
  if (points.empty()) return {};
  double x0 = points[0].x, x1 = x0, y0 = points[0].y, y1 = y0;
  for (const Mm p : points) {
    x0 = std::min(x0, p.x);
    x1 = std::max(x1, p.x);
    y0 = std::min(y0, p.y);
    y1 = std::max(y1, p.y);
  }
  return {x0, y0, x1 - x0, y1 - y0};
}

bool overlap(const Rect& a, const Rect& b) {
  return a.x <= b.right() && b.x <= a.right() && a.y <= b.bottom() && b.y <= a.bottom();
}

class PlanDrawer {
 public:
  PlanDrawer(const Digest& d, const PlanView& view, const PlanStyle& style)
      : d_(d), view_(view), style_(style), scale_(view), taken_(scale_.frame()) {}

  PlanDrawing draw() {
    Sketch(out_.items, {}).clip(scale_.frame());
    for (const auto& [id, feature] : yard::all<yard::GroundFeature>(d_.y)) ground(id, *feature);
    for (const auto& [id, wall] : yard::all<yard::Wall>(d_.y)) drawWall(id, *wall);
    if (view_.cables) cables();
    for (const auto& [id, prop] : yard::all<yard::Prop>(d_.y)) drawProp(id);
    signs();
    if (view_.labels) labels();
    Sketch(out_.items, {}).endClip();
    return std::move(out_);
  }

 private:
  Sketch sketch(Id record) { return {out_.items, record}; }
  std::vector<Mm> onPage(const std::vector<base::Point>& points) const {
    std::vector<Mm> out;
    for (const base::Point p : points) out.push_back(scale_.at(p));
    return out;
  }
  std::vector<Mm> onPage(const std::vector<Vec2>& points) const {
    std::vector<Mm> out;
    for (const Vec2 p : points) out.push_back(scale_.at(p));
    return out;
  }
  void take(const std::vector<Mm>& line, bool closed, double half, Weight weight) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) taken_.markLine(line[i], line[i + 1], half, weight);
    if (closed && line.size() > 2) taken_.markLine(line.back(), line.front(), half, weight);
  }

  void ground(Id id, const yard::GroundFeature& feature) {
    const std::vector<Mm> points = onPage(feature.outline);
    if (points.size() < 2) return;
    Sketch s = sketch(id);
    switch (feature.kind) {
      case yard::FeatureKind::House:
        s.area(points, {Role::House, 0.5});
        break;
      case yard::FeatureKind::Walk:
      case yard::FeatureKind::Drive:
      case yard::FeatureKind::Bed:
      case yard::FeatureKind::Water:
        s.hatched(points, {Role::Ground, 0.25});
        break;
      case yard::FeatureKind::Tree:
        tree(s, points);
        break;
      case yard::FeatureKind::Fence:
        s.line(points, {Role::Ink, 0.35, Dash::Short});
        break;
      case yard::FeatureKind::Trench:
        s.line(points, {Role::Ground, 1.2});  // wide, so that it shows beside the cables in it
        break;
      case yard::FeatureKind::LotLine:
        s.line(points, {Role::Ink, 0.35, Dash::LongDot});
        break;
      case yard::FeatureKind::KeepOut:
      case yard::FeatureKind::PublicStrip:
      case yard::FeatureKind::SightTriangle:
        s.hatched(points, {Role::KeepOut, 0.35});
        break;
      case yard::FeatureKind::BuriedLine:
        for (const auto& rings :
             routes::stripAlong(routes::withoutRepeats(feature.outline), routes::toleranceOf(feature))) {
          std::vector<Mm> strip;
          for (const routes::Spot spot : rings.front()) strip.push_back(scale_.at(routes::vecOf(spot)));
          s.hatched(strip, {Role::KeepOut, 0.13});
        }
        s.line(points, {Role::KeepOut, 0.35, Dash::Long});
        break;
    }
    take(points, !yard::isLine(feature.kind), 0.3, Weight::Soft);
  }

  void tree(Sketch& s, const std::vector<Mm>& points) {
    s.area(points, {Role::Ground, 0.35});
    const Mm c = boundsOf(points).center();
    s.line({{c.x - 1, c.y}, {c.x + 1, c.y}}, {Role::Ground, 0.25});
    s.line({{c.x, c.y - 1}, {c.x, c.y + 1}}, {Role::Ground, 0.25});
  }

  void drawWall(Id id, const yard::Wall& wall) {
    const std::vector<Mm> points{scale_.at(wall.from), scale_.at(wall.to)};
    sketch(id).line(points, {Role::House, 0.5});
    take(points, false, 0.4, Weight::Soft);
  }

  bool cableWanted(const routes::RoutedCable& cable) const {
    if (!style_.onlyShown) return true;
    return style_.cablesOf.contains(cable.key.of) || style_.cablesOf.contains(cable.record);
  }

  std::vector<Mm> pathOf(const routes::RoutedCable& cable) const {
    std::vector<Mm> points;
    for (const base::Vec3 p : cable.path) {
      const Mm q = scale_.at(base::plan(p));
      if (points.empty() || std::hypot(q.x - points.back().x, q.y - points.back().y) > 1e-6)
        points.push_back(q);
    }
    if (cable.key.role == routes::CableRole::Feed) std::reverse(points.begin(), points.end());
    return points;
  }

  void cables() {
    for (const auto& [key, cable] : d_.a.routes.cables) {
      if (!cableWanted(cable)) continue;
      const std::vector<Mm> points = pathOf(cable);
      if (points.size() < 2) continue;
      Pen pen = cablePen(key.role);
      if (cable.blocked) pen.role = Role::Danger;
      Sketch s = sketch(cable.record ? cable.record : key.of);
      s.line(points, pen, key.role == routes::CableRole::Feed);
      inLineSign(s, points.back(), routes::leadsTo(d_.y, key));
      take(points, false, 0.4, Weight::Soft);
    }
  }

  void drawProp(Id id) {
    Sketch s = sketch(id);
    const bool heavy = style_.shown.contains(id);
    const Pen pen{heavy ? Role::Accent : Role::Frame, heavy ? 0.7 : 0.35};
    for (const std::vector<Vec2>& line : planLines(d_, id)) {
      const std::vector<Mm> points = onPage(line);
      if (points.size() < 2) continue;
      s.line(points, pen);
      take(points, false, 0.4, Weight::Hard);
    }
    if (!view_.pixels && !style_.shown.contains(id)) return;  // its lines are enough
    const std::vector<Mm> pixels = onPage(planPixels(d_, id));
    if (view_.pixels && !pixels.empty())
      s.cloud(pixels, Role::Pixel, std::clamp(view_.scale * 0.03, 0.35, 1.2));
    for (const Mm p : pixels) taken_.markRect({p.x - 0.5, p.y - 0.5, 1.0, 1.0}, Weight::Hard);
  }

  Mm placeOf(yard::TerminalKind kind, Id id) const {
    return scale_.at(base::plan(routes::placeOf(d_.y, d_.a.shapes, {kind, id, 0})));
  }

  void signs() {
    for (const auto& [id, outlet] : yard::all<yard::Outlet>(d_.y)) outletSign(id, scale_.at(outlet->at));
    for (const auto& [id, point] : yard::all<yard::AudiencePoint>(d_.y)) audienceSign(id, *point);
    for (const auto& [id, box] : yard::all<yard::Box>(d_.y))
      boxSign(id, placeOf(yard::TerminalKind::Box, id));
  }

  void outletSign(Id id, Mm c) {
    Sketch s = sketch(id);
    s.filled(circle(c, kOutletRadius), Role::Paper);
    s.area(circle(c, kOutletRadius), {Role::MainsCable, 0.35});
    s.line({{c.x - 0.45, c.y - 0.6}, {c.x - 0.45, c.y + 0.6}}, {Role::MainsCable, 0.25});
    s.line({{c.x + 0.45, c.y - 0.6}, {c.x + 0.45, c.y + 0.6}}, {Role::MainsCable, 0.25});
    taken_.markRect({c.x - kOutletRadius, c.y - kOutletRadius, 2 * kOutletRadius, 2 * kOutletRadius},
                    Weight::Hard);
  }

  void boxSign(Id id, Mm c) {
    Sketch s = sketch(id);
    const Rect r{c.x - kBoxSide / 2, c.y - kBoxSide / 2, kBoxSide, kBoxSide};
    const bool heavy = style_.shown.contains(id);
    s.filled(r.corners(), heavy ? Role::Accent : Role::Paper);
    s.rect(r, {heavy ? Role::Accent : Role::Ink, 0.5});
    if (!heavy) s.line({{r.x, r.y}, {r.right(), r.bottom()}}, {Role::Ink, 0.35});
    taken_.markRect(r, Weight::Hard);
  }

  void audienceSign(Id id, const yard::AudiencePoint& point) {
    const Mm c = scale_.at(point.at);
    const double turn = base::radians(point.facing) + std::numbers::pi / 2;  // 0 looks up the plan
    Sketch s = sketch(id);
    for (const double spread : {-0.35, 0.35})
      s.line({c, {c.x + 5.0 * std::cos(turn + spread), c.y - 5.0 * std::sin(turn + spread)}},
             {Role::SecondInk, 0.25});
    s.area(circle(c, 0.8), {Role::SecondInk, 0.35});
    taken_.markRect({c.x - 1.2, c.y - 1.2, 2.4, 2.4}, Weight::Hard);
  }

  // --- labels ---

  bool labelWanted(Id id) const { return !style_.onlyShown || style_.shown.contains(id); }

  void beside(Id id, const Rect& target, const std::vector<Mm>& anchors, const std::string& name, Type type,
              bool countIt = true) {
    if (!overlap(target, scale_.frame())) return;
    const std::string words = shortened(name, kWidestName, type);
    const double w = widthOf(words, type) + 0.8, h = type.size * (kCapHeight + kDescent + 0.06);
    Occupancy before = taken_;
    const PlacedLabel label = placeBeside(taken_, target, anchors, w, h, style_.mostGap);
    if (!label.clear) {
      if (countIt) ++out_.leftOff;
      taken_ = std::move(before);
      if (yard::find<yard::Box>(d_.y, id) == nullptr) return;  // a box is always named
    }
    Sketch s = sketch(id);
    if (label.leaderFrom != label.leaderTo) {
      s.line({label.leaderFrom, label.leaderTo}, {Role::Ink, 0.13});
      ++out_.leaders;
    }
    s.filled(label.box.corners(), Role::Paper);
    s.text({label.box.x + 0.4, label.box.y + type.size * (kCapHeight + 0.03)}, words, type);
  }

  void labels() {
    for (const Id id : d_.boxes()) {
      if (!labelWanted(id)) continue;
      const Mm c = placeOf(yard::TerminalKind::Box, id);
      beside(id, {c.x - kBoxSide / 2, c.y - kBoxSide / 2, kBoxSide, kBoxSide}, {}, d_.label(id),
             {std::max(style_.idSize, kTextSize), true});
    }
    if (!style_.onlyShown) reasons();
    propLabels();
    if (view_.cables && style_.cableNames && !style_.onlyShown) cableLabels();
    if (!style_.onlyShown) placeNames();
  }

  void propLabels() {
    std::vector<Id> props;
    for (const auto& [id, prop] : yard::all<yard::Prop>(d_.y))
      if (labelWanted(id)) props.push_back(id);
    std::stable_sort(props.begin(), props.end(),
                     [&](Id l, Id r) { return naturalLess(d_.label(l), d_.label(r)); });
    for (const Id id : props) {
      std::vector<Mm> anchors = onPage(planPixels(d_, id));
      for (const std::vector<Vec2>& line : planLines(d_, id))
        for (const Vec2 p : line) anchors.push_back(scale_.at(p));
      if (anchors.empty())
        anchors.push_back(
            scale_.at(base::plan(routes::placeOf(d_.y, d_.a.shapes, {yard::TerminalKind::PropIn, id, 0}))));
      const Rect target = boundsOf(anchors);
      // A long prop takes its label beside its middle, not at the end of its bounds.
      const Type type{style_.idSize, true};
      beside(id, target.w > 60 || target.h > 60 ? middleOf(anchors) : target, anchors, d_.label(id), type);
    }
  }

  static Rect middleOf(const std::vector<Mm>& anchors) {
    const Mm p = anchors[anchors.size() / 2];
    return {p.x - 0.5, p.y - 0.5, 1.0, 1.0};
  }

  void cableLabels() {
    const Type type{kNoteSize};
    for (const auto& [key, cable] : d_.a.routes.cables) {
      if (!cableWanted(cable) || cable.label.empty()) continue;
      const std::vector<Mm> points = pathOf(cable);
      if (points.size() < 2 || !overlap(boundsOf(points), scale_.frame())) continue;
      const std::string words = cable.label + "  " + d_.cutText(cable.cutLength);
      const double w = widthOf(words, type), h = type.size * (kCapHeight + kDescent);
      const Id record = cable.record ? cable.record : key.of;
      const LineLabel along = placeAlong(taken_, points, w, h);
      if (along.placed) {
        Type turned = type;
        turned.align = Align::Center;
        turned.turn = along.turn;
        sketch(record).text(along.at, words, turned);
      } else if (key.role == routes::CableRole::Lead || key.role == routes::CableRole::Feed) {
        besideCable(record, points, words, type, w, h);
      }
    }
  }

  void besideCable(Id record, const std::vector<Mm>& points, const std::string& words, Type type, double w,
                   double h) {
    const Mm middle = points[points.size() / 2];
    Occupancy before = taken_;
    const PlacedLabel label = placeBeside(taken_, {middle.x - 0.2, middle.y - 0.2, 0.4, 0.4}, points, w + 0.6,
                                          h, std::min(style_.mostGap, kMostCableGap));
    if (!label.clear) {
      taken_ = std::move(before);
      ++out_.leadsLeftOff;
      return;
    }
    Sketch s = sketch(record);
    if (label.leaderFrom != label.leaderTo) s.line({label.leaderFrom, label.leaderTo}, {Role::Ink, 0.13});
    s.text({label.box.x + 0.3, label.box.y + type.size * kCapHeight}, words, type);
  }

  static bool keptOut(const yard::GroundFeature& feature) {
    using enum yard::FeatureKind;
    return feature.kind == KeepOut || feature.kind == BuriedLine || feature.kind == PublicStrip ||
           feature.kind == SightTriangle;
  }

  /// Why a keep-out is one, along its longest edge, outside of the hatch where that is free.
  void reasons() {
    for (const auto& [id, feature] : yard::all<yard::GroundFeature>(d_.y)) {
      if (!keptOut(*feature)) continue;
      std::vector<Mm> points = onPage(feature->outline);
      if (points.size() < 2 || !overlap(boundsOf(points), scale_.frame())) continue;
      if (!yard::isLine(feature->kind)) points.push_back(points.front());
      std::string words = feature->reason.empty() ? feature->name : feature->reason;
      if (feature->kind == yard::FeatureKind::SightTriangle && feature->clearTo > feature->clearFrom)
        words = say("reason_clear", {{"reason", words},
                                     {"from", d_.height(base::metres(feature->clearFrom).si)},
                                     {"to", d_.height(base::metres(feature->clearTo).si)}});
      if (feature->tolerance)
        words = say("reason_tolerance",
                    {{"reason", words}, {"tolerance", d_.height(base::metres(feature->tolerance).si)}});
      if (words.empty()) continue;
      const Type type{kNoteSize, true, false, Align::Center};
      const double w = widthOf(words, type), h = type.size * (kCapHeight + kDescent);
      const LineLabel along = placeAlong(taken_, points, w, h);
      if (along.placed) {
        Type turned = type;
        turned.turn = along.turn;
        sketch(id).text(along.at, words, turned);
      } else {
        beside(id, boundsOf(points), points, words, {kNoteSize, true});
      }
    }
  }

  void placeNames() {
    for (const auto& [id, outlet] : yard::all<yard::Outlet>(d_.y)) {
      const Mm c = scale_.at(outlet->at);
      beside(id, {c.x - kOutletRadius, c.y - kOutletRadius, 2 * kOutletRadius, 2 * kOutletRadius}, {},
             d_.label(id), {kNoteSize});
    }
    for (const auto& [id, point] : yard::all<yard::AudiencePoint>(d_.y)) {
      const Mm c = scale_.at(point->at);
      beside(id, {c.x - 1, c.y - 1, 2, 2}, {}, d_.label(id),
             {kNoteSize, false, false, Align::Left, Role::SecondInk}, false);
    }
    for (const auto& [id, feature] : yard::all<yard::GroundFeature>(d_.y))
      if (!keptOut(*feature)) featureName(id, *feature);
  }

  void lineName(Id id, const yard::GroundFeature& feature) {
    Type type{kNoteSize, false, false, Align::Center, Role::SecondInk};
    const LineLabel along = placeAlong(taken_, onPage(feature.outline), widthOf(feature.name, type),
                                       kNoteSize * (kCapHeight + kDescent));
    if (!along.placed) return;
    type.turn = along.turn;
    sketch(id).text(along.at, feature.name, type);
  }

  /// A ground feature's name inside it, where there is room.
  void featureName(Id id, const yard::GroundFeature& feature) {
    if (feature.name.empty()) return;
    if (yard::isLine(feature.kind)) return lineName(id, feature);
    const Rect bounds = boundsOf(onPage(feature.outline));
    const Type type{kNoteSize, false, false, Align::Center, Role::SecondInk};
    const double w = widthOf(feature.name, type), h = kNoteSize;
    for (const double turn : {0.0, 90.0})
      for (const double v : {0.5, 0.35, 0.65, 0.2, 0.8})
        for (const double u : {0.5, 0.3, 0.7}) {
          const Mm c{bounds.x + bounds.w * u, bounds.y + bounds.h * v};
          const bool fits = turn == 0.0 ? bounds.w > w + 1 && bounds.h > h : bounds.h > w + 1 && bounds.w > h;
          const Occupancy::Cost cost = taken_.cost(c, w + 1, h, turn);
          if (!fits || cost.outside || cost.hard > 0 || cost.soft > 0) continue;
          taken_.markTurned(c, w, h, turn, Weight::Hard);
          Type turned = type;
          turned.turn = turn;
          const Mm base = turn == 0.0 ? Mm{c.x, c.y + h * 0.35} : Mm{c.x + h * 0.35, c.y};
          const Rect back = turn == 0.0 ? Rect{c.x - w / 2 - 0.5, c.y - h * 0.5, w + 1, h}
                                        : Rect{c.x - h * 0.5, c.y - w / 2 - 0.5, h, w + 1};
          sketch(id).filled(back.corners(), Role::Paper);
          sketch(id).text(base, feature.name, turned);
          return;
        }
  }

  const Digest& d_;
  const PlanView& view_;
  const PlanStyle& style_;
  PlanScale scale_;
  Occupancy taken_;
  PlanDrawing out_;
};

}  // namespace

void Extent::take(Vec2 p) {
  if (empty) {
    x0 = x1 = p.x;
    y0 = y1 = p.y;
    empty = false;
    return;
  }
  x0 = std::min(x0, p.x);
  x1 = std::max(x1, p.x);
  y0 = std::min(y0, p.y);
  y1 = std::max(y1, p.y);
}

Extent extentOf(const Digest& d) {
  Extent extent;
  for (const auto& [id, feature] : yard::all<yard::GroundFeature>(d.y))
    for (const base::Point p : feature->outline) extent.take(base::vec(p));
  for (const auto& [id, wall] : yard::all<yard::Wall>(d.y)) {
    extent.take(base::vec(wall->from));
    extent.take(base::vec(wall->to));
  }
  for (const auto& [id, prop] : yard::all<yard::Prop>(d.y)) {
    for (const Vec2 p : planPixels(d, id)) extent.take(p);
    for (const std::vector<Vec2>& line : planLines(d, id))
      for (const Vec2 p : line) extent.take(p);
  }
  for (const auto& [id, box] : yard::all<yard::Box>(d.y))
    extent.take(base::plan(routes::placeOf(d.y, d.a.shapes, {yard::TerminalKind::Box, id, 0})));
  for (const auto& [id, outlet] : yard::all<yard::Outlet>(d.y)) extent.take(base::vec(outlet->at));
  for (const auto& [id, point] : yard::all<yard::AudiencePoint>(d.y)) extent.take(base::vec(point->at));
  for (const auto& [key, cable] : d.a.routes.cables)
    for (const base::Vec3 p : cable.path) extent.take(base::plan(p));
  return extent;
}

std::vector<std::vector<Vec2>> planLines(const Digest& d, Id id) {
  std::vector<std::vector<Vec2>> lines;
  const auto it = d.a.shapes.find(id);
  const auto* prop = yard::find<yard::Prop>(d.y, id);
  if (it == d.a.shapes.end() || prop == nullptr) return lines;
  const shapes::Placement place = shapes::placementOf(d.y, *prop);
  for (const std::vector<base::Vec3>& frame : it->second->frame) {
    std::vector<Vec2> line;
    for (const base::Vec3 p : frame) line.push_back(base::plan(place.toYard(p)));
    lines.push_back(std::move(line));
  }
  if (!lines.empty() || it->second->footprint.size() < 2) return lines;
  std::vector<Vec2> outline;
  for (const Vec2 p : it->second->footprint) outline.push_back(base::plan(place.toYard({p.x, p.y, 0.0})));
  outline.push_back(outline.front());
  lines.push_back(std::move(outline));
  return lines;
}

std::vector<Vec2> planPixels(const Digest& d, Id id) {
  std::vector<Vec2> pixels;
  const auto it = d.a.shapes.find(id);
  const auto* prop = yard::find<yard::Prop>(d.y, id);
  if (it == d.a.shapes.end() || prop == nullptr) return pixels;
  const shapes::Placement place = shapes::placementOf(d.y, *prop);
  pixels.reserve(it->second->pixels.size());
  for (const base::Vec3 p : it->second->pixels) pixels.push_back(base::plan(place.toYard(p)));
  return pixels;
}

Pen cablePen(routes::CableRole role) {
  switch (role) {
    case routes::CableRole::Lead:
    case routes::CableRole::Jumper:
      return {Role::DataCable, 0.35, Dash::Solid};
    case routes::CableRole::Feed:
      return {Role::FeedCable, 0.6, Dash::Solid};
    case routes::CableRole::Trunk:
    case routes::CableRole::Tie:
      return {Role::FeedCable, 0.35, Dash::Dot};
    case routes::CableRole::MainsCord:
      return {Role::MainsCable, 0.5, Dash::Long};
    case routes::CableRole::ReceiverLink:
      return {Role::DataCable, 0.35, Dash::Short};
  }
  return {};
}

void inLineSign(Sketch& s, Mm at, yard::RunItemKind kind) {
  constexpr double kHalf = 1.1;  // mm
  const std::vector<Mm> diamond{
      {at.x, at.y - kHalf}, {at.x + kHalf, at.y}, {at.x, at.y + kHalf}, {at.x - kHalf, at.y}};
  if (kind == yard::RunItemKind::Booster) s.filled(diamond, Role::Ink);
  if (kind != yard::RunItemKind::NullPixel) return;
  s.filled(diamond, Role::Paper);
  s.area(diamond, {Role::Ink, 0.35});
}

PlanDrawing drawPlan(const Digest& digest, const PlanView& view, const PlanStyle& style) {
  PlanDrawing drawing = PlanDrawer(digest, view, style).draw();
  settle(drawing.items);
  return drawing;
}

std::vector<Item> plan(const assess::Assessment& assessment, const PlanView& view) {
  return drawPlan(Digest(assessment), view, {}).items;
}

}  // namespace yw::papers
