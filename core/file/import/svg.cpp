#include <algorithm>
#include <cmath>
#include <map>
#include <pugixml.hpp>

#include "core/file/import/own_lines.h"

namespace yw::file {
namespace {

using base::Vec2;

constexpr double kPi = 3.14159265358979323846;

base::Error refused(std::string key, std::map<std::string, base::Fact> facts = {}) {
  return {base::ErrorCode::Unreadable, {std::move(key), std::move(facts)}, {}};
}

/// x' = a x + c y + e, y' = b x + d y + f (SVG 1.1, 7.4).
struct Affine {
  double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;
  Vec2 of(Vec2 p) const { return {a * p.x + c * p.y + e, b * p.x + d * p.y + f}; }
  /// This after `o`.
  Affine after(const Affine& o) const {
    return {a * o.a + c * o.b, b * o.a + d * o.b,     a * o.c + c * o.d,
            b * o.c + d * o.d, a * o.e + c * o.f + e, b * o.e + d * o.f + f};
  }
  double scale() const { return std::sqrt(std::abs(a * d - b * c)); }
};

/// Numbers, letters and signs of an SVG list.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {}
  void skip() {
    while (!text_.empty() && std::string_view(" \t\r\n,").find(text_.front()) != std::string_view::npos)
      text_.remove_prefix(1);
  }
  bool done() {
    skip();
    return text_.empty();
  }
  char peek() {
    skip();
    return text_.empty() ? '\0' : text_.front();
  }
  char letter() {
    const char c = peek();
    if (!text_.empty()) text_.remove_prefix(1);
    return c;
  }
  bool atNumber() {
    const char c = peek();
    return (c >= '0' && c <= '9') || c == '-' || c == '+' || c == '.';
  }
  bool number(double& value) {
    if (!atNumber()) return false;
    std::size_t n = 0;
    bool dot = false, exponent = false;
    for (; n < text_.size(); ++n) {
      const char c = text_[n];
      const bool sign = (c == '-' || c == '+') && (n == 0 || text_[n - 1] == 'e' || text_[n - 1] == 'E');
      if ((c >= '0' && c <= '9') || sign) continue;
      if (c == '.' && !dot && !exponent) {
        dot = true;
      } else if ((c == 'e' || c == 'E') && !exponent && n > 0) {
        exponent = true;
      } else {
        break;
      }
    }
    const bool read = readNumber(text_.substr(0, n), value);
    text_.remove_prefix(n);
    return read;
  }
  /// A flag of an arc: one digit, perhaps without a space after it.
  bool flag(double& value) {
    const char c = peek();
    if (c != '0' && c != '1') return false;
    value = c - '0';
    text_.remove_prefix(1);
    return true;
  }
  std::string_view upTo(char end) {
    const std::size_t n = text_.find(end);
    const std::string_view part = text_.substr(0, n);
    text_.remove_prefix(n == std::string_view::npos ? text_.size() : n + 1);
    return part;
  }

 private:
  std::string_view text_;
};

Affine oneTransform(std::string_view name, const std::vector<double>& v) {
  const auto of = [&](std::size_t i, double usual) { return i < v.size() ? v[i] : usual; };
  if (name == "matrix" && v.size() == 6) return {v[0], v[1], v[2], v[3], v[4], v[5]};
  if (name == "translate") return {1, 0, 0, 1, of(0, 0), of(1, 0)};
  if (name == "scale") return {of(0, 1), 0, 0, of(1, of(0, 1)), 0, 0};
  if (name == "skewX") return {1, 0, std::tan(of(0, 0) * kPi / 180), 1, 0, 0};
  if (name == "skewY") return {1, std::tan(of(0, 0) * kPi / 180), 0, 1, 0, 0};
  if (name != "rotate") return {};
  const double turn = of(0, 0) * kPi / 180, x = of(1, 0), y = of(2, 0);
  const Affine rotation{std::cos(turn), std::sin(turn), -std::sin(turn), std::cos(turn), 0, 0};
  return Affine{1, 0, 0, 1, x, y}.after(rotation).after({1, 0, 0, 1, -x, -y});
}

Affine transformOf(const char* text) {
  Affine all;
  Scanner scan(text);
  while (!scan.done()) {
    std::string_view name = scan.upTo('(');
    while (!name.empty() && name.back() == ' ') name.remove_suffix(1);
    Scanner inside(scan.upTo(')'));
    std::vector<double> values;
    for (double v = 0; inside.number(v);) values.push_back(v);
    all = all.after(oneTransform(name, values));
  }
  return all;
}

/// Lays a path of SVG 1.1, 8.3 as points in the user's units; curves in pieces as fine as `fine`.
class PathReader {
 public:
  PathReader(std::string_view text, double fine) : scan_(text), fine_(fine) {}

