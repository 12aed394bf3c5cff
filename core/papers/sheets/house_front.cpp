#include <algorithm>
#include <cmath>

#include "core/papers/label_placer.h"
#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

using base::Vec2;
using base::Vec3;
using Weight = Occupancy::Weight;

constexpr double kNear = 0.35;  // m from the wall within which a cable counts as on it

/// A wall seen from outside: x along it from its first end, y up.
class WallDrawer {
 public:
  WallDrawer(SheetPages& sheet, const Digest& d, Id id, const yard::Wall& wall)
      : sheet_(sheet), d_(d), id_(id), wall_(wall), from_(base::vec(wall.from)) {
    const Vec2 along = base::vec(wall.to) - from_;
    length_ = base::norm(along);
    along_ = length_ > 0 ? along * (1 / length_) : Vec2{1, 0};
    eave_ = base::metres(wall.eaveHeight).si;
  }

  void draw() {
    measure();
    const Rect content = sheet_.content();
    const double most = content.h - kScaleStripHeight - 6.0;
    scale_ = fittingScale(d_.units, x1_ - x0_, y1_ - y0_, content.w - 30.0, most - 24.0);
    const double height = std::clamp((y1_ - y0_) * scale_.mmPerMetre + 30.0, 60.0, most);
    frame_ = {content.x, content.y, content.w, height};
    Occupancy taken(frame_);
    sheet_.setScale(scale_.name);
    outline(taken);
    openings(taken);
    cables(taken);
    props(taken);
    boxes(taken);
    labels(taken);
    sheet_.sketch().rect(frame_, {Role::Ink, 0.25});
    sheet_.y = frame_.bottom() + 2.0;
    drawScaleStrip(sheet_, d_, scale_, {sheet_.left(), sheet_.y}, false);
    sheet_.y += kScaleStripHeight;
    schedule();
  }

 private:
  struct Label {
    Id record;
    std::string words;
    Type type;
    std::vector<Mm> anchors;
  };

  Mm at(double x, double y) const {
    const double middle = (x0_ + x1_) / 2;
    return {frame_.center().x + (x - middle) * scale_.mmPerMetre,
            frame_.bottom() - 8.0 - (y - y0_) * scale_.mmPerMetre};
  }
  Vec2 onWall(Vec3 p) const { return {base::dot(base::plan(p) - from_, along_), p.z}; }
  double offWall(Vec3 p) const { return std::abs(base::cross(along_, base::plan(p) - from_)); }

  void take(Vec2 p) {
    x0_ = std::min(x0_, p.x);
    x1_ = std::max(x1_, p.x);
    y0_ = std::min(y0_, p.y);
    y1_ = std::max(y1_, p.y);
  }

  std::vector<Id> wallProps() const {
    std::vector<Id> found;
    for (const auto& [id, prop] : yard::all<yard::Prop>(d_.y))
      if (prop->wall == id_) found.push_back(id);
    return found;
  }
  std::vector<Id> wallBoxes() const {
    std::vector<Id> found;
    for (const auto& [id, box] : yard::all<yard::Box>(d_.y))
      if (box->wall == id_) found.push_back(id);
    return found;
  }

  std::vector<Vec2> pixelsOf(Id id) const {
    std::vector<Vec2> out;
    const auto it = d_.a.shapes.find(id);
    if (it == d_.a.shapes.end()) return out;
    const shapes::Placement place = shapes::placementOf(d_.y, *yard::find<yard::Prop>(d_.y, id));
    for (const Vec3 p : it->second->pixels) out.push_back(onWall(place.toYard(p)));
    return out;
  }

  double gableRise(const yard::Opening& opening) const {
    const double stated = base::metres(opening.height).si;
    return stated > 0 ? stated
                      : base::metres(opening.width).si / 2 * static_cast<double>(wall_.pitchRise) / 12.0;
  }

  void measure() {
    x0_ = 0;
    x1_ = std::max(length_, 0.5);
    y0_ = 0;
    y1_ = std::max(eave_, 0.5);
    for (const yard::Opening& opening : wall_.openings) {
      const Vec2 a = base::vec(opening.at);
      const double rise =
          opening.kind == yard::OpeningKind::Gable ? gableRise(opening) : base::metres(opening.height).si;
      take(a);
      take({a.x + base::metres(opening.width).si, a.y + rise});
    }
    for (const Id id : wallProps())
      for (const Vec2 p : pixelsOf(id)) take(p);
  }

  void wallLine(Occupancy& taken, Id record, const std::vector<Vec2>& points, Pen pen) {
    std::vector<Mm> line;
    for (const Vec2 p : points) line.push_back(at(p.x, p.y));
    for (std::size_t i = 0; i + 1 < line.size(); ++i) taken.markLine(line[i], line[i + 1], 0.4, Weight::Soft);
    sheet_.sketch(record).line(std::move(line), pen);
  }

