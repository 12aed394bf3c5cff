#pragma once
// A yard with a bit of everything that is printed: a house with a gable, walks, a keep-out, two boxes, runs
// with null pixels and boosters, feeds with and without a cut, and owned leads.
#include "core/assess/assess.h"
#include "core/edit/change.h"
#include "core/findings/findings.h"
#include "core/papers/papers.h"
#include "core/shapes/shape.h"

namespace yw::paperyard {

using base::Id;
using namespace yw::yard;

inline base::Point at(double x, double y) { return base::point({x, y}); }
inline base::Length m(double metres) { return base::toLength({metres}); }

struct PaperYard {
  edit::Editor e{emptyYard()};
  Id circuit, outlet, wall, box1, box2, supply1, supply2, controller, receiver, arch, tree, panel, window,
      run1, run2, run3, feed1, feed2, keepOut;
  std::vector<Id> ports1, ports2, fuses1, fuses2;

  explicit PaperYard(int arches = 3) {
    e.update<Site>(siteId(e.yard()), [](Site& s) { s.name = "Maple corner"; });
    ground();
    boxes();
    props(arches);
    runs(arches);
  }

  template <class R>
  Id add(R record) {
    return e.add(std::move(record));
  }

  void ground() {
    GroundFeature house{
        FeatureKind::House, "House", {at(0, 0), at(10, 0), at(10, 8), at(0, 8)}, m(5), "", {}, true, false};
    const Id houseId = add(house);
    add(GroundFeature{FeatureKind::Walk,
                      "Front walk",
                      {at(6, -8), at(7, -8), at(7, 0), at(6, 0)},
                      {},
                      "",
                      {},
                      false,
                      true});
    add(GroundFeature{FeatureKind::Tree,
                      "Oak",
                      {at(-3, -3), at(-2, -3), at(-2, -2), at(-3, -2)},
                      m(8),
                      "",
                      {},
                      true,
                      false});
    add(GroundFeature{
        FeatureKind::LotLine, "Lot line", {at(-5, -9), at(14, -9), at(14, 9)}, {}, "", {}, false, false});
    keepOut = add(GroundFeature{FeatureKind::KeepOut,
                                "Gas",
                                {at(-5, -7), at(2, -7), at(2, -6.5), at(-5, -6.5)},
                                {},
                                "buried gas line",
                                m(0.5),
                                false,
                                false});
    Wall front;
    front.name = "Front wall";
    front.feature = houseId;
    front.from = at(0, 0);
    front.to = at(10, 0);
    front.openings = {{OpeningKind::Gable, "Gable", at(2, 2.7), m(6), {}},
                      {OpeningKind::Window, "Window", at(1, 1), m(1.5), m(1.2)}};
    wall = add(front);
    add(AudiencePoint{"Curb", at(5, -10), base::inches(62), {}});
  }

  void boxes() {
    circuit = add(HouseCircuit{"7 Porch", {15'000'000}, {120'000'000}, true});
    outlet = add(Outlet{"Porch outlet", circuit, at(8, 0), base::inches(18)});
    add(OtherLoad{"Porch lamp", circuit, {500'000}, at(8, 0)});
    box1 = add(Box{"K1", at(9, -1), {}, base::inches(12), ""});
    box2 = add(Box{"K2", at(-4, -4), {}, base::inches(12), "Behind the oak"});
    supply1 = add(Supply{"", box1, outlet});
    supply2 = add(Supply{"", box2, outlet});
    for (int i = 1; i <= 4; ++i) fuses1.push_back(add(FusePosition{supply1, i}));
    for (int i = 1; i <= 2; ++i) fuses2.push_back(add(FusePosition{supply2, i}));
    Controller c;
    c.name = "C1";
    c.box = box1;
    c.sections = {{supply1, {30'000'000}}};
    c.address = "192.168.7.21";
    controller = add(c);
    Receiver r;
    r.name = "D1";
    r.box = box2;
    r.controller = controller;
    r.sections = {{supply2, {30'000'000}}};
    receiver = add(r);
    for (int i = 1; i <= 4; ++i) ports1.push_back(add(Port{controller, i}));
    for (int i = 1; i <= 2; ++i) ports2.push_back(add(Port{receiver, i}));
  }

  Id addProp(const std::string& kind, const std::string& name, base::Point place, Id onWall = {}) {
    Prop p = shapes::usualProp(kind);
    p.name = name;
    p.at = place;
    p.wall = onWall;
    return add(p);
  }

  void props(int arches) {
    arch = addProp("arch", "Arch 1", at(1, -3));
    for (int i = 2; i <= arches; ++i) addProp("arch", "Arch " + std::to_string(i), at(1 + 2.4 * (i - 1), -3));
    tree = addProp("small_cone_tree", "Little tree", at(12, -4));
    panel = addProp("mesh_panel", "Panel", at(-1, -5));
    window = addProp("window_outline", "Porch window", at(1, 1), wall);
  }

  static RunItem stretch(Id prop) {
    RunItem item;
    item.prop = prop;
    return item;
  }

  Id addRun(const std::string& name, Id port, std::vector<RunItem> items) {
    Run run;
    run.name = name;
    run.port = port;
    run.items = std::move(items);
    return add(run);
  }

  void runs(int arches) {
    std::vector<RunItem> items;
    for (const auto& [id, prop] : all<Prop>(e.yard()))
      if (prop->kind == "arch") items.push_back(stretch(id));
    RunItem null;
    null.kind = RunItemKind::NullPixel;
    if (arches > 1) items.insert(items.begin() + 1, null);
    run1 = addRun("Arches", ports1[0], items);
    RunItem turned = stretch(tree);
    turned.reversed = true;
    run2 = addRun("", ports1[1], {turned, stretch(window)});
    run3 = addRun("Panel", ports2[0], {stretch(panel)});
    feed1 = addFeed(fuses1[0], window, 5, false);
    feed2 = addFeed(fuses2[1], panel, 100, true);
  }

  Id addFeed(Id fuse, Id prop, std::int64_t pixel, bool cut) {
    Cable c;
    c.from = {TerminalKind::FusePosition, fuse, 0};
    c.to = {TerminalKind::PropPixel, prop, pixel};
    c.wire = settings(e.yard()).usualFeed;
    c.cutPositive = cut;
    return add(c);
  }

  assess::AssessmentPtr assessed() const { return assess::assess(e.yard()); }
};

/// Everything one needs to print: assessment and report together.
struct Printed {
  assess::AssessmentPtr a;
  findings::Report report;
  explicit Printed(const Yard& yard) : a(assess::assess(yard)), report(findings::report(*a)) {}
  explicit Printed(const PaperYard& y) : Printed(y.e.yard()) {}
  papers::Document all() const { return papers::document(*a, report, papers::sheetsOf(*a)); }
  papers::Document one(SheetKind kind, Id subject = {}) const {
    return papers::document(*a, report, {{kind, subject}});
  }
};

inline std::string textsOf(const papers::Document& document) {
  std::string all;
  for (const papers::Page& page : document.pages)
    for (const papers::Item& item : page.items)
      if (item.type == papers::Item::Type::Text) all += item.text + "\n";
  return all;
}

}  // namespace yw::paperyard
