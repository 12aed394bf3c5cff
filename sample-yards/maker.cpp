#include "sample-yards/maker.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "core/propose/propose.h"

namespace yw::samples {

using namespace yw::yard;

namespace {

base::Length ft(double feet) {
  return {static_cast<std::int64_t>(std::llround(feet * 12 * 16)) * base::kNanometresPerInch / 16};
}
Point at(Place p) { return {ft(p.x), ft(p.y)}; }

shapes::Shape shapeOf(const Yard& yard, Id propId) {
  const Prop& prop = *find<Prop>(yard, propId);
  auto shape = shapes::make(prop);
  if (!shape) throw std::runtime_error(prop.name + ": " + base::text(shape.error()));
  return *shape;
}

}  // namespace

Maker::Maker(const std::string& name) : e_(emptyYard()) {
  e_.update<Site>(siteId(e_.yard()), [&](Site& s) { s.name = name; });
}

Id Maker::product(const std::string& name) const {
  for (const auto& [id, p] : all<Product>(e_.yard()))
    if (p->name == name) return id;
  throw std::runtime_error("no product " + name);
}

Id Maker::wire(const std::string& name) const {
  for (const auto& [id, w] : all<Wire>(e_.yard()))
    if (w->name == name) return id;
  throw std::runtime_error("no wire " + name);
}

void Maker::settings(const std::string& usualProduct, int brightnessPercent) {
  e_.update<Settings>(settingsId(e_.yard()), [&](Settings& s) {
    s.usualProduct = product(usualProduct);
    s.brightnessLimit = {brightnessPercent * 10'000};
  });
}

void Maker::season(const char* setUp, const char* first, const char* last, const char* strike, int crew) {
  e_.update<Site>(siteId(e_.yard()), [&](Site& s) {
    s.setUpDate = setUp;
    s.showFrom = first;
    s.showTo = last;
    s.strikeDate = strike;
    s.crew = crew;
  });
}

Id Maker::feature(FeatureKind kind, const std::string& name, const std::vector<Place>& outline,
                  double heightFeet, const std::string& reason, double toleranceFeet) {
  GroundFeature f;
  f.kind = kind;
  f.name = name;
  for (const Place p : outline) f.outline.push_back(at(p));
  f.height = ft(heightFeet);
  f.reason = reason;
  f.tolerance = ft(toleranceFeet);
  f.blocksLeads = kind == FeatureKind::House || kind == FeatureKind::Tree || kind == FeatureKind::Water ||
                  kind == FeatureKind::Fence;
  return e_.add(f);
}

std::vector<Id> Maker::house(Place a, Place b, double eaveFeet, int pitch) {
  const std::vector<Place> corners{{a.x, a.y}, {b.x, a.y}, {b.x, b.y}, {a.x, b.y}};
  const Id houseId = feature(FeatureKind::House, "House", corners, eaveFeet);
  const char* names[] = {"Front wall", "Right wall", "Back wall", "Left wall"};
  std::vector<Id> walls;
  for (std::size_t i = 0; i < 4; ++i) {
    Wall w;
    w.name = names[i];
    w.feature = houseId;
    w.from = at(corners[i]);
    w.to = at(corners[(i + 1) % 4]);
    w.eaveHeight = ft(eaveFeet);
    w.pitchRise = pitch;
    walls.push_back(e_.add(w));
  }
  return walls;
}

void Maker::opening(Id wall, OpeningKind kind, const std::string& name, double x, double y, double w,
                    double h) {
  e_.update<Wall>(wall, [&](Wall& r) { r.openings.push_back({kind, name, {ft(x), ft(y)}, ft(w), ft(h)}); });
}

Id Maker::circuit(const std::string& name, int breakerAmps, double otherAmps, const std::string& other) {
  HouseCircuit c;
  c.name = name;
  c.breaker = {breakerAmps * 1'000'000};
  const Id id = e_.add(c);
  if (otherAmps > 0) {
    OtherLoad load;
    load.name = other;
    load.circuit = id;
    load.amps = {std::llround(otherAmps * 1e6)};
    e_.add(load);
  }
  return id;
}

Id Maker::outlet(const std::string& name, Id circuitId, Place place, double heightFeet) {
  Outlet o;
  o.name = name;
  o.circuit = circuitId;
  o.at = at(place);
  o.height = ft(heightFeet);
  return e_.add(o);
}

Id Maker::box(const std::string& name, Place place, Id wall) {
  Box b;
  b.name = name;
  b.at = at(place);
  b.wall = wall;
  if (const auto* w = find<Wall>(e_.yard(), wall))
    b.at = {base::toLength({base::distance(base::vec(w->from), base::vec(at(place)))}), ft(4)};
  return e_.add(b);
}

Id Maker::controller(Id boxId, const std::string& name, const std::string& address, int pixelsPerPort) {
  Controller c;
  c.name = name;
  c.box = boxId;
  c.address = address;
  c.pixelsPerPort = pixelsPerPort;
  return e_.add(c);
}

Section Maker::section(Id boxId, Id outletId, Id controllerId, int firstPort, int ports, int amps, int fuses,
                       double fuseAmps) {
  Section s;
  Supply supply;
  supply.box = boxId;
  supply.outlet = outletId;
  supply.ratedAmps = {amps * 1'000'000};
  supply.powerFactor = {970'000};
  supply.efficiency = {870'000};
  s.supply = e_.add(supply);
  std::int64_t number = 0;
  e_.update<Controller>(controllerId, [&](Controller& c) {
    c.sections.push_back({s.supply, {30'000'000}});
    number = static_cast<std::int64_t>(c.sections.size());
  });
  const base::Current fuse{std::llround(fuseAmps * 1e6)};
  for (int i = 0; i < ports; ++i) {
    Port p;
    p.owner = controllerId;
    p.number = firstPort + i;
    p.section = number;
    p.fuse = fuse;
    s.ports.push_back(e_.add(p));
  }
  for (int i = 0; i < fuses; ++i) {
    FusePosition f;
    f.supply = s.supply;
    f.number = i + 1;
    f.fuse = fuse;
    s.fuses.push_back(e_.add(f));
  }
  return s;
}

Id Maker::prop(const std::string& kind, const std::string& name, Place place, const std::vector<Size>& sizes,
               double headingDegrees) {
  Prop p = shapes::usualProp(kind);
  p.name = name;
  p.at = at(place);
  p.heading = base::toAngle(headingDegrees);
  for (const Size& s : sizes) p.sizes[s.name] = s.feet ? ft(s.value).count : std::llround(s.value);
  return e_.add(p);
}

Id Maker::wallProp(const std::string& kind, const std::string& name, Id wall, double x, double height,
                   const std::vector<Size>& sizes, const std::vector<Place>& points) {
  const Id id = prop(kind, name, {x, height}, sizes);
  e_.update<Prop>(id, [&](Prop& p) { p.wall = wall; });
  if (!points.empty()) path(id, points);
  return id;
}

void Maker::path(Id propId, const std::vector<Place>& points) {
  e_.update<Prop>(propId, [&](Prop& p) {
    p.path.clear();
    for (const Place point : points) p.path.push_back(at(point));
  });
}

Id Maker::addRun(Id port, const std::vector<RunItem>& items) {
  Run r;
  r.port = port;
  r.items = items;
  return e_.add(r);
}

Id Maker::run(Section& section, const std::vector<Id>& props) {
  std::vector<RunItem> items;
  for (const Id id : props) {
    items.emplace_back();
    items.back().prop = id;
  }
  return addRun(section.ports.at(section.nextPort++), items);
}

void Maker::feed(Section& section, Id propId, std::int64_t pixel, const std::string& wireName) {
  Cable c;
  c.from = {TerminalKind::FusePosition, section.fuses.at(section.nextFuse++), 0};
  c.to = {TerminalKind::PropPixel, propId, pixel};
  c.wire = wireName.empty() ? yard::settings(e_.yard()).usualFeed : wire(wireName);
  e_.add(c);
}

void Maker::string(std::vector<Section*> sections, const std::vector<Id>& props, std::int64_t most,
                   std::int64_t every, const std::string& feedWire) {
  struct At {
    Id prop;
    std::int64_t pixel;
    bool joint;
  };
  std::vector<At> all;
  std::map<Id, std::int64_t> sizes;
  for (const Id id : props) {
    const shapes::Shape shape = shapeOf(e_.yard(), id);
    std::vector<bool> joint(shape.pixels.size() + 1, false);
    for (const shapes::Joint& j : shape.joints) joint[static_cast<std::size_t>(j.afterPixel)] = true;
    joint[shape.pixels.size()] = true;
    sizes[id] = static_cast<std::int64_t>(shape.pixels.size());
    for (std::size_t k = 1; k <= shape.pixels.size(); ++k)
      all.push_back({id, static_cast<std::int64_t>(k), joint[k]});
  }
  std::size_t section = 0;
  for (std::size_t start = 0; start < all.size();) {
    std::size_t end = std::min(all.size(), start + static_cast<std::size_t>(most));
    while (end > start + 1 && end < all.size() && !all[end - 1].joint) --end;
    while (section < sections.size() && sections[section]->nextPort == sections[section]->ports.size())
      ++section;
    if (section == sections.size()) throw std::runtime_error("out of ports");
    Section& s = *sections[section];
    std::vector<RunItem> items;
    for (std::size_t k = start; k < end; ++k) {
      if (items.empty() || items.back().prop != all[k].prop) {
        items.emplace_back();
        items.back().prop = all[k].prop;
        items.back().first = all[k].pixel;
      }
      items.back().last = all[k].pixel;
    }
    for (RunItem& item : items)
      if (item.first == 1 && item.last == sizes[item.prop]) item.first = item.last = 0;
    addRun(s.ports[s.nextPort++], items);
    const auto n = static_cast<std::int64_t>(end - start);
    const std::int64_t feeds = every > 0 ? (n + every / 4) / every : 0;
    for (std::int64_t f = 1; f <= feeds; ++f) {
      std::size_t k = start + static_cast<std::size_t>((n - 1) * f / feeds);
      while (k > start && !all[k].joint) --k;
      feed(s, all[k].prop, all[k].pixel, feedWire);
    }
    start = end;
  }
}

void Maker::mendReach(std::size_t leave) {
  for (int tries = 0; tries < 200; ++tries) {
    const assess::AssessmentPtr a = assess::assess(e_.yard());
    const findings::Report report = findings::report(*a);
    std::size_t seen = 0;
    std::optional<propose::Proposal> proposal;
    for (const findings::Finding& f : report.findings)
      if (f.rule == "data_reach" && f.severity == findings::Severity::WontWork && seen++ >= leave &&
          !proposal)
        proposal = propose::remedy(a, report, f);
    if (!proposal) return;
    for (const edit::Replacement& r : proposal->change.replacements) e_.replace(r.id, *r.after);
  }
}

}  // namespace yw::samples
