// A corner lot with a tall cone tree that is seen from two streets: three boxes, each beside what it feeds.
#include "sample-yards/maker.h"

namespace yw::samples {

using namespace yw::yard;

namespace {

void ground(Maker& m) {
  m.feature(FeatureKind::LotLine, "Lot line", {{-20, 40}, {-20, -62}, {96, -62}, {96, 40}});
  m.feature(FeatureKind::Walk, "Front walk", {{24, 0}, {28, 0}, {28, -62}, {24, -62}});
  m.feature(FeatureKind::Walk, "Side walk", {{52, 14}, {52, 18}, {96, 18}, {96, 14}});
  m.feature(FeatureKind::Drive, "Drive", {{-18, 36}, {-6, 36}, {-6, -62}, {-18, -62}});
  m.feature(FeatureKind::Bed, "Front bed", {{1, -1}, {22, -1}, {22, -5}, {1, -5}});
  m.feature(FeatureKind::Tree, "Oak", {{82, -14}, {83.5, -15.5}, {85, -14}, {83.5, -12.5}}, 40);
  m.feature(FeatureKind::KeepOut, "Corner sight triangle", {{96, -62}, {76, -62}, {96, -42}}, 0,
            "drivers must see across");
  m.feature(FeatureKind::KeepOut, "Water main", {{36, -62}, {36.5, -62}, {36.5, 0}, {36, 0}}, 0,
            "water main, located", 1.5);
  m.editor().add(AudiencePoint{"South street", {base::feet(26), base::feet(-70)}, base::inches(62), {}});
  m.editor().add(
      AudiencePoint{"East street", {base::feet(104), base::feet(-10)}, base::inches(42), base::toAngle(90)});
}

/// The front lawn and the front of the house, from K2 on the front wall.
void front(Maker& m, Id wall, Id outletA, Id outletB) {
  const Id k2 = m.box("K2", {20.5, 0}, wall);
  const Id controller = m.controller(k2, "C2", "192.168.20.22", 1024);
  Section f1 = m.section(k2, outletA, controller, 1, 8, 50, 14, 4);
  Section f2 = m.section(k2, outletB, controller, 9, 8, 50, 12, 4);
  const Id eave = m.wallProp("eave_line", "Front eave", wall, 1, 10, {{"pitch", 1.0 / 3}}, {{0, 0}, {50, 0}});
  const Id bay = m.wallProp("window_outline", "Bay window", wall, 8, 3, {{"width", 8}, {"height", 5}});
  const Id door = m.wallProp("door_outline", "Front door", wall, 24, 0, {{"width", 3.5}, {"height", 7}});
  m.string({&f1}, {eave}, 800, 120);
  m.string({&f1}, {door, bay}, 800, 170);
  std::vector<Id> hoops, trees;
  for (int i = 0; i < 4; ++i)
    hoops.push_back(m.prop("arch", "Hoop " + std::to_string(i + 1), {20.0 - 6 * i, -12},
                           {{"radius", 2.5}, {"pitch", 2.5 / 12}}));
  m.string({&f1}, hoops, 800, 120);
  for (int i = 0; i < 3; ++i)
    trees.push_back(m.prop("small_cone_tree", "Little tree " + std::to_string(i + 1), {19.0 - 7 * i, -22}));
  m.string({&f1}, trees, 400, 180);
  const Id panel = m.prop("mesh_panel", "Panel", {10, -34}, {{"pitch", 2.0 / 12}});
  m.string({&f2}, {panel}, 576, 192, "12/2");
}

/// The side yard from K3. Its run of flakes has no feed of its own: something to mend.
void side(Maker& m, Id wall, Id outlet) {
  const Id k3 = m.box("K3", {52, 8}, wall);
  const Id controller = m.controller(k3, "C3", "192.168.20.23", 1024);
  Section s = m.section(k3, outlet, controller, 1, 8, 29, 8, 4);
  const Id gable = m.wallProp("gable", "Side gable", wall, 0, 10,
                              {{"run", 17}, {"pitch_rise", 7, false}, {"pitch", 1.0 / 3}});
  m.run(s, {gable});
  std::vector<Id> poles, flakes;
  for (int i = 0; i < 3; ++i)
    poles.push_back(m.prop("strip_pole", "Pole " + std::to_string(i + 1), {60.0 + 8 * i, 4}));
  m.string({&s}, poles, 400, 112);
  for (int i = 0; i < 3; ++i)
    flakes.push_back(m.prop("snowflake", "Flake " + std::to_string(i + 1), {60.0 + 8 * i, 24}, {}, 90));
  m.run(s, flakes);
}

}  // namespace

Yard cornerLot() {
  Maker m("Corner lot");
  m.settings("12 V node, resistor type", 30);
  m.season("2026-11-14", "2026-11-27", "2027-01-02", "2027-01-16", 3);
  const std::vector<Id> walls = m.house({0, 0}, {52, 34}, 10, 7);
  m.opening(walls[0], OpeningKind::Eave, "Front eave", 0, 10, 52, 0.5);
  m.opening(walls[0], OpeningKind::Window, "Bay window", 8, 3, 8, 5);
  m.opening(walls[0], OpeningKind::Door, "Front door", 24, 0, 3.5, 7);
  m.opening(walls[1], OpeningKind::Gable, "Side gable", 0, 10, 34, 0);
  m.opening(walls[1], OpeningKind::Window, "Side window", 13, 4, 6, 4);
  ground(m);
  const Id c1 = m.circuit("14, Front", 20, 0, ""), c2 = m.circuit("16, Side", 20, 0, "");
  const Id c3 = m.circuit("18, Garage", 20, 5.2, "Freezer and door"), c4 = m.circuit("20, Yard", 20, 0, "");
  const Id frontOutlet = m.outlet("Front outlet", c1, {22, 0}),
           sideOutlet = m.outlet("Side outlet", c2, {52, 10});
  const Id yardOutlet = m.outlet("Yard post", c4, {64, -22}),
           garageOutlet = m.outlet("Garage outlet", c3, {0, 20});

  // K1: the tall tree, 40 strips, beside its base ring.
  const Id k1 = m.box("K1", {63, -24});
  const Id controller = m.controller(k1, "C1", "192.168.20.21", 1024);
  Section t1 = m.section(k1, yardOutlet, controller, 1, 4, 50, 14, 4);
  Section t2 = m.section(k1, yardOutlet, controller, 5, 4, 50, 14, 4);
  const Id tree = m.prop("cone_tree", "Tall tree", {56, -30},
                         {{"height", 22},
                          {"base_diameter", 11},
                          {"top_diameter", 2.5},
                          {"strips", 40, false},
                          {"pitch", 2.5 / 12}});
  m.string({&t1, &t2}, {tree}, 660, 220, "12/2");
  front(m, walls[0], frontOutlet, garageOutlet);
  side(m, walls[1], sideOutlet);
  m.mendReach(1);
  return m.editor().yard();
}

}  // namespace yw::samples
