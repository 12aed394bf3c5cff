#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/number_text.h"
#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

/// Engineer's and architect's scales as on a common scale rule, largest first; then on by doubling.
constexpr double kFeetPerInch[] = {1, 2, 4, 5, 8, 10, 16, 20, 30, 40, 50, 60, 80, 100, 200, 400, 800, 1600};
constexpr double kRatios[] = {10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000, 10000};

DrawingScale imperial(double feet) {
  return {25.4 / (feet * 0.3048), say("scale_feet", {{"feet", trimmed(feet, 0)}}), feet, 0};
}
DrawingScale metric(double ratio) { return {1000.0 / ratio, "1:" + trimmed(ratio, 0), 0, ratio}; }

std::vector<DrawingScale> scalesOf(base::UnitSystem units) {
  std::vector<DrawingScale> scales;
  if (units == base::UnitSystem::Metric) {
    for (const double ratio : kRatios) scales.push_back(metric(ratio));
  } else {
    for (const double feet : kFeetPerInch) scales.push_back(imperial(feet));
  }
  return scales;
}

/// One bar of alternating blocks with figures over it.
void bar(Sketch& s, Mm at, double block, int blocks, double unitsPerBlock, const std::string& unit) {
  constexpr double kHeight = 2.4;
  for (int i = 0; i < blocks; ++i) {
    const Rect r{at.x + i * block, at.y, block, kHeight};
    if (i % 2 == 0) s.filled(r.corners(), Role::Ink);
  }
  s.rect({at.x, at.y, block * blocks, kHeight}, {Role::Ink, 0.25});
  for (int i = 0; i <= blocks; ++i) {
    std::string words = trimmed(i * unitsPerBlock, 2);
    if (i == blocks) words += " " + unit;
    const Align align = i == 0 ? Align::Left : i == blocks ? Align::Left : Align::Center;
    const double x = at.x + i * block - (i == blocks ? 1.0 : 0.0);
    s.text({x, at.y - 0.9}, words, {kNoteSize, false, false, align});
  }
}

/// A round number of metres whose block is near 20 mm long.
double metreBlock(double mmPerMetre) {
  for (const double metres : {0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0})
    if (metres * mmPerMetre >= 13.0) return metres;
  return 1000.0;
}

double footBlock(double mmPerMetre) {
  for (const double feet : {0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0})
    if (feet * 0.3048 * mmPerMetre >= 13.0) return feet;
  return 2000.0;
}

void checkSquare(Sketch& s, Mm at) {
  s.rect({at.x, at.y, 25.4, 25.4}, {Role::Ink, 0.25});
  s.rect({at.x, at.y, 20.0, 20.0}, {Role::Ink, 0.25, Dash::Short});
  s.text({at.x + 1.0, at.y + 24.4}, say("check_square_inch"), {kNoteSize});
  s.text({at.x + 1.0, at.y + 19.0}, say("check_square_metric"), {kNoteSize});
}

void northArrow(Sketch& s, Mm c, double turn) {
  const auto at = [&](double along, double across) {
    return Mm{c.x - along * std::sin(turn) + across * std::cos(turn),
              c.y - along * std::cos(turn) - across * std::sin(turn)};
  };
  s.area({at(8.5, 0), at(-7.5, -4), at(-4.5, 0), at(-7.5, 4)}, {Role::Ink, 0.35});
  s.filled({at(8.5, 0), at(-7.5, -4), at(-4.5, 0)}, Role::Ink);
  const Mm n = at(11.0, 0);
  s.text({n.x, n.y + kTextSize * kCapHeight / 2}, say("north"), {kTextSize, true, false, Align::Center});
}

}  // namespace

DrawingScale fittingScale(base::UnitSystem units, double width, double height, double w, double h) {
  const std::vector<DrawingScale> scales = scalesOf(units);
  for (const DrawingScale& scale : scales)
    if (width * scale.mmPerMetre <= w && height * scale.mmPerMetre <= h) return scale;
  return scales.back();
}

std::vector<DrawingScale> largerScales(base::UnitSystem units, const DrawingScale& than) {
  std::vector<DrawingScale> larger;
  for (const DrawingScale& scale : scalesOf(units))
    if (scale.mmPerMetre > than.mmPerMetre * 1.01) larger.insert(larger.begin(), scale);
  return larger;
}

void drawScaleStrip(SheetPages& sheet, const Digest& d, const DrawingScale& scale, Mm at, bool north) {
  Sketch s = sheet.sketch();
  const bool metricFirst = d.units == base::UnitSystem::Metric;
  const double metres = metreBlock(scale.mmPerMetre), metreMm = metres * scale.mmPerMetre;
  const double feet = scale.feetPerInch > 0 ? scale.feetPerInch : footBlock(scale.mmPerMetre);
  const double footMm = feet * 0.3048 * scale.mmPerMetre;  // an inch at a feet-and-inches scale
  const Mm first{at.x, at.y + 6.0}, second{at.x, at.y + 16.0};
  bar(s, metricFirst ? second : first, footMm, std::max(2, static_cast<int>(80.0 / footMm)), feet,
      say("unit_ft"));
  bar(s, metricFirst ? first : second, metreMm, std::max(2, static_cast<int>(80.0 / metreMm)), metres,
      say("unit_m"));
  s.text({at.x, at.y + 25.5}, say("scale_line", {{"scale", scale.name}}), {kTextSize, true});
  const double square = at.x + 98.0;
  checkSquare(s, {square, at.y + 1.0});
  if (!north) return;
  s.paragraph({square + 27.5, at.y + 4.0}, 42.0, say("check_square_note"), {kNoteSize});
  northArrow(s, {sheet.right() - 10.0, at.y + 17.0}, base::radians(yard::site(d.y).north));
}