  struct Line {
    std::vector<Vec2> points;
    bool closed = false;
  };

  /// Nothing where the path breaks off: what stands before is drawn, as SVG asks.
  std::vector<Line> read(bool& broken) {
    char command = 'M';
    while (!scan_.done()) {
      if (!scan_.atNumber())
        command = scan_.letter();
      else if (command == 'M' || command == 'm')
        command = command == 'M' ? 'L' : 'l';
      else if (command == 'Z' || command == 'z')
        command = '?';  // a number has no meaning after a closed line
      if (!draw(command)) {
        broken = true;
        break;
      }
    }
    return std::move(lines_);
  }

 private:
  bool point(bool relative, Vec2& p) {
    if (!scan_.number(p.x) || !scan_.number(p.y)) return false;
    if (relative) p = p + at_;
    return true;
  }
  void to(Vec2 p) {
    if (lines_.empty() || lines_.back().closed) lines_.push_back({{at_}, false});
    lines_.back().points.push_back(p);
    at_ = p;
  }
  void cubic(Vec2 c1, Vec2 c2, Vec2 end) {
    const Vec2 from = at_;
    const double bend = base::norm(from - c1 * 2 + c2) + base::norm(c1 - c2 * 2 + end);
    // Pieces of 1/n stay within 3/4 bend / n^2 or so of a cubic.
    const int n = std::clamp(static_cast<int>(std::ceil(std::sqrt(bend * 0.75 / fine_))), 2, 500);
    for (int i = 1; i <= n; ++i) {
      const double t = static_cast<double>(i) / n, u = 1 - t;
      to(from * (u * u * u) + c1 * (3 * u * u * t) + c2 * (3 * u * t * t) + end * (t * t * t));
    }
    control_ = c2;
  }
  void quadratic(Vec2 c, Vec2 end) {
    const Vec2 from = at_;
    cubic(from + (c - from) * (2.0 / 3), end + (c - end) * (2.0 / 3), end);
    control_ = c;
  }
  bool arc(bool relative);

  bool draw(char command) {
    const bool relative = command >= 'a';
    Vec2 p, c1, c2;
    const char was = std::exchange(last_, static_cast<char>(relative ? command - 32 : command));
    switch (last_) {
      case 'M':
        if (!point(relative, p)) return false;
        lines_.push_back({{p}, false});
        at_ = start_ = p;
        return true;
      case 'L':
        if (!point(relative, p)) return false;
        to(p);
        return true;
      case 'H':
        if (!scan_.number(p.x)) return false;
        to({p.x + (relative ? at_.x : 0), at_.y});
        return true;
      case 'V':
        if (!scan_.number(p.y)) return false;
        to({at_.x, p.y + (relative ? at_.y : 0)});
        return true;
      case 'C':
        if (!point(relative, c1) || !point(relative, c2) || !point(relative, p)) return false;
        cubic(c1, c2, p);
        return true;
      case 'S':
        if (!point(relative, c2) || !point(relative, p)) return false;
        cubic(was == 'C' || was == 'S' ? at_ * 2 - control_ : at_, c2, p);
        return true;
      case 'Q':
        if (!point(relative, c1) || !point(relative, p)) return false;
        quadratic(c1, p);
        return true;
      case 'T':
        if (!point(relative, p)) return false;
        quadratic(was == 'Q' || was == 'T' ? at_ * 2 - control_ : at_, p);
        return true;
      case 'A':
        return arc(relative);
      case 'Z':
        if (!lines_.empty()) lines_.back().closed = true;
        at_ = start_;
        return true;
      default:
        return false;
    }
  }

