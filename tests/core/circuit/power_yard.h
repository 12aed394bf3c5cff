#pragma once
// A yard by hand: every length and resistance is what the test says. Solid copper at 20 °C, no contacts.
#include <utility>

#include "core/circuit/power.h"

namespace yw::circuit::test {

using namespace yw::yard;
using base::Id;

struct PowerYard {
  Yard yard;
  Shapes shapes;
  Routes routes;
  Id settings, circuit, outlet, box, supply, controller, port, awg20, awg18, awg14, product;

  PowerYard() {
    Settings s;
    s.strandingFactor = {1'000'000};
    s.jointResistance = {0};
    settings = add(s);
    awg20 = addWire(20);
    awg18 = addWire(18);
    awg14 = addWire(14);
    product = addProduct();
    change<Settings>(settings, [&](Settings& r) { r.usualProduct = product; });
    circuit = add(HouseCircuit{});
    Outlet o;
    o.circuit = circuit;
    outlet = add(o);
    box = add(Box{});
    supply = addSupply(box);
    Controller c;
    c.box = box;
    c.sections = {{supply, {30'000'000}}};
    controller = add(c);
    port = addPort(controller, 1, 1);
  }

  template <class R>
  Id add(R record) {
    const Id id{yard.nextId++};
    yard.records[id] = std::make_shared<const Record>(std::move(record));
    return id;
  }
  template <class R, class F>
  void change(Id id, F&& with) {
    R record = *find<R>(yard, id);
    with(record);
    yard.records[id] = std::make_shared<const Record>(std::move(record));
  }
  Id addWire(std::int64_t gauge, ConductorSet set = ConductorSet::PowerAndData) {
    Wire w;
    w.gauge = gauge;
    w.conductors = set;
    return add(w);
  }
  /// 12 V, 40 mA of which 2 idle, 4 in apart on 20 AWG; true white down to 10.2 V.
  Id addProduct() {
    Product p;
    p.stringWire = awg20;
    return add(p);
  }
  Id addSupply(Id inBox) {
    Supply s;
    s.box = inBox;
    s.outlet = outlet;
    return add(s);
  }
  Id addPort(Id owner, std::int64_t number, std::int64_t section) {
    Port p;
    p.owner = owner;
    p.number = number;
    p.section = section;
    p.fuse = {0};
    return add(p);
  }
  /// A prop of `count` pixels whose hops are all shorter than the string's spacing.
  Id addProp(int count) {
    const Id id = add(Prop{});
    auto shape = std::make_shared<shapes::Shape>();
    shape->pixels.resize(static_cast<std::size_t>(count));
    shape->hop.assign(static_cast<std::size_t>(std::max(0, count - 1)), 0.01);
    shapes[id] = shape;
    return id;
  }
  void setHop(Id prop, std::size_t k, double metres) {
    auto shape = std::make_shared<shapes::Shape>(*shapes.at(prop));
    shape->hop[k] = metres;
    shapes[prop] = shape;
  }
  static RunItem stretch(Id prop, std::int64_t first = 0, std::int64_t last = 0, bool reversed = false) {
    RunItem item;
    item.prop = prop;
    item.first = first;
    item.last = last;
    item.reversed = reversed;
    return item;
  }
  static RunItem other(RunItemKind kind, std::int64_t count = 1) {
    RunItem item;
    item.kind = kind;
    item.count = count;
    return item;
  }
  Id addRun(Id onPort, std::vector<RunItem> items) {
    Run r;
    r.port = onPort;
    r.items = std::move(items);
    return add(r);
  }
  void cable(routes::CableRole role, Id of, std::int64_t item, Id wire, double metres,
             ConductorSet set = ConductorSet::PowerAndData) {
    routes::RoutedCable c;
    c.key = {role, of, item};
    c.wire = wire;
    c.planLength = metres;
    c.conductors = set;
    routes.cables[c.key] = c;
  }
  void lead(Id run, Id wire, double metres) { cable(routes::CableRole::Lead, run, 0, wire, metres); }
  void jumper(Id run, std::int64_t item, Id wire, double metres) {
    cable(routes::CableRole::Jumper, run, item, wire, metres);
  }
  Id addFusePosition(Id onSupply, base::Current fuse = {0}) {
    FusePosition p;
    p.supply = onSupply;
    p.fuse = fuse;
    return add(p);
  }
  /// A feed from `position` to a prop's pixel; its id is the cable record's.
  Id feed(Id position, Id prop, std::int64_t pixel, Id wire, double metres, bool cut = false) {
    Cable c;
    c.from = {TerminalKind::FusePosition, position, 0};
    c.to = {TerminalKind::PropPixel, prop, pixel};
    c.cutPositive = cut;
    const Id id = add(c);
    cable(routes::CableRole::Feed, id, 0, wire, metres, ConductorSet::PowerOnly);
    auto& routed = routes.cables[{routes::CableRole::Feed, id, 0}];
    routed.record = id;
    routed.from = c.from;
    routed.to = c.to;
    return id;
  }
  Power power(Condition condition = Condition::FullWhite) const {
    return compute(yard, shapes, routes, layouts(yard, shapes, routes), condition);
  }
};

inline constexpr double kFoot = 0.3048, kInch = 0.0254;

}  // namespace yw::circuit::test
