// Large grounds: over 60,000 pixels in twelve fields on both sides of an avenue, each field with its own box.
#include "sample-yards/maker.h"

namespace yw::samples {

using namespace yw::yard;

namespace {

/// Running numbers of the props' names.
struct Counts {
  int tall = 0, panel = 0, little = 0, arch = 0, pole = 0;
};

std::string numbered(const char* name, int& count) {
  return std::string(name) + " " + std::to_string(++count);
}

/// One field with its lower left corner at `at`: outlets, a box of six supplies, and its props.
void field(Maker& m, int number, Place at, int talls, Counts& counts) {
  std::vector<Id> outlets;
  const std::string name = std::to_string(number);
  for (int k = 0; k < 3; ++k) {
    const Id circuit = m.circuit("F" + name + "-" + std::to_string(k + 1), 20, 0, "");
    outlets.push_back(
        m.outlet("Post " + name + "-" + std::to_string(k + 1), circuit, {at.x + 27.0 + k, at.y + 24}));
  }
  const Id box = m.box("K" + name, {at.x + 28, at.y + 22});
  const Id controller = m.controller(box, "C" + name, "192.168.21." + std::to_string(10 + number), 1024);
  std::vector<Section> sections;
  for (int i = 0; i < 7; ++i)
    sections.push_back(
        m.section(box, outlets[static_cast<std::size_t>(i) % 3], controller, 1 + i * 4, 4, 50, 14, 4));
  std::vector<Section*> all;
  for (Section& s : sections) all.push_back(&s);

  for (int i = 0; i < talls; ++i)
    m.string(all,
             {m.prop("cone_tree", numbered("Tall tree", counts.tall), {at.x + 14.0 + 28 * i, at.y + 30},
                     {{"height", 20},
                      {"base_diameter", 10},
                      {"top_diameter", 2},
                      {"strips", 28, false},
                      {"pitch", 2.5 / 12}})},
             600, 200, "12/2");
  const Id panel =
      m.prop("mesh_panel", numbered("Panel", counts.panel), {at.x + 28, at.y + 34}, {{"pitch", 2.0 / 12}});
  m.string(all, {panel}, 576, 192, "12/2");
  std::vector<Id> littles, arches, poles;
  for (int i = 0; i < 6; ++i)
    littles.push_back(
        m.prop("small_cone_tree", numbered("Little tree", counts.little), {at.x + 6 + 9.0 * i, at.y + 12}));
  m.string(all, littles, 540, 180, "12/2");
  for (int i = 0; i < 8; ++i)
    arches.push_back(m.prop("arch", numbered("Arch", counts.arch), {at.x + 4 + 6.8 * i, at.y + 4},
                            {{"radius", 3}, {"pitch", 2.5 / 12}}));
  m.string(all, arches, 400, 184, "12/2");
  for (int i = 0; i < 5; ++i)
    poles.push_back(m.prop("strip_pole", numbered("Pole", counts.pole), {at.x + 8 + 10.0 * i, at.y + 42}));
  // The poles of field 6 have no feeds: something to mend.
  m.string(all, poles, 560, number == 6 ? 0 : 140, "12/2");
}

}  // namespace

Yard largeGrounds() {
  Maker m("Large grounds");
  m.settings("12 V node, resistor type", 25);
  m.season("2026-10-24", "2026-11-20", "2027-01-06", "2027-01-20", 8);
  const std::vector<Id> walls = m.house({120, 224}, {220, 264}, 14, 6);
  for (int i = 0; i < 6; ++i)
    m.opening(walls[0], OpeningKind::Window, "Window " + std::to_string(i + 1), 8.0 + 15 * i, 4, 6, 6);
  m.feature(FeatureKind::LotLine, "Lot line", {{-10, 280}, {-10, -20}, {350, -20}, {350, 280}});
  m.feature(FeatureKind::Drive, "Avenue", {{160, -20}, {180, -20}, {180, 224}, {160, 224}});
  m.feature(FeatureKind::Walk, "West walk", {{20, 62}, {160, 62}, {160, 68}, {20, 68}});
  m.feature(FeatureKind::Walk, "East walk", {{180, 62}, {320, 62}, {320, 68}, {180, 68}});
  m.feature(FeatureKind::Water, "Pond", {{324, 150}, {338, 145}, {345, 165}, {340, 182}, {326, 175}});
  for (int i = 0; i < 6; ++i) {
    const double y = 10.0 + 40 * i;
    m.feature(FeatureKind::Tree, "Linden " + std::to_string(i + 1), {{6, y}, {8, y - 2}, {10, y}, {8, y + 2}},
              30);
  }
  m.feature(FeatureKind::KeepOut, "Power line", {{247, -20}, {248, -20}, {248, 60}, {247, 60}}, 0,
            "buried power, located", 1);
  Counts counts;
  const double columns[] = {24, 92, 184, 254}, rows[] = {6, 76, 146};
  int number = 0;
  for (const double y : rows)
    for (const double x : columns) {
      ++number;
      field(m, number, {x, y}, number == 3 ? 2 : 1 + number % 2, counts);
    }
  m.mendReach(2);
  return m.editor().yard();
}

}  // namespace yw::samples
