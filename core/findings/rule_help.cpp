#include "core/findings/rule_help.h"

#include <cmath>

#include "core/yard/labels.h"

namespace yw::findings {

using namespace yw::yard;

base::Vec3 placeOfPixel(const assess::Assessment& a, Id propId, std::int64_t pixel) {
  const Prop* prop = find<Prop>(a.yard, propId);
  if (!prop) return {};
  const shapes::Placement placement = shapes::placementOf(a.yard, *prop);
  const auto shape = a.shapes.find(propId);
  if (shape == a.shapes.end() || pixel < 1 || pixel > static_cast<std::int64_t>(shape->second->pixels.size()))
    return placement.toYard({});
  return placement.toYard(shape->second->pixels[static_cast<std::size_t>(pixel - 1)]);
}

namespace {
base::Vec3 onGround(Point p);

/// A box on a wall lies along it; `at` is then on the wall's face.
base::Vec3 placeOfBox(const assess::Assessment& a, const Box& box) {
  const Wall* wall = find<Wall>(a.yard, box.wall);
  if (!wall) return onGround(box.at);
  const base::Vec2 from = base::vec(wall->from), way = base::vec(wall->to) - from;
  const double length = base::norm(way);
  const base::Vec2 at = length > 0 ? from + way * (base::metres(box.at.x).si / length) : from;
  return {at.x, at.y, base::metres(box.at.y.count > 0 ? box.at.y : box.height).si};
}

base::Vec3 onGround(Point p) { return {base::metres(p.x).si, base::metres(p.y).si, 0.0}; }
}  // namespace

base::Vec3 placeOfRecord(const assess::Assessment& a, Id id) {
  if (find<Prop>(a.yard, id)) return placeOfPixel(a, id, 0);
  if (const auto* r = find<Box>(a.yard, id)) return placeOfBox(a, *r);
  if (const auto* r = find<Outlet>(a.yard, id)) return onGround(r->at);
  if (const auto* r = find<OtherLoad>(a.yard, id)) return onGround(r->at);
  if (const auto* r = find<Supply>(a.yard, id)) return r->box ? placeOfRecord(a, r->box) : base::Vec3{};
  if (const auto* r = find<Controller>(a.yard, id)) return r->box ? placeOfRecord(a, r->box) : base::Vec3{};
  if (const auto* r = find<Receiver>(a.yard, id)) return r->box ? placeOfRecord(a, r->box) : base::Vec3{};
  if (const auto* r = find<Port>(a.yard, id)) return placeOfRecord(a, r->owner);
  if (const auto* r = find<FusePosition>(a.yard, id)) return placeOfRecord(a, r->supply);
  if (const auto* r = find<GroundFeature>(a.yard, id))
    return r->outline.empty() ? base::Vec3{} : onGround(r->outline[0]);
  if (const auto* r = find<Run>(a.yard, id)) {
    for (const RunItem& item : r->items)
      if (item.kind == RunItemKind::Stretch && item.prop)
        return placeOfPixel(a, item.prop, std::max<std::int64_t>(item.first, 1));
    return r->port ? placeOfRecord(a, r->port) : base::Vec3{};
  }
  if (const auto* r = find<Cable>(a.yard, id))
    return r->to.kind == TerminalKind::PropPixel ? placeOfPixel(a, r->to.record, r->to.pixel)
                                                 : placeOfRecord(a, r->to.record);
  if (const auto* r = find<Measurement>(a.yard, id))
    return r->at.kind == TerminalKind::PropPixel ? placeOfPixel(a, r->at.record, r->at.pixel)
                                                 : placeOfRecord(a, r->at.record);
  if (const auto* r = find<HouseCircuit>(a.yard, id)) {
    (void)r;
    for (const auto& [outletId, outlet] : all<Outlet>(a.yard))
      if (outlet->circuit == id) return onGround(outlet->at);
  }
  return {};
}

Finding begin(const assess::Assessment& a, const Rule& rule, Severity severity, Id subject) {
  Finding finding;
  finding.rule = rule.key;
  finding.severity = severity;
  finding.subjects = {subject};
  finding.source = rule.source;
  finding.remedyKey = rule.remedyKey;
  finding.place = placeOfRecord(a, subject);
  if (find<Prop>(a.yard, subject)) finding.prop = subject;
  return finding;
}

void pointAt(const assess::Assessment& a, Finding& finding, Id run, std::int64_t runPixel) {
  const auto layout = a.layouts.find(run);
  if (layout == a.layouts.end() || runPixel < 1 ||
      runPixel > static_cast<std::int64_t>(layout->second->pixels.size()))
    return;
  const circuit::RunPixel& place = layout->second->pixels[static_cast<std::size_t>(runPixel - 1)];
  if (!place.prop) return;
  finding.prop = place.prop;
  finding.pixel = place.pixel;
  finding.place = placeOfPixel(a, place.prop, place.pixel);
  if (std::find(finding.subjects.begin(), finding.subjects.end(), place.prop) == finding.subjects.end())
    finding.subjects.push_back(place.prop);
}

void noteAssumed(const assess::Assessment& a, Finding& finding, Id id) {
  const auto* product = find<Product>(a.taught, id);
  const auto* supply = find<Supply>(a.yard, id);
  const bool assumed =
      (product && product->origin == Origin::Assumed) || (supply && supply->origin == Origin::Assumed);
  if (assumed && std::find(finding.assumed.begin(), finding.assumed.end(), id) == finding.assumed.end())
    finding.assumed.push_back(id);
}

std::string label(const assess::Assessment& a, Id id) { return a.labelOf(id); }

std::string unknownText(const assess::Assessment& a, const circuit::Unknown& unknown) {
  static constexpr const char* kKeys[] = {"unknown_pixel_current",   "unknown_joint_resistance",
                                          "unknown_wire_resistance", "unknown_supply_volts",
                                          "unknown_each_pixel",      "unknown_each_joint"};
  const bool unnamed = unknown.kind == circuit::UnknownKind::WireResistance && !unknown.of;
  Message message{unnamed ? "unknown_wire_unnamed" : kKeys[static_cast<std::size_t>(unknown.kind)], {}};
  if (unknown.of) message.facts["of"] = label(a, unknown.of);
  return base::text(message);
}

std::string placeOfMeasurement(const assess::Assessment& a, Id id) {
  const auto* m = find<Measurement>(a.yard, id);
  if (m == nullptr || !m->at.record) return label(a, id);
  if (m->at.kind != TerminalKind::PropPixel) return label(a, m->at.record);
  return base::text(
      Message{"measured_place_pixel", {{"prop", label(a, m->at.record)}, {"pixel", m->at.pixel}}});
}

Id productIdAt(const assess::Assessment& a, const circuit::RunLayout& layout, std::size_t place) {
  const Prop* prop = find<Prop>(a.yard, layout.pixels[place].prop);
  return prop ? productIdOf(a.yard, *prop) : Id{};
}

const Product* productAt(const assess::Assessment& a, const circuit::RunLayout& layout, std::size_t place) {
  return find<Product>(a.yard, productIdAt(a, layout, place));
}

double ampsThrough(const assess::Assessment& a, Id gate) {
  if (const auto port = a.limit.portAmps.find(gate); port != a.limit.portAmps.end()) return port->second;
  const Id behind = feedOnFusePosition(a.yard, gate);
  const auto feed = a.limit.feeds.find(behind ? behind : gate);
  return feed == a.limit.feeds.end() ? 0.0 : feed->second.amps;
}

Id supplyOfPort(const Yard& yard, Id portId) {
  const Port* port = find<Port>(yard, portId);
  if (!port) return {};
  const auto* controller = find<Controller>(yard, port->owner);
  const auto* receiver = find<Receiver>(yard, port->owner);
  const std::vector<PowerSection>* sections = controller ? &controller->sections
                                              : receiver ? &receiver->sections
                                                         : nullptr;
  if (!sections || port->section < 1 || port->section > static_cast<std::int64_t>(sections->size()))
    return {};
  return (*sections)[static_cast<std::size_t>(port->section - 1)].supply;
}

std::string gapName(const assess::Assessment& a, const Run& run, std::int64_t item) {
  std::string name = "gap ";
  for (auto i = static_cast<std::size_t>(std::max<std::int64_t>(item, 0)); i < run.items.size(); ++i) {
    const RunItem& it = run.items[i];
    if (it.kind == RunItemKind::Booster) name += "to a booster on the way ";
    if (it.kind == RunItemKind::NullPixel) name += "to a null pixel on the way ";
    if (it.kind != RunItemKind::Stretch) continue;
    name += "to ";
    name += label(a, it.prop);
    if (it.first > 1) name += " pixel " + std::to_string(it.first);
    return name;
  }
  return name + "at the end";
}

bool grade(double used, double close, Severity over, Severity& severity) {
  // Verdicts stand on figures quantised to a millionth, so that the last bit of a solve never decides.
  const auto millionths = static_cast<std::int64_t>(std::llround(used * 1e6));
  if (millionths > 1'000'000) {
    severity = over;
    return true;
  }
  if (millionths > static_cast<std::int64_t>(std::llround(close * 1e6))) {
    severity = Severity::CloseToLimit;
    return true;
  }
  return false;
}

base::Length said(const assess::Assessment& a, double metres) {
  const std::int64_t step =
      settings(a.yard).units == base::UnitSystem::Metric ? 10'000'000 : base::kNanometresPerInch;
  return {base::roundedCount(metres * 1e9 / static_cast<double>(step)) * step};
}

std::string codeSource(const assess::Assessment& a, const char* section) {
  const CodeEdition edition = settings(a.yard).codeEdition;
  return std::string(words(edition)[static_cast<std::size_t>(edition)].name) + " " + section;
}

bool foreignReturn(const circuit::CableFigure& figure) {
  constexpr double kNoticed = 0.1;  // A
  return std::abs(figure.zeroAmps) > std::abs(figure.positiveAmps) + kNoticed;
}

}  // namespace yw::findings