void drawLocator(SheetPages& sheet, const Digest& d, const Rect& frame, const PlanStyle& style) {
  const Extent extent = extentOf(d);
  Sketch s = sheet.sketch();
  s.text({frame.x, frame.y + kNoteSize * 0.9}, say("where_it_is"), {kNoteSize, true});
  const Rect inner{frame.x, frame.y + 4.4, frame.w, frame.h - 4.4};
  if (!extent.empty) {
    const double margin = 5.0;
    const double scale = std::min((inner.w - 2 * margin) / std::max(extent.width(), 1.0),
                                  (inner.h - 2 * margin) / std::max(extent.height(), 1.0));
    PlanView view;
    view.scale = scale;
    view.frameX = inner.x;
    view.frameY = inner.y;
    view.frameWidth = inner.w;
    view.frameHeight = inner.h;
    view.lowerLeft = {(extent.x0 + extent.x1 - inner.w / scale) / 2,
                      (extent.y0 + extent.y1 - inner.h / scale) / 2};
    view.pixels = false;
    PlanStyle small = style;
    small.onlyShown = true;
    for (Item& item : drawPlan(d, view, small).items) {
      if (item.type == Item::Type::Line || item.type == Item::Type::Area)
        item.width = std::min(item.width, 0.7);
      sheet.pages().back().items.push_back(std::move(item));
    }
  }
  s.rect(inner, {Role::SecondInk, 0.25});
}

double drawFacts(SheetPages& sheet, double x, double y, double width,
                 const std::vector<std::pair<std::string, std::string>>& facts) {
  constexpr double kNameWidth = 34.0;
  Sketch s = sheet.sketch();
  for (const auto& [name, value] : facts) {
    if (value.empty()) continue;
    const double base = y + kTextSize * 0.95;
    const double below = s.paragraph({x, base}, kNameWidth - 2.0, name, {kNoteSize, true});
    const double after = s.paragraph({x + kNameWidth, base}, width - kNameWidth, value, {kTextSize});
    y = std::max(below - kNoteSize, after - kTextSize) + 0.2;
  }
  return y;
}

void drawFindings(SheetPages& sheet, const Digest& d, const findings::Report& report,
                  const std::set<Id>& subjects) {
  constexpr std::size_t kMost = 6;
  std::vector<std::string> lines;
  std::size_t more = 0;
  for (const findings::Finding& finding : report.findings) {
    if (finding.severity == findings::Severity::Note) continue;
    const bool about = std::any_of(finding.subjects.begin(), finding.subjects.end(),
                                   [&](Id id) { return subjects.contains(id); });
    if (!about) continue;
    if (lines.size() == kMost) {
      ++more;
      continue;
    }
    lines.push_back(say("finding_line", {{"severity", std::string(findings::label(finding.severity))},
                                         {"sentence", base::text(finding.sentence, d.units)}}));
  }
  if (lines.empty()) return;
  if (more > 0) lines.push_back(say("more_findings", {{"count", static_cast<std::int64_t>(more)}}));
  double height = 2.4 + kTextSize * kLineStep;
  for (const std::string& line : lines)
    height +=
        static_cast<double>(brokenLines(line, sheet.width() - 6.0, kNoteSize).size()) * kNoteSize * kLineStep;
  sheet.space(2.0);
  sheet.need(height);
  Sketch s = sheet.sketch();
  s.rect({sheet.left(), sheet.y, sheet.width(), height}, {Role::Ink, 0.5});
  double y = sheet.y + 1.2 + kTextSize * 0.9;
  s.text({sheet.left() + 3.0, y}, say("attention_head"), {kTextSize, true});
  y += kTextSize * kLineStep;
  for (const std::string& line : lines)
    y = s.paragraph({sheet.left() + 3.0, y - 0.6}, sheet.width() - 6.0, line, {kNoteSize}) + 0.6;
  sheet.space(height + 2.0);
}

std::string ampsText(double amps) { return fixed(amps, 2) + " A"; }
std::string voltsText(double volts) { return fixed(volts, 1) + " V"; }
std::string star(bool assumed) { return assumed ? "*" : ""; }

std::string rangeText(std::int64_t first, std::int64_t last) {
  if (last < first) return "—";
  return first == last ? std::to_string(first) : std::to_string(first) + "–" + std::to_string(last);
}

std::string feedPlace(const Digest& d, Id feed) {
  const auto* cable = yard::find<yard::Cable>(d.y, feed);
  if (cable == nullptr) return "—";
  if (const routes::RoutedCable* way = d.feedCable(feed); way != nullptr && !way->toText.empty())
    return way->toText;
  const std::string landmark = d.landmark(cable->to.record, cable->to.pixel);
  const std::string place =
      say("pixel_of_prop", {{"prop", d.label(cable->to.record)}, {"pixel", cable->to.pixel}});
  return landmark.empty() ? place : say("place_at_landmark", {{"place", place}, {"landmark", landmark}});
}

std::string placeText(const Digest& d, yard::TerminalKind kind, Id id) {
  const base::Vec3 at = routes::placeOf(d.y, d.a.shapes, {kind, id, 0});
  return say("plan_place", {{"east", d.height(at.x)}, {"north", d.height(at.y)}});
}

}  // namespace yw::papers
