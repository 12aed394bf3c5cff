#pragma once
// A small yard with something to pull runs through.
#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/tools/run_tool.h"

namespace yw::ui {

/// A box with a supply, a controller of two ports and three rings in a row, 50 pixels each at the usual sizes
/// or as they come.
struct Wired : Bench<> {
  base::Id box, supply, controller, port1, port2, a, b, c;
  explicit Wired(std::int64_t pixelsPerPort = 1024) {
    edit::Editor editor(document.yard());
    yard::Box k;
    k.name = "K1";
    k.at = base::point(base::Vec2{-4, 0});
    box = editor.add(k);
    yard::Supply s;
    s.name = "V1";
    s.box = box;
    supply = editor.add(s);
    yard::FusePosition f;
    f.supply = supply;
    editor.add(f);
    yard::Controller owner;
    owner.name = "C1";
    owner.box = box;
    owner.pixelsPerPort = pixelsPerPort;
    owner.sections = {yard::PowerSection{supply, {30'000'000}}};
    controller = editor.add(owner);
    yard::Port port;
    port.owner = controller;
    port1 = editor.add(port);
    port.number = 2;
    port2 = editor.add(port);
    document.commit(editor.finish("gear"));
    a = addProp("ring", "Ring 1", -2, 0);
    b = addProp("ring", "Ring 2", 0, 0);
    c = addProp("ring", "Ring 3", 2, 0);
    lookAtOrigin();
    document.settle();
  }
  std::int64_t pixels(base::Id prop) {
    document.settle();
    return static_cast<std::int64_t>(document.assessment()->shapes.at(prop)->pixels.size());
  }
  const yard::Run* run() {
    const auto all = yard::all<yard::Run>(document.yard());
    return all.empty() ? nullptr : all.front().second;
  }
  RunTool& tool() { return dynamic_cast<RunTool&>(view.tool()); }
  /// All three rings on the first port, as a hand would click them.
  base::Id pullAll() {
    view.startRun(port1);
    for (const double x : {-2.0, 0.0, 2.0}) click(view, at(x, 0));
    key(view, Qt::Key_Return);
    document.settle();
    document.selection().clear();
    return yard::all<yard::Run>(document.yard()).front().first;
  }
};

}  // namespace yw::ui
