#include <cmath>
#include <map>

#include "core/file/import/own_lines.h"

namespace yw::file {
namespace {

constexpr double kPi = 3.14159265358979323846;

struct Pair {
  int code;
  std::string_view value;
};

base::Error refused(std::string key, std::map<std::string, base::Fact> facts = {}) {
  return {base::ErrorCode::Unreadable, {std::move(key), std::move(facts)}, {}};
}

std::string_view nextLine(std::string_view& rest) {
  const std::size_t end = rest.find('\n');
  std::string_view line = rest.substr(0, end);
  rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  while (!line.empty() && (line.front() == ' ' || line.front() == '\t')) line.remove_prefix(1);
  while (!line.empty() && (line.back() == ' ' || line.back() == '\r' || line.back() == '\t'))
    line.remove_suffix(1);
  return line;
}

/// The file as pairs of a group code and its value.
base::Result<std::vector<Pair>> pairsOf(const std::string& bytes) {
  if (bytes.starts_with("AutoCAD Binary DXF")) return tl::unexpected(refused("import_dxf_binary"));
  std::vector<Pair> pairs;
  std::string_view rest = bytes;
  for (std::int64_t line = 1; !rest.empty(); line += 2) {
    double code = 0;
    const std::string_view first = nextLine(rest);
    if (first.empty() && rest.empty()) break;
    if (!readNumber(first, code) || code < -5 || code > 1071)
      return tl::unexpected(refused("import_dxf_not_one", {{"line", line}}));
    pairs.push_back({static_cast<int>(code), nextLine(rest)});
  }
  return pairs;
}

/// Metres in the drawing's unit by $INSUNITS (1 inch, 2 foot, 4 mm, 5 cm, 6 m); 0: not said.
double headerUnit(const std::vector<Pair>& pairs) {
  for (std::size_t i = 0; i + 1 < pairs.size(); ++i) {
    double unit = 0;
    if (pairs[i].code != 9 || pairs[i].value != "$INSUNITS" || !readNumber(pairs[i + 1].value, unit))
      continue;
    switch (static_cast<int>(unit)) {
      case 1:
        return 0.0254;
      case 2:
        return 0.3048;
      case 4:
        return 0.001;
      case 5:
        return 0.01;
      case 6:
        return 1;
      default:
        return 0;
    }
  }
  return 0;
}

struct Vertex {
  base::Vec2 at;
  double bulge = 0;  ///< tangent of a quarter of the arc's angle to the next vertex; left turns are positive
};

/// Adds the arc of a bulge from a to b, without a.
void addBulge(std::vector<base::Vec2>& points, base::Vec2 a, base::Vec2 b, double bulge) {
  const base::Vec2 chord = b - a;
  const double length = base::norm(chord);
  if (bulge == 0 || length == 0) {
    points.push_back(b);
    return;
  }
  const double angle = 4 * std::atan(bulge), radius = length / (2 * std::sin(angle / 2));
  const base::Vec2 left{-chord.y / length, chord.x / length};
  const base::Vec2 middle = a + chord * 0.5 + left * (radius * std::cos(angle / 2));
  const double from = std::atan2(a.y - middle.y, a.x - middle.x);
  const std::vector<base::Vec2> arc = arcPoints(middle, std::abs(radius), from, from + angle);
  points.insert(points.end(), arc.begin() + 1, arc.end());
}

yard::OwnLine polyline(const std::vector<Vertex>& vertices, bool closed) {
  std::vector<base::Vec2> points = {vertices.front().at};
  for (std::size_t i = 0; i + 1 < vertices.size(); ++i)
    addBulge(points, vertices[i].at, vertices[i + 1].at, vertices[i].bulge);
  if (closed && vertices.back().bulge != 0)
    addBulge(points, vertices.back().at, vertices.front().at, vertices.back().bulge);
  return ownLine(points, closed);
}

/// One entity's values: the last of each code, and all vertices of a light polyline.
struct Entity {
  std::string type, layer;
  std::map<int, double> numbers;
  std::vector<Vertex> vertices;
  double of(int code) const {
    const auto at = numbers.find(code);
    return at == numbers.end() ? 0.0 : at->second;
  }
};

class Reader {
 public:
  Reader(const std::vector<Pair>& pairs, double metres) : pairs_(pairs), metres_(metres) {}

