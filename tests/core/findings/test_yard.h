#pragma once
// A small sound yard for the rules: each test breaks it in one way and mends it again.
#include "core/assess/assess.h"
#include "core/edit/change.h"
#include "core/findings/findings.h"
#include "core/shapes/shape.h"

namespace yw::testyard {

using base::Id;
using base::Point;
using namespace yw::yard;

inline Point at(double xMetres, double yMetres) { return base::point({xMetres, yMetres}); }
inline base::Length m(double metres) { return base::toLength({metres}); }

struct TestYard {
  edit::Editor e{emptyYard()};
  Id circuit, circuit2, outlet, outlet2, box, supply, controller, ring, arch, run;
  std::vector<Id> ports, fuses;
  Id product(const std::string& name) const {
    for (const auto& [id, p] : all<Product>(e.yard()))
      if (p->name == name) return id;
    return {};
  }
  Id wire(const std::string& name) const {
    for (const auto& [id, w] : all<Wire>(e.yard()))
      if (w->name == name) return id;
    return {};
  }

  TestYard() {
    circuit = addCircuit("Garage");
    circuit2 = addCircuit("Porch");
    outlet = addOutlet("Garage outlet", circuit, at(0, 0.5));
    outlet2 = addOutlet("Porch outlet", circuit2, at(0, 1));
    Box k1;
    k1.name = "K1";
    k1.at = at(1, 0);
    box = e.add(k1);
    supply = addSupply(box, outlet, 12, 29);
    for (int i = 1; i <= 4; ++i) fuses.push_back(addFuse(supply, i));
    controller = addController(box, supply);
    for (int i = 1; i <= 4; ++i) ports.push_back(addPort(controller, i));
    ring = addProp("ring", "Ring 1", at(2, 3));
    arch = addProp("arch", "Arch 1", at(4.5, 3));
    // Short enough that even full white is within its 4 A fuse: 56 + 37 pixels of 40 mA.
    set<Prop>(ring, [](Prop& p) { p.sizes["diameter"] = base::inches(45).count; });
    run = addRun(ports[0], {ring, arch});
  }

  Id addCircuit(const std::string& name) {
    HouseCircuit c;
    c.name = name;
    return e.add(c);
  }
  Id addOutlet(const std::string& name, Id onCircuit, Point place) {
    Outlet o;
    o.name = name;
    o.circuit = onCircuit;
    o.at = place;
    return e.add(o);
  }
  Id addSupply(Id inBox, Id pluggedInto, int volts, int amps) {
    Supply s;
    s.box = inBox;
    s.outlet = pluggedInto;
    s.voltage = {volts * 1'000'000};
    s.ratedAmps = {amps * 1'000'000};
    return e.add(s);
  }
  Id addFuse(Id of, int number) {
    FusePosition f;
    f.supply = of;
    f.number = number;
    return e.add(f);
  }
  Id addController(Id inBox, Id fedBy) {
    Controller c;
    c.name = "C1";
    c.box = inBox;
    c.sections = {{fedBy, {30'000'000}}};
    return e.add(c);
  }
  Id addPort(Id owner, int number) {
    Port p;
    p.owner = owner;
    p.number = number;
    return e.add(p);
  }
  Id addProp(const std::string& kind, const std::string& name, Point place) {
    Prop p = shapes::usualProp(kind);
    p.name = name;
    p.at = place;
    return e.add(p);
  }
  static RunItem stretch(Id prop) {
    RunItem item;
    item.prop = prop;
    return item;
  }
  Id addRun(Id port, const std::vector<Id>& props) {
    Run r;
    r.port = port;
    for (const Id prop : props) r.items.push_back(stretch(prop));
    return e.add(r);
  }
  Id addFeed(Id fuse, Id prop, std::int64_t pixel) {
    Cable c;
    c.from = {TerminalKind::FusePosition, fuse, 0};
    c.to = {TerminalKind::PropPixel, prop, pixel};
    c.wire = settings(e.yard()).usualFeed;
    return e.add(c);
  }
  /// From the first port to the ring, for its run to take.
  Id addLead(ConductorSet conductors) {
    Cable c;
    c.from = {TerminalKind::Port, ports[0], 0};
    c.to = {TerminalKind::PropIn, ring, 0};
    c.conductors = conductors;
    return e.add(c);
  }
  Id addArea(FeatureKind kind, double x0, double y0, double x1, double y1, bool blocks) {
    GroundFeature f;
    f.kind = kind;
    f.name = kind == FeatureKind::Walk ? "Front walk" : kind == FeatureKind::Drive ? "Drive" : "Gas line";
    f.outline = {at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)};
    f.blocksLeads = blocks;
    f.reason = "buried gas line";
    return e.add(f);
  }
  /// A cord from an outlet, or from another box's strip, to a box.
  Id addBoxCord(Terminal from, Id toBox, const char* wireName = "14/3 cord") {
    Cable c;
    c.from = from;
    c.to = {TerminalKind::Box, toBox, 0};
    c.conductors = ConductorSet::Mains;
    c.wire = wire(wireName);
    return e.add(c);
  }
  template <class R, class F>
  void set(Id id, F change) {
    e.update<R>(id, change);
  }

  /// A long chain of arches on the second port, for volts and amps.
  Id addLongRun(Id port, int arches) {
    std::vector<Id> props;
    for (int i = 0; i < arches; ++i)
      props.push_back(addProp("arch", "Hoop " + std::to_string(i + 1), at(2 + 2.2 * i, 6)));
    return addRun(port, props);
  }
};

inline assess::AssessmentPtr assessed(const TestYard& y) {
  auto a = assess::assess(y.e.yard());
  assess::margins(*a);
  return a;
}

inline std::vector<findings::Finding> found(const TestYard& y, const std::string& rule) {
  std::vector<findings::Finding> of;
  for (const findings::Finding& f : findings::report(*assessed(y)).findings)
    if (f.rule == rule) of.push_back(f);
  return of;
}

}  // namespace yw::testyard
