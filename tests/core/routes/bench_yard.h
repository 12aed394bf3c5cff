#pragma once
// A small yard put together by hand for tests: props whose pixels stand where the test says.
#include <memory>
#include <string>
#include <vector>

#include "core/routes/routes.h"

namespace yw::routes::testing {

inline std::int64_t nm(double metres) { return base::roundedCount(metres * 1e9); }
inline base::Length len(double metres) { return {nm(metres)}; }
inline base::Point at(double x, double y) { return {len(x), len(y)}; }

struct BenchYard {
  yard::Yard yard;
  Shapes shapes;

  BenchYard() {
    yard::Settings s;
    s.tail = len(0.3);
    s.dripLoop = len(0.15);
    s.slack = {100'000};
    s.roundUpTo = len(0.5);
    settings = add(s);
    yard::Wire w;
    w.name = "18/3";
    wire = add(w);
    yard::Product p;
    p.name = "node";
    p.wireSpacing = len(0.1);
    p.stringWire = wire;
    product = add(p);
    change<yard::Settings>(settings, [&](auto& r) {
      r.usualLead = r.usualFeed = wire;
      r.usualProduct = product;
    });
  }

  template <class R>
  Id add(R record) {
    const Id id{yard.nextId++};
    yard.records.emplace(id, std::make_shared<const yard::Record>(std::move(record)));
    return id;
  }
  template <class R, class Edit>
  void change(Id id, Edit&& edit) {
    R copy = *yard::find<R>(yard, id);
    edit(copy);
    yard.records[id] = std::make_shared<const yard::Record>(std::move(copy));
  }

  Id box(double x, double y, double height, Id wall = {}) {
    yard::Box b;
    b.name = "K" + std::to_string(++boxes_);
    b.at = at(x, y);
    b.height = len(height);
    b.wall = wall;
    return add(b);
  }
  Id controller(Id box) {
    yard::Controller c;
    c.name = "C" + std::to_string(yard.nextId);
    c.box = box;
    return add(c);
  }
  Id port(Id owner, std::int64_t number) {
    yard::Port p;
    p.owner = owner;
    p.number = number;
    return add(p);
  }
  Id wall(double x0, double y0, double x1, double y1) {
    yard::Wall w;
    w.from = at(x0, y0);
    w.to = at(x1, y1);
    return add(w);
  }
  /// A prop with its pixels where they are said, in its own frame; heading 0.
  Id prop(const std::string& name, double x, double y, std::vector<Vec3> pixels, Id wall = {}) {
    yard::Prop p;
    p.name = name;
    p.at = at(x, y);
    p.wall = wall;
    const Id id = add(p);
    shapes::Shape s;
    s.in = {pixels.front(), "6 o'clock"};
    s.out = {pixels.back(), "5 o'clock"};
    s.joints = {{static_cast<std::int64_t>(pixels.size()), "5 o'clock"}};
    s.hop.assign(pixels.size() - 1, 0.1);
    s.rows = {{"row 1", 1, static_cast<std::int64_t>(pixels.size())}};
    s.pixels = std::move(pixels);
    shapes.emplace(id, std::make_shared<const shapes::Shape>(std::move(s)));
    return id;
  }
  static yard::RunItem stretch(Id prop, std::int64_t first = 0, std::int64_t last = 0,
                               bool reversed = false) {
    yard::RunItem item;
    item.prop = prop;
    item.first = first;
    item.last = last;
    item.reversed = reversed;
    return item;
  }
  static yard::RunItem inLine(yard::RunItemKind kind, std::int64_t count = 1) {
    yard::RunItem item;
    item.kind = kind;
    item.count = count;
    return item;
  }
  Id run(Id port, std::vector<yard::RunItem> items, std::string name = "run") {
    yard::Run r;
    r.name = std::move(name);
    r.port = port;
    r.items = std::move(items);
    return add(r);
  }
  Routes routed() const { return route(yard, shapes, Ground(yard)); }

  Id settings, wire, product;

 private:
  int boxes_ = 0;
};

}  // namespace yw::routes::testing
