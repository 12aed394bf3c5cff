// A small front yard: under 1,000 pixels, one box. Most of it is right. Left to mend: one run is too long for
// its one end, leads cross the front walk, and one fuse is larger than its wire may be.
#include "sample-yards/maker.h"

namespace yw::samples {

using namespace yw::yard;

Yard porchAndLawn() {
  Maker m("Porch and lawn");
  m.settings("12 V node, resistor type", 30);
  m.season("2026-11-21", "2026-11-28", "2027-01-01", "2027-01-10", 2);
  const std::vector<Id> walls = m.house({0, 0}, {44, 28}, 9, 6);
  m.opening(walls[0], OpeningKind::Eave, "Eave", 0, 9, 44, 0.5);
  m.opening(walls[0], OpeningKind::Window, "Left window", 4, 3, 5, 4);
  m.opening(walls[0], OpeningKind::Window, "Right window", 13, 3, 5, 4);
  m.opening(walls[0], OpeningKind::Door, "Front door", 21, 0, 3, 7);
  m.opening(walls[0], OpeningKind::Door, "Garage door", 32, 0, 9, 7);
  m.feature(FeatureKind::LotLine, "Lot line", {{-14, 34}, {-14, -34}, {58, -34}, {58, 34}});
  m.feature(FeatureKind::Walk, "Front walk", {{21, 0}, {24.5, 0}, {24.5, -34}, {21, -34}});
  m.feature(FeatureKind::Drive, "Drive", {{31, 0}, {43, 0}, {43, -34}, {31, -34}});
  m.feature(FeatureKind::Bed, "Left bed", {{1, -1}, {19, -1}, {19, -4}, {1, -4}});
  m.feature(FeatureKind::Tree, "Maple", {{-9, -16}, {-8, -17}, {-7, -16}, {-8, -15}}, 25);
  m.feature(FeatureKind::KeepOut, "Gas line", {{-12, 2}, {-11.5, 2}, {-11.5, -34}, {-12, -34}}, 0,
            "gas line, located", 2);

  const Id porch = m.circuit("9, Porch", 15, 0.6, "Porch lamps");
  const Id garage = m.circuit("12, Garage", 20, 4.5, "Freezer");
  const Id porchOutlet = m.outlet("Porch outlet", porch, {26, 0});
  m.outlet("Garage outlet", garage, {30, 0});
  const Id k1 = m.box("K1", {27.5, 0}, walls[0]);
  const Id controller = m.controller(k1, "C1", "192.168.20.11", 1024);
  Section s = m.section(k1, porchOutlet, controller, 1, 8, 29, 6, 4);

  const Id eave = m.wallProp("eave_line", "Eave", walls[0], 1, 9, {{"pitch", 0.5}}, {{0, 0}, {42, 0}});
  const std::vector<Size> pane{{"width", 5}, {"height", 4}};
  const Id left = m.wallProp("window_outline", "Left window", walls[0], 4, 3, pane);
  const Id right = m.wallProp("window_outline", "Right window", walls[0], 13, 3, pane);
  const Id door = m.wallProp("door_outline", "Front door", walls[0], 21, 0);
  m.run(s, {eave});
  m.string({&s}, {door, right, left}, 400, 180);

  std::vector<Id> arches;
  for (int i = 0; i < 3; ++i)
    arches.push_back(m.prop("arch", "Arch " + std::to_string(i + 1), {16.5 - 5.8 * i, -9},
                            {{"radius", 2.5}, {"pitch", 2.5 / 12}}));
  m.run(s, arches);

  const Id tree = m.prop("small_cone_tree", "Little tree", {12, -16});
  const Id star = m.prop("star", "Star", {6, -15}, {{"levels", 2, false}});
  m.run(s, {tree, star});

  const Id stakes = m.prop("path_stakes", "Walk stakes", {26, -4}, {{"stakes", 9, false}});
  m.path(stakes, {{0, 0}, {0, -24}});
  m.run(s, {stakes});
  m.editor().update<Port>(s.ports[4], [](Port& p) { p.fuse = {7'500'000}; });
  m.editor().add(AudiencePoint{"Curb", {base::feet(22), base::feet(-38)}, base::inches(62), {}});
  m.mendReach(0);
  return m.editor().yard();
}

}  // namespace yw::samples
