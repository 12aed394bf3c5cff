// A yard with one prop of every kind, for trying sizes, build sheets and the gallery.
#include "sample-yards/maker.h"

namespace yw::samples {

using namespace yw::yard;

namespace {

/// Ground props stand in rows in front of the house, wall props hang on its front.
struct Grid {
  double x = 8, y = 8;
  Place next() {
    const Place place{x, y};
    x += 16;
    if (x > 110) {
      x = 8;
      y += 14;
    }
    return place;
  }
};

}  // namespace

yard::Yard everyProp() {
  Maker m("Every prop");
  m.settings("12 V node, resistor type", 30);
  m.feature(FeatureKind::LotLine, "Lot line", {{0, 0}, {120, 0}, {120, 110}, {0, 110}, {0, 0}});
  const std::vector<Id> walls = m.house({20, 76}, {100, 104}, 9, 6);
  const Id circuit = m.circuit("Porch", 20, 0, "");
  const Id outlet = m.outlet("Porch outlet", circuit, {60, 75});
  const Id box = m.box("K1", {62, 74});
  const Id controller = m.controller(box, "K1", "192.168.1.40", 1024);
  m.section(box, outlet, controller, 1, 16, 30, 8, 5);
  Grid grid;
  double along = 4;
  for (const shapes::Kind& kind : shapes::kinds()) {
    if (kind.onWall) {
      m.wallProp(kind.name, kind.label, walls.front(), along, kind.name == "drop_line" ? 8.5 : 1);
      along += 11;
    } else {
      m.prop(kind.name, kind.label, grid.next());
    }
  }
  for (int i = 1; i <= 3; ++i)
    m.prop("arch", "Small arch " + std::to_string(i), grid.next(), {{"radius", 2}});
  return m.editor().yard();
}

}  // namespace yw::samples