  Scanner scan_;
  double fine_;
  std::vector<Line> lines_;
  Vec2 at_, start_, control_;
  char last_ = '\0';
};

/// From end points to the middle of an elliptical arc (SVG 1.1, F.6.5).
bool PathReader::arc(bool relative) {
  double rx = 0, ry = 0, turn = 0, large = 0, sweep = 0;
  Vec2 end;
  if (!scan_.number(rx) || !scan_.number(ry) || !scan_.number(turn) || !scan_.flag(large) ||
      !scan_.flag(sweep) || !point(relative, end))
    return false;
  rx = std::abs(rx);
  ry = std::abs(ry);
  if (rx == 0 || ry == 0 || end == at_) {
    to(end);
    return true;
  }
  const double cosTurn = std::cos(turn * kPi / 180), sinTurn = std::sin(turn * kPi / 180);
  const Vec2 half = (at_ - end) * 0.5;
  const Vec2 p{cosTurn * half.x + sinTurn * half.y, -sinTurn * half.x + cosTurn * half.y};
  const double need = p.x * p.x / (rx * rx) + p.y * p.y / (ry * ry);
  if (need > 1) {
    rx *= std::sqrt(need);
    ry *= std::sqrt(need);
  }
  const double below = rx * rx * p.y * p.y + ry * ry * p.x * p.x;
  double root = std::sqrt(std::max(0.0, (rx * rx * ry * ry - below) / below));
  if (large == sweep) root = -root;
  const Vec2 m{root * rx * p.y / ry, -root * ry * p.x / rx};
  const Vec2 middle = (at_ + end) * 0.5 + Vec2{cosTurn * m.x - sinTurn * m.y, sinTurn * m.x + cosTurn * m.y};
  const double from = std::atan2((p.y - m.y) / ry, (p.x - m.x) / rx);
  double angle = std::atan2((-p.y - m.y) / ry, (-p.x - m.x) / rx) - from;
  if (sweep == 0 && angle > 0) angle -= 2 * kPi;
  if (sweep != 0 && angle < 0) angle += 2 * kPi;
  const double radius = std::max(rx, ry);
  const int n = std::clamp(
      static_cast<int>(std::ceil(std::abs(angle) / (2 * std::acos(1 - std::min(1.0, fine_ / radius))))), 2,
      500);
  for (int i = 1; i <= n; ++i) {
    const double a = from + angle * i / n, x = rx * std::cos(a), y = ry * std::sin(a);
    to(i == n ? end : middle + Vec2{cosTurn * x - sinTurn * y, sinTurn * x + cosTurn * y});
  }
  return true;
}

class SvgReader {
 public:
  explicit SvgReader(double curveError) : error_(curveError) {}
  base::Result<OwnLines> read(const pugi::xml_node& svg) {
    walk(svg, rootOf(svg), {});
    for (const auto& [what, count] : leftOut_)
      out_.notes.push_back({"import_left_out", {{"what", what}, {"count", count}}});
    if (broken_ > 0) out_.notes.push_back({"import_svg_path_breaks_off", {{"count", broken_}}});
    return std::move(out_);
  }

 private:
  /// From user's units to metres, y up.
  Affine rootOf(const pugi::xml_node& svg) {
    constexpr double kCssPixel = 0.0254 / 96;  // CSS: 96 to the inch
    double scale = kCssPixel;
    double width = 0;
    Scanner box(svg.attribute("viewBox").value());
    double left = 0, top = 0, boxWidth = 0, boxHeight = 0;
    const bool boxed =
        box.number(left) && box.number(top) && box.number(boxWidth) && box.number(boxHeight) && boxWidth > 0;
    if (lengthOf(svg.attribute("width").value(), width) && boxed && width > 0)
      scale = width / boxWidth, out_.sized = true;
    else
      out_.notes.push_back({"import_svg_no_size", {}});
    return {scale, 0, 0, -scale, 0, boxed ? (top + boxHeight) * scale : 0};
  }
  static bool lengthOf(std::string_view text, double& metres) {
    static const std::map<std::string_view, double> units = {
        {"mm", 0.001},      {"cm", 0.01},        {"in", 0.0254},   {"pt", 0.0254 / 72},
        {"pc", 0.0254 / 6}, {"px", 0.0254 / 96}, {"", 0.0254 / 96}};
    std::size_t n = text.find_first_not_of("0123456789.+-eE");
    if (n == std::string_view::npos) n = text.size();
    const auto unit = units.find(text.substr(n));
    double value = 0;
    if (unit == units.end() || !readNumber(text.substr(0, n), value)) return false;
    metres = value * unit->second;
    return true;
  }

