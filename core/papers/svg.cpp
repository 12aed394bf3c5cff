#include <fmt/format.h>

#include "core/papers/hatch.h"
#include "core/papers/palette.h"
#include "core/papers/papers.h"
#include "core/papers/words.h"

namespace yw::papers {
namespace {

std::string mm(double value) { return trimmed(value, 3); }

std::string colorOf(const Item& item) {
  return fmt::format("#{:06x}",
                     item.role == Role::Magnitude ? cividis(item.magnitude) : paperColor(item.role));
}

std::string pointsOf(const std::vector<Mm>& points) {
  std::string out;
  for (const Mm p : points) out += (out.empty() ? "" : " ") + mm(p.x) + "," + mm(p.y);
  return out;
}

std::string strokeOf(const Item& item) {
  std::string out = fmt::format(" stroke=\"{}\" stroke-width=\"{}\"", colorOf(item), mm(item.width));
  const std::vector<double>& pattern = dashPattern(item.dash);
  if (pattern.empty()) return out;
  out += " stroke-dasharray=\"";
  for (std::size_t i = 0; i < pattern.size(); ++i) out += (i == 0 ? "" : " ") + mm(pattern[i]);
  return out + "\"";
}

std::string lineSvg(const Item& item) {
  std::string out =
      "<polyline fill=\"none\"" + strokeOf(item) + " points=\"" + pointsOf(item.points) + "\"/>\n";
  if (item.arrow)
    out += "<polygon fill=\"" + colorOf(item) + "\" points=\"" +
           pointsOf(arrowHead(item.points, item.width)) + "\"/>\n";
  return out;
}

std::string areaSvg(const Item& item) {
  std::string out;
  if (item.hatched) {
    const HatchStyle style = hatchStyle(item.role);
    out += fmt::format("<path fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" d=\"", colorOf(item),
                       mm(style.width));
    for (const auto& [a, b] : hatchStrokes(item.points, style.spacing, style.degrees))
      out += "M" + mm(a.x) + "," + mm(a.y) + "L" + mm(b.x) + "," + mm(b.y);
    out += "\"/>\n";
  }
  const std::string fill = item.filled ? colorOf(item) : "none";
  return out + "<polygon fill=\"" + fill + "\"" + (item.width > 0 ? strokeOf(item) : std::string()) +
         " points=\"" + pointsOf(item.points) + "\"/>\n";
}

std::string textSvg(const Item& item) {
  if (item.points.empty()) return {};
  static constexpr const char* kAnchors[] = {"start", "middle", "end"};
  const Mm at = item.points.front();
  std::string out = fmt::format(
      "<text x=\"{}\" y=\"{}\" font-family=\"{}\" font-size=\"{}\" fill=\"{}\" textLength=\"{}\" "
      "lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\"",
      mm(at.x), mm(at.y), item.mono ? "B612 Mono,monospace" : "B612,sans-serif", mm(item.size), colorOf(item),
      mm(textWidth(item.text, item.size, item.bold, item.mono)));
  if (item.bold) out += " font-weight=\"bold\"";
  if (item.align != Align::Left)
    out += fmt::format(" text-anchor=\"{}\"", kAnchors[static_cast<std::size_t>(item.align)]);
  if (item.turn != 0.0)
    out += fmt::format(" transform=\"rotate({} {} {})\"", mm(-item.turn), mm(at.x), mm(at.y));
  return out + ">" + markupText(item.text) + "</text>\n";
}

/// Dots as strokes of no length with round ends: one element a cloud.
std::string cloudSvg(const Item& item) {
  std::string out =
      fmt::format("<path fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-linecap=\"round\" d=\"",
                  colorOf(item), mm(item.width));
  for (const Mm p : item.points) out += "M" + mm(p.x) + "," + mm(p.y) + "h0";
  return out + "\"/>\n";
}

std::string clipSvg(const Item& item, int number) {
  return fmt::format(
      "<clipPath id=\"clip{0}\"><polygon points=\"{1}\"/></clipPath>\n<g clip-path=\"url(#clip{0})\">\n",
      number, pointsOf(item.points));
}

}  // namespace

std::string svg(const Page& page) {
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">\n"
      "<title>{2}</title>\n<rect width=\"{0}\" height=\"{1}\" fill=\"#ffffff\"/>\n",
      mm(page.width), mm(page.height), markupText(page.title));
  int clips = 0, open = 0;
  for (const Item& item : page.items) {
    switch (item.type) {
      case Item::Type::Line:
        out += lineSvg(item);
        break;
      case Item::Type::Area:
        out += areaSvg(item);
        break;
      case Item::Type::Text:
        out += textSvg(item);
        break;
      case Item::Type::Cloud:
        out += cloudSvg(item);
        break;
      case Item::Type::Image:
        break;  // pictures are no part of the sheets
      case Item::Type::ClipBegin:
        out += clipSvg(item, ++clips);
        ++open;
        break;
      case Item::Type::ClipEnd:
        if (open > 0) out += "</g>\n";
        open = std::max(0, open - 1);
        break;
    }
  }
  for (; open > 0; --open) out += "</g>\n";
  return out + "</svg>\n";
}

}  // namespace yw::papers