  void outline(Occupancy& taken) {
    wallLine(taken, id_, {{0, eave_}, {0, 0}, {length_, 0}, {length_, eave_}}, {Role::House, 0.5});
    wallLine(taken, id_, {{0, eave_}, {length_, eave_}}, {Role::House, 0.5});
    wallLine(taken, id_, {{x0_ - 1.0, 0}, {x1_ + 1.0, 0}}, {Role::Ground, 0.35});
  }

  void openings(Occupancy& taken) {
    for (const yard::Opening& o : wall_.openings) {
      const Vec2 a = base::vec(o.at);
      const double w = base::metres(o.width).si, h = base::metres(o.height).si;
      if (o.kind == yard::OpeningKind::Gable) {
        wallLine(taken, id_, {a, {a.x + w / 2, a.y + gableRise(o)}, {a.x + w, a.y}}, {Role::House, 0.5});
      } else if (o.kind == yard::OpeningKind::Eave) {
        wallLine(taken, id_, {a, {a.x + w, a.y}}, {Role::House, 0.7});
      } else {
        wallLine(taken, id_, {a, {a.x + w, a.y}, {a.x + w, a.y + h}, {a.x, a.y + h}, a}, {Role::House, 0.25});
      }
    }
  }

  void cables(Occupancy& taken) {
    for (const auto& [key, cable] : d_.a.routes.cables) {
      std::vector<Mm> line;
      const auto finish = [&] {
        if (line.size() > 1) {
          for (std::size_t i = 0; i + 1 < line.size(); ++i)
            taken.markLine(line[i], line[i + 1], 0.4, Weight::Soft);
          sheet_.sketch(cable.record ? cable.record : key.of).line(line, cablePen(key.role));
        }
        line.clear();
      };
      for (const Vec3 p : cable.path) {
        const Vec2 q = onWall(p);
        if (offWall(p) > kNear || q.x < -kNear || q.x > length_ + kNear) {
          finish();
          continue;
        }
        line.push_back(at(q.x, q.y));
      }
      finish();
    }
  }

  void props(Occupancy& taken) {
    for (const Id id : wallProps()) {
      const auto it = d_.a.shapes.find(id);
      if (it == d_.a.shapes.end()) continue;
      const shapes::Placement place = shapes::placementOf(d_.y, *yard::find<yard::Prop>(d_.y, id));
      std::vector<Mm> anchors;
      for (const std::vector<Vec3>& frame : it->second->frame) {
        std::vector<Mm> line;
        for (const Vec3 p : frame) {
          const Vec2 q = onWall(place.toYard(p));
          line.push_back(at(q.x, q.y));
        }
        for (std::size_t i = 0; i + 1 < line.size(); ++i)
          taken.markLine(line[i], line[i + 1], 0.4, Weight::Hard);
        if (line.size() > 1) sheet_.sketch(id).line(std::move(line), {Role::Frame, 0.35});
      }
      for (const Vec2 p : pixelsOf(id)) anchors.push_back(at(p.x, p.y));
      for (const Mm p : anchors) taken.markRect({p.x - 0.6, p.y - 0.6, 1.2, 1.2}, Weight::Hard);
      if (anchors.empty()) continue;
      sheet_.sketch(id).cloud(anchors, Role::Pixel, std::clamp(scale_.mmPerMetre * 0.03, 0.5, 1.4));
      ends(id, anchors);
      labels_.push_back({id, d_.label(id), {kIdSize, true}, std::move(anchors)});
    }
  }

  void ends(Id id, const std::vector<Mm>& pixels) {
    labels_.push_back({id, "1", {kNoteSize}, {pixels.front()}});
    if (pixels.size() > 1)
      labels_.push_back({id, std::to_string(pixels.size()), {kNoteSize}, {pixels.back()}});
  }

  void boxes(Occupancy& taken) {
    for (const Id id : wallBoxes()) {
      const Vec2 q = onWall(routes::placeOf(d_.y, d_.a.shapes, {yard::TerminalKind::Box, id, 0}));
      const Mm c = at(q.x, q.y);
      const Rect r{c.x - 2.4, c.y - 2.4, 4.8, 4.8};
      sheet_.sketch(id).filled(r.corners(), Role::Paper);
      sheet_.sketch(id).rect(r, {Role::Ink, 0.5});
      sheet_.sketch(id).line({{r.x, r.y}, {r.right(), r.bottom()}}, {Role::Ink, 0.35});
      taken.markRect(r, Weight::Hard);
      labels_.push_back({id, d_.label(id), {kIdSize, true}, r.corners()});
    }
  }