  /// What a drawing program shows as its name: the label of its layers panel, else the id.
  static std::string nameOf(const pugi::xml_node& node) {
    for (const pugi::xml_attribute& attribute : node.attributes())
      if (std::string_view(attribute.name()).ends_with(":label")) return attribute.value();
    return node.attribute("id").value();
  }
  static std::string titleOf(const pugi::xml_node& node) { return node.child("title").child_value(); }

  void walk(const pugi::xml_node& parent, const Affine& outer, const std::string& layer) {
    for (const pugi::xml_node& node : parent.children()) {
      std::string name = node.name();
      if (const std::size_t colon = name.find(':'); colon != std::string::npos) name.erase(0, colon + 1);
      const Affine here = outer.after(transformOf(node.attribute("transform").value()));
      if (name == "g" || name == "svg" || name == "a" || name == "switch")
        walk(node, here, nameOf(node).empty() ? layer : nameOf(node));
      else
        draw(name, node, here);
      while (out_.layers.size() < out_.lines.size()) {
        out_.layers.push_back(layer);
        out_.titles.push_back(titleOf(node));
      }
    }
  }
  void add(const std::vector<Vec2>& points, bool closed, const Affine& here) {
    std::vector<Vec2> metres;
    for (const Vec2 p : points) metres.push_back(here.of(p));
    if (metres.size() > 1) out_.lines.push_back(ownLine(metres, closed));
  }
  static double number(const pugi::xml_node& node, const char* name) {
    double value = 0;
    Scanner(node.attribute(name).value()).number(value);
    return value;
  }
  void ellipse(const pugi::xml_node& node, double rx, double ry, const Affine& here) {
    const double scale = std::max(here.scale(), 1e-12);
    std::vector<Vec2> points = arcPoints({0, 0}, std::max(rx, ry) * scale, 0, 2 * kPi, error_);
    const double to = std::max(rx, ry) > 0 ? 1 / (std::max(rx, ry) * scale) : 0;
    for (Vec2& p : points) p = {number(node, "cx") + p.x * to * rx, number(node, "cy") + p.y * to * ry};
    if (rx > 0 && ry > 0) add(points, true, here);
  }
  void draw(const std::string& name, const pugi::xml_node& node, const Affine& here) {
    if (name == "path") {
      bool broken = false;
      const double fine = error_ / std::max(here.scale(), 1e-12);
      for (const auto& line : PathReader(node.attribute("d").value(), fine).read(broken))
        add(line.points, line.closed, here);
      broken_ += broken;
    } else if (name == "polyline" || name == "polygon") {
      std::vector<Vec2> points;
      Scanner scan(node.attribute("points").value());
      for (Vec2 p; scan.number(p.x) && scan.number(p.y);) points.push_back(p);
      add(points, name == "polygon", here);
    } else if (name == "line") {
      add({{number(node, "x1"), number(node, "y1")}, {number(node, "x2"), number(node, "y2")}}, false, here);
    } else if (name == "rect") {
      const double x = number(node, "x"), y = number(node, "y"), w = number(node, "width"),
                   h = number(node, "height");
      if (w > 0 && h > 0) add({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, true, here);
    } else if (name == "circle") {
      ellipse(node, number(node, "r"), number(node, "r"), here);
    } else if (name == "ellipse") {
      ellipse(node, number(node, "rx"), number(node, "ry"), here);
    } else if (name == "text" || name == "image" || name == "use" || name == "tspan") {
      ++leftOut_[name];
    }
  }

  OwnLines out_;
  double error_;
  std::map<std::string, std::int64_t> leftOut_;
  std::int64_t broken_ = 0;
};

}  // namespace

base::Result<OwnLines> readSvg(const std::string& bytes) {
  auto read = readSvgLines(bytes);
  return read ? checkedLines(std::move(*read)) : read;
}

base::Result<OwnLines> readSvgLines(const std::string& bytes, double curveError) {
  pugi::xml_document document;
  const pugi::xml_parse_result parsed = document.load_buffer(bytes.data(), bytes.size());
  if (!parsed)
    return tl::unexpected(refused("import_svg_not_xml", {{"byte", static_cast<std::int64_t>(parsed.offset)},
                                                         {"why", std::string(parsed.description())}}));
  pugi::xml_node svg = document.document_element();
  const std::string name = svg.name();
  if (name != "svg" && !name.ends_with(":svg")) return tl::unexpected(refused("import_svg_no_drawing"));
  return SvgReader(curveError).read(svg);
}

}  // namespace yw::file
