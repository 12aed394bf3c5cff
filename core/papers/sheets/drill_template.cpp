#include <algorithm>
#include <cmath>

#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

constexpr double kOverlap = 10.0;  // mm that neighbouring pages share
constexpr double kRule = 100.0;    // mm, the rule that must measure true
constexpr double kFoot = 16.0;     // mm kept for the rule under each page
constexpr int kMostPages = 6;
constexpr double kDeepest = 0.06;  // m: what is deeper is not drilled from one side

/// The front face in millimetres from its lowest left pixel, y up.
struct Face {
  std::vector<Mm> holes;
  double width = 0, height = 0;
  bool flat = true;
};

Face faceOf(const shapes::Shape& shape) {
  double left = 1e9, low = 1e9, near = 1e9, far = -1e9;
  for (const base::Vec3 p : shape.pixels) {
    left = std::min(left, p.x);
    low = std::min(low, p.z);
    near = std::min(near, p.y);
    far = std::max(far, p.y);
  }
  Face face;
  face.flat = far - near <= kDeepest;
  for (const base::Vec3 p : shape.pixels) {
    if (p.y > near + 1e-6) continue;  // a second face has the same holes
    face.holes.push_back({(p.x - left) * 1000, (p.z - low) * 1000});
    face.width = std::max(face.width, face.holes.back().x);
    face.height = std::max(face.height, face.holes.back().y);
  }
  return face;
}

/// A rule of 10 mm blocks and of inches; printed at another size it shows at once.
void drawRule(Sketch s, Mm at) {
  s.line({at, {at.x + kRule, at.y}}, {Role::Ink, 0.25});
  for (int i = 0; i <= 10; ++i)
    s.line({{at.x + 10.0 * i, at.y}, {at.x + 10.0 * i, at.y - (i % 5 == 0 ? 3.0 : 1.8)}}, {Role::Ink, 0.25});
  for (int i = 0; i <= 3; ++i)
    s.line({{at.x + 25.4 * i, at.y}, {at.x + 25.4 * i, at.y + 2.4}}, {Role::Ink, 0.25});
  s.text({at.x + kRule + 2, at.y + 1}, say("template_rule"), {kNoteSize, true});
}

void drawHole(Sketch s, Mm at, std::size_t number) {
  s.line({{at.x - 3, at.y}, {at.x + 3, at.y}}, {Role::Ink, 0.13});
  s.line({{at.x, at.y - 3}, {at.x, at.y + 3}}, {Role::Ink, 0.13});
  std::vector<Mm> circle;
  for (int i = 0; i < 24; ++i) {
    const double a = 2 * 3.14159265358979323846 * i / 24;
    circle.push_back({at.x + 6 * std::cos(a), at.y + 6 * std::sin(a)});  // 12 mm bullets
  }
  s.area(circle, {Role::SecondInk, 0.18});
  s.text({at.x + 0.8, at.y - 0.8}, std::to_string(number), {kNoteSize * 0.8});
}

}  // namespace

void addDrillTemplate(SheetPages& sheet, const Digest& d, Id id) {
  const Face face = faceOf(*d.a.shapes.at(id));
  const double margin = 8.0;  // so that holes at the edge are whole
  const double wide = face.width + 2 * margin, high = face.height + 2 * margin;
  const double pageW = sheet.width(), pageH = sheet.content().h - kFoot - 8.0;
  const auto pages = [&](double size, double page) {
    return std::max(1, static_cast<int>(std::ceil((size - kOverlap) / (page - kOverlap) - 1e-9)));
  };
  const int across = pages(wide, pageW), up = pages(high, pageH);
  if (!face.flat || face.holes.size() < 2 || across * up > kMostPages) return;
  for (int row = 0; row < up; ++row)
    for (int column = 0; column < across; ++column) {
      sheet.newPage();
      sheet.setScale("1:1");
      Sketch s = sheet.sketch(id);
      s.text({sheet.left(), sheet.y + kTextSize},
             say("template_page", {{"prop", d.label(id)},
                                   {"column", std::int64_t{column + 1}},
                                   {"columns", std::int64_t{across}},
                                   {"row", std::int64_t{row + 1}},
                                   {"rows", std::int64_t{up}}}),
             {kTextSize, true});
      const Rect frame{sheet.left(), sheet.y + 8.0, pageW, pageH};
      const double x0 = column * (pageW - kOverlap) - margin, y0 = row * (pageH - kOverlap) - margin;
      s.clip(frame);
      for (std::size_t k = 0; k < face.holes.size(); ++k) {
        const Mm at{frame.x + face.holes[k].x - x0, frame.bottom() - (face.holes[k].y - y0)};
        if (at.x > frame.x - 8 && at.x < frame.right() + 8 && at.y > frame.y - 8 && at.y < frame.bottom() + 8)
          drawHole(s, at, k + 1);
      }
      s.endClip();
      s.rect(frame, {Role::SecondInk, 0.18});
      if (column + 1 < across)
        s.line({{frame.right() - kOverlap, frame.y}, {frame.right() - kOverlap, frame.bottom()}},
               {Role::SecondInk, 0.18, Dash::Short});
      if (row + 1 < up)
        s.line({{frame.x, frame.y + kOverlap}, {frame.right(), frame.y + kOverlap}},
               {Role::SecondInk, 0.18, Dash::Short});
      drawRule(s, {frame.x, frame.bottom() + 8.0});
      sheet.y = sheet.bottom();
    }
}

}  // namespace yw::papers
