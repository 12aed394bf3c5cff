#include "ui/canvas/tools/outcome.h"

#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/canvas/look.h"

namespace yw::ui {

using assess::Assessment;
using base::Id;

namespace {

bool endsAt(const Assessment& a, const yard::Terminal& end, const std::set<Id>& things) {
  return things.contains(end.record) || things.contains(yard::boxOf(a.yard, end.record));
}

bool touches(const Assessment& a, const routes::RoutedCable& cable, const std::set<Id>& things) {
  return endsAt(a, cable.from, things) || endsAt(a, cable.to, things) || things.contains(cable.key.of);
}

bool carriesData(const routes::CableKey& key) {
  return key.role == routes::CableRole::Lead || key.role == routes::CableRole::Jumper;
}

/// What the product of a prop needs for true white, V.
double neededBy(const Assessment& a, Id propId) {
  const auto* prop = yard::find<yard::Prop>(a.yard, propId);
  const auto* product = prop ? yard::productOf(a.yard, *prop) : nullptr;
  return product ? base::volts(product->lowestVolts).si : 0.0;
}

}  // namespace

std::set<Id> runsAt(const Assessment& a, const std::set<Id>& things) {
  std::set<Id> runs;
  for (const Id id : things) {
    if (yard::find<yard::Run>(a.yard, id)) runs.insert(id);
    if (const auto wired = a.wiredIn.find(id); wired != a.wiredIn.end())
      for (const auto& [run, item] : wired->second) runs.insert(run);
  }
  for (const auto& [key, cable] : a.routes.cables) {
    if (!touches(a, cable, things)) continue;
    if (carriesData(key)) runs.insert(key.of);
    const auto feed = a.limit.feeds.find(key.of);
    if (feed != a.limit.feeds.end() && feed->second.run) runs.insert(feed->second.run);
  }
  return runs;
}

std::optional<WorstLead> worstLeadAt(const Assessment& a, const std::set<Id>& things) {
  std::optional<WorstLead> worst;
  for (const auto& [key, cable] : a.routes.cables) {
    if (!carriesData(key) || !touches(a, cable, things)) continue;
    const auto data = a.data.runs.find(key.of);
    if (data == a.data.runs.end()) continue;
    for (const data::Hop& hop : data->second.hops) {
      if (hop.item != key.item || hop.limit <= 0) continue;
      if (worst && hop.length / hop.limit <= worst->length / worst->limit) continue;
      worst = {key.of, cable.label, hop.length, hop.limit};
    }
  }
  return worst;
}

std::optional<WorstPixel> worstPixelOf(const Assessment& a, const std::set<Id>& runs) {
  std::optional<WorstPixel> worst;
  for (const Id run : runs) {
    const auto figure = a.limit.runs.find(run);
    const auto layout = a.layouts.find(run);
    if (figure == a.limit.runs.end() || layout == a.layouts.end()) continue;
    const auto& pixels = layout->second->pixels;
    Id last;
    double needed = 0.0;
    for (std::size_t i = 0; i < pixels.size() && i < figure->second.volts.size(); ++i) {
      if (!pixels[i].prop || !figure->second.fed[i]) continue;
      if (pixels[i].prop != last) needed = neededBy(a, last = pixels[i].prop);
      const double volts = figure->second.volts[i];
      if (worst && volts - needed >= worst->volts - worst->needed) continue;
      worst = {run, pixels[i].prop, pixels[i].pixel, volts, needed};
    }
  }
  return worst;
}

QStringList outcomeLines(const Assessment& now, const Assessment* before, const std::set<Id>& things,
                         base::UnitSystem units) {
  QStringList lines;
  const auto length = [&](double m) { return base::longLengthText(base::toLength({m}), units); };
  if (const auto lead = worstLeadAt(now, things))
    lines << said(lead->length > lead->limit ? "canvas_live_far" : "canvas_live_lead",
                  {{"what", lead->label}, {"lead", length(lead->length)}, {"reach", length(lead->limit)}});
  return lines + voltsLines(now, before, things, units);
}

QStringList newlyWrongLines(const findings::Report& then, const findings::Report& now,
                            base::UnitSystem units) {
  constexpr int kMost = 2;
  std::set<std::string> known;
  for (const findings::Finding& finding : now.findings) known.insert(findings::identity(finding));
  QStringList lines;
  std::int64_t more = 0;
  for (const findings::Finding& finding : then.findings) {  // worst first
    if (finding.severity > findings::Severity::WontWork || known.contains(findings::identity(finding)))
      continue;
    if (lines.size() == kMost) {
      ++more;
      continue;
    }
    lines << said("canvas_live_wrong", {{"severity", std::string(findings::label(finding.severity))},
                                        {"sentence", base::text(finding.sentence, units)}});
  }
  if (more > 0) lines << said("canvas_live_more_wrong", {{"count", more}});
  return lines;
}

QStringList voltsLines(const Assessment& now, const Assessment* before, const std::set<Id>& things,
                       base::UnitSystem units) {
  QStringList lines;
  const auto worst = worstPixelOf(now, runsAt(now, things));
  if (!worst) return lines;
  std::map<std::string, base::Fact> facts{{"volts", base::toVoltage({worst->volts})},
                                          {"needed", base::toVoltage({worst->needed})},
                                          {"prop", yard::labelOf(now.yard, worst->prop)},
                                          {"pixel", worst->pixel}};
  const char* key = worst->volts < worst->needed ? "canvas_live_low" : "canvas_live_volts";
  lines << said(key, facts, units);
  const auto was = before ? worstPixelOf(*before, runsAt(*before, things)) : std::nullopt;
  constexpr double kSeen = 0.005;  // V: less is not seen in two decimals
  if (was && std::abs(was->volts - worst->volts) >= kSeen)
    lines << said("canvas_live_before", {{"volts", base::toVoltage({was->volts})}}, units);
  return lines;
}

}  // namespace yw::ui