  void labels(Occupancy& taken) {
    std::stable_sort(labels_.begin(), labels_.end(),
                     [](const Label& l, const Label& r) { return l.type.size > r.type.size; });
    for (const Label& label : labels_) {
      double x0 = label.anchors.front().x, x1 = x0, y0 = label.anchors.front().y, y1 = y0;
      for (const Mm p : label.anchors) {
        x0 = std::min(x0, p.x);
        x1 = std::max(x1, p.x);
        y0 = std::min(y0, p.y);
        y1 = std::max(y1, p.y);
      }
      Rect target{x0, y0, x1 - x0, y1 - y0};
      if (target.w > 80 || target.h > 80) {
        const Mm p = label.anchors[label.anchors.size() / 2];
        target = {p.x, p.y, 0.1, 0.1};
      }
      const std::string words = shortened(label.words, kWidestName, label.type);
      const double w = widthOf(words, label.type) + 0.8, h = label.type.size * (kCapHeight + kDescent + 0.06);
      const PlacedLabel placed = placeBeside(taken, target, label.anchors, w, h);
      Sketch s = sheet_.sketch(label.record);
      if (placed.leaderFrom != placed.leaderTo)
        s.line({placed.leaderFrom, placed.leaderTo}, {Role::Ink, 0.13});
      s.filled(placed.box.corners(), Role::Paper);
      s.text({placed.box.x + 0.4, placed.box.y + label.type.size * (kCapHeight + 0.03)}, words, label.type);
    }
  }

  void schedule() {
    PaperTable table;
    table.column(say("head_prop")).column(say("head_plugs_into")).column(say("head_along"), Align::Right);
    table.column(say("head_lowest"), Align::Right).column(say("head_highest"), Align::Right);
    table.column(say("head_pixels"), Align::Right).column(say("head_done"), Align::Center);
    for (const Id id : wallProps()) {
      const std::vector<Vec2> pixels = pixelsOf(id);
      if (pixels.empty()) continue;
      double x = pixels.front().x, low = pixels.front().y, high = low;
      for (const Vec2 p : pixels) {
        x = std::min(x, p.x);
        low = std::min(low, p.y);
        high = std::max(high, p.y);
      }
      std::string into;
      if (const auto* wired = lookUp(d_.a.wiredIn, id))
        for (const auto& [run, item] : *wired) into += (into.empty() ? "" : ", ") + d_.label(run);
      table.row(id, {idCell(d_.label(id)), textCell(into.empty() ? say("not_wired") : into),
                     textCell(d_.height(x)), textCell(d_.height(low)), textCell(d_.height(high)),
                     textCell(std::to_string(pixels.size())), tickCell()});
    }
    if (table.rows.empty()) return;
    sheet_.heading(say("on_this_wall"), 30.0);
    ::yw::papers::draw(sheet_, table);
  }

  SheetPages& sheet_;
  const Digest& d_;
  Id id_;
  const yard::Wall& wall_;
  Vec2 from_, along_;
  double length_ = 0, eave_ = 0;
  double x0_ = 0, x1_ = 0, y0_ = 0, y1_ = 0;
  DrawingScale scale_;
  Rect frame_;
  std::vector<Label> labels_;
};

std::set<Id> carryingWalls(const Digest& d) {
  std::set<Id> used;
  for (const auto& [id, wall] : yard::all<yard::Wall>(d.y))
    if (!wall->openings.empty()) used.insert(id);
  for (const auto& [id, prop] : yard::all<yard::Prop>(d.y)) used.insert(prop->wall);
  for (const auto& [id, box] : yard::all<yard::Box>(d.y)) used.insert(box->wall);
  used.erase(Id{});
  return used;
}

/// Walls that carry something; all of them when none does.
std::vector<std::pair<Id, const yard::Wall*>> wallsToDraw(const Digest& d) {
  const std::set<Id> used = carryingWalls(d);
  std::vector<std::pair<Id, const yard::Wall*>> all = yard::all<yard::Wall>(d.y), walls;
  for (const auto& entry : all)
    if (used.contains(entry.first)) walls.push_back(entry);
  return walls.empty() ? all : walls;
}

}  // namespace

bool wallsCarry(const Digest& d) { return !carryingWalls(d).empty(); }

void fillHouseFront(SheetPages& sheet, const Digest& d) {
  bool first = true;
  for (const auto& [id, wall] : wallsToDraw(d)) {
    if (!first) sheet.newPage();
    first = false;
    sheet.setPageTitle(say("house_front_title", {{"wall", d.label(id)}}));
    WallDrawer(sheet, d, id, *wall).draw();
  }
}

}  // namespace yw::papers
