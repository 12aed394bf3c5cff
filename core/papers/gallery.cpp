#include "core/papers/gallery.h"

#include "core/edit/change.h"
#include "core/papers/sheets/prop_drawing.h"

namespace yw::papers {
namespace {

constexpr double kWide = 100.0, kHigh = 84.0;  // mm of one drawing

std::string drawing(const Digest& d, Id prop, const shapes::Shape& shape) {
  Page page;
  page.width = kWide;
  page.height = kHigh;
  page.title = d.label(prop);
  const PropView view = viewsOf(shape).front();
  constexpr std::size_t kNumbers = 24;  // more of them cross each other's leaders
  const PropMarks marks{1, static_cast<std::int64_t>(shape.pixels.size()), {}, true, kNumbers};
  drawPropView(Sketch(page.items, prop), d, prop, view, {0, 0, kWide, kHigh}, marks);
  settle(page.items);
  return svg(page);
}

std::string row(const std::string& name, const std::string& value) {
  return "<tr><th>" + markupText(name) + "</th><td>" + markupText(value) + "</td></tr>\n";
}

std::string figures(const shapes::Shape& shape, base::UnitSystem units) {
  const auto text = [&](const base::Fact& fact) { return base::text(fact, units); };
  std::string rows = row(say("build_pixels"), std::to_string(shape.pixels.size()));
  rows += row(say("gallery_ends"), shape.in.landmark + " → " + shape.out.landmark);
  rows += row(say("build_weight"), text(base::Mass{std::llround(shape.weight * 1e6)}));
  rows += row(say("gallery_solidity"), trimmed(shapes::solidity(shape) * 100, 0) + " %");
  for (const auto& [name, fact] : shape.facts) rows += row(name, text(fact));
  std::string parts;
  constexpr std::size_t kMost = 8;
  for (std::size_t k = 0; k < shape.parts.size() && k <= kMost; ++k)
    parts += (parts.empty() ? "" : ", ") + (k == kMost ? std::string("…") : shape.parts[k].name);
  return parts.empty() ? rows : rows + row(say("gallery_parts"), parts);
}

}  // namespace

std::string gallery(base::UnitSystem units) {
  edit::Editor editor(yard::emptyYard());
  editor.update<yard::Settings>(yard::settingsId(editor.yard()), [&](yard::Settings& s) { s.units = units; });
  std::vector<Id> props;
  for (const shapes::Kind& kind : shapes::kinds()) props.push_back(editor.add(shapes::usualProp(kind.name)));
  const assess::AssessmentPtr assessment = assess::assess(editor.yard());
  const Digest d(*assessment);
  std::string body;
  for (std::size_t k = 0; k < props.size(); ++k) {
    const auto* shape = lookUp(assessment->shapes, props[k]);
    if (shape == nullptr) continue;
    const shapes::Kind& kind = shapes::kinds()[k];
    body += "<section>\n<h2>" + markupText(kind.label) + "</h2>\n<p>" + markupText(kind.help) + "</p>\n" +
            drawing(d, props[k], **shape) + "<table>\n" + figures(**shape, units) + "</table>\n</section>\n";
  }
  const std::string title = markupText(say("gallery_title"));
  return "<!DOCTYPE html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>" + title +
         "</title>\n<style>body{font-family:B612,sans-serif;margin:1em;color:#000;background:#fff}"
         "main{display:flex;flex-wrap:wrap;gap:1em}section{width:100mm;border:1px solid #999;padding:0.6em}"
         "h2{margin:0}p{margin:.3em 0}table{font-size:.8em;border-collapse:collapse}"
         "th{text-align:left;font-weight:normal;padding-right:1em;vertical-align:top}</style></"
         "head>\n<body><h1>" +
         title + "</h1>\n<main>\n" + body + "</main></body></html>\n";
}

}  // namespace yw::papers