  base::Result<OwnLines> read() {
    bool inside = false;
    for (std::size_t i = 0; i < pairs_.size();) {
      const Pair head = pairs_[i];
      if (head.code == 2 && head.value == "ENTITIES") inside = true;
      ++i;
      if (head.code != 0) continue;
      if (head.value == "ENDSEC") inside = false;
      if (!inside || head.value == "SECTION" || head.value == "ENDSEC") continue;
      Entity entity;
      entity.type = head.value;
      for (; i < pairs_.size() && pairs_[i].code != 0; ++i) take(entity, pairs_[i]);
      if (entity.type == "SPLINE" || entity.type == "ELLIPSE")
        return tl::unexpected(refused("import_dxf_curve", {{"what", entity.type}}));
      draw(entity);
    }
    for (const auto& [what, count] : leftOut_)
      out_.notes.push_back({"import_left_out", {{"what", what}, {"count", count}}});
    return std::move(out_);
  }

 private:
  void take(Entity& entity, const Pair& pair) const {
    if (pair.code == 8) entity.layer = std::string(pair.value);
    double value = 0;
    if (!readNumber(pair.value, value)) return;
    entity.numbers[pair.code] = value;
    if (entity.type != "LWPOLYLINE") return;
    if (pair.code == 10) entity.vertices.push_back({{value * metres_, 0}, 0});
    if (entity.vertices.empty()) return;
    if (pair.code == 20) entity.vertices.back().at.y = value * metres_;
    if (pair.code == 42) entity.vertices.back().bulge = value;
  }
  void add(yard::OwnLine line, const std::string& layer) {
    out_.lines.push_back(std::move(line));
    out_.layers.push_back(layer);
    out_.titles.emplace_back();
  }
  base::Vec2 at(const Entity& e, int x, int y) const { return {e.of(x) * metres_, e.of(y) * metres_}; }

  void draw(const Entity& e) {
    const double radius = e.of(40) * metres_;
    if (e.type == "LINE") {
      add(ownLine({at(e, 10, 20), at(e, 11, 21)}, false), e.layer);
    } else if (e.type == "CIRCLE") {
      add(ownLine(arcPoints(at(e, 10, 20), radius, 0, 2 * kPi), true), e.layer);
    } else if (e.type == "ARC") {
      const double from = e.of(50) * kPi / 180;
      double to = e.of(51) * kPi / 180;
      if (to <= from) to += 2 * kPi;  // arcs run anticlockwise
      add(ownLine(arcPoints(at(e, 10, 20), radius, from, to), false), e.layer);
    } else if (e.type == "POINT") {
      if (out_.lines.empty() || !out_.lines.back().dots) {
        add({}, e.layer);
        out_.lines.back().dots = true;
      }
      out_.lines.back().points.push_back(base::point(at(e, 10, 20)));
    } else if (e.type == "LWPOLYLINE") {
      if (!e.vertices.empty()) add(polyline(e.vertices, (static_cast<int>(e.of(70)) & 1) != 0), e.layer);
    } else if (e.type == "POLYLINE") {
      closed_ = (static_cast<int>(e.of(70)) & 1) != 0;
      open_.clear();
      openLayer_ = e.layer;
    } else if (e.type == "VERTEX") {
      open_.push_back({at(e, 10, 20), e.of(42)});
    } else if (e.type == "SEQEND") {
      if (!open_.empty()) add(polyline(open_, closed_), openLayer_);
      open_.clear();
    } else {
      ++leftOut_[e.type];
    }
  }

  const std::vector<Pair>& pairs_;
  double metres_;
  OwnLines out_;
  std::map<std::string, std::int64_t> leftOut_;
  std::vector<Vertex> open_;
  std::string openLayer_;
  bool closed_ = false;
};

}  // namespace

base::Result<OwnLines> readDxfLines(const std::string& bytes, base::LengthUnit unit) {
  const auto pairs = pairsOf(bytes);
  if (!pairs) return tl::unexpected(pairs.error());
  const double header = headerUnit(*pairs);
  auto read = Reader(*pairs, header > 0 ? header : metresIn(unit)).read();
  if (read) read->sized = header > 0;
  return read;
}

base::Result<OwnLines> readDxf(const std::string& bytes, base::LengthUnit unit) {
  auto read = readDxfLines(bytes, unit);
  return read ? checkedLines(std::move(*read)) : read;
}

}  // namespace yw::file
