// Words of every enumeration, in file and form, in the enumerators' order.
#include "core/yard/records.h"

namespace yw::yard {
namespace {
using Words = std::vector<ChoiceWord>;
}

const Words& kindWords() {
  static const Words all{{"settings", "Settings"},
                         {"site", "Site"},
                         {"ground_feature", "Ground feature"},
                         {"wall", "Wall"},
                         {"spot_height", "Spot height"},
                         {"audience_point", "Audience point"},
                         {"house_circuit", "House circuit"},
                         {"outlet", "Outlet"},
                         {"other_load", "Other load"},
                         {"box", "Box"},
                         {"supply", "Supply"},
                         {"fuse_position", "Fuse position"},
                         {"controller", "Controller"},
                         {"receiver", "Receiver"},
                         {"port", "Port"},
                         {"product", "Pixel"},
                         {"wire", "Wire"},
                         {"prop", "Prop"},
                         {"prop_array", "Array"},
                         {"run", "Run"},
                         {"cable", "Cable"},
                         {"owned_item", "Owned item"},
                         {"owned_lead", "Owned lead"},
                         {"price", "Price"},
                         {"measurement", "Measurement"},
                         {"left_as_is", "Left as is"},
                         {"keep_as_is", "Keep as is"},
                         {"issued_sheet", "Issued sheet"},
                         {"idea", "Idea"}};
  return all;
}

const Words& words(Origin) {
  static const Words all{{"assumed", "Assumed"}, {"maker", "Maker's figures"}, {"measured", "Measured"}};
  return all;
}

const Words& words(Material) {
  static const Words all{{"copper", "Copper"}, {"copper_clad_aluminum", "Copper-clad aluminum"}};
  return all;
}

const Words& words(AddressMode) {
  static const Words all{{"whole_pixel", "Whole pixels in a universe"}, {"packed", "Packed without gaps"}};
  return all;
}

const Words& words(PaperSize) {
  static const Words all{{"letter", "Letter"}, {"a4", "A4"}};
  return all;
}

const Words& words(CodeEdition) {
  static const Words all{{"NEC 2017", "NEC 2017"}, {"NEC 2020", "NEC 2020"}, {"NEC 2023", "NEC 2023"}};
  return all;
}

const Words& words(BoxCooling) {
  static const Words all{{"closed", "Through its closed walls"},
                         {"vented", "Through vents"},
                         {"open_air", "The supply stands in open air"}};
  return all;
}

const Words& words(Exposure) {
  static const Words all{
      {"b", "B: houses and trees around"}, {"c", "C: open country"}, {"d", "D: by open water"}};
  return all;
}

const Words& words(Crossing) {
  static const Words all{{"at_will", "At will"},
                         {"at_a_price", "Where going round costs more than a cover"},
                         {"never", "Never"}};
  return all;
}

const Words& words(PlugEnd) {
  static const Words all{{"male", "Male"}, {"female", "Female"}};
  return all;
}

const Words& words(FeatureKind) {
  static const Words all{{"house", "House"},
                         {"walk", "Walk"},
                         {"drive", "Drive"},
                         {"bed", "Bed"},
                         {"tree", "Tree"},
                         {"fence", "Fence"},
                         {"water", "Water"},
                         {"keep_out", "Keep out"},
                         {"lot_line", "Lot line"},
                         {"buried_line", "Buried line"},
                         {"public_strip", "Public strip"},
                         {"sight_triangle", "Sight triangle"},
                         {"trench", "Trench or duct"}};
  return all;
}

const Words& words(OpeningKind) {
  static const Words all{{"window", "Window"}, {"door", "Door"}, {"gable", "Gable"}, {"eave", "Eave"}};
  return all;
}

const Words& words(LoadModel) {
  static const Words all{{"constant_current", "Constant current"},
                         {"series_constant_current", "Constant current, LEDs in series"},
                         {"resistor", "Dropping resistor"},
                         {"regulated", "Regulator on board"}};
  return all;
}

const Words& words(PropStatus) {
  static const Words all{{"ready", "Ready"},
                         {"building", "Building"},
                         {"idea", "Idea"},
                         {"needs_repair", "Needs repair"},
                         {"not_this_year", "Not this year"}};
  return all;
}

const Words& words(RunItemKind) {
  static const Words all{{"stretch", "Stretch of a prop"},
                         {"null_pixel", "Null pixel"},
                         {"booster", "Booster"},
                         {"unused", "Unused pixels"}};
  return all;
}

const Words& words(ConductorSet) {
  static const Words all{
      {"power_and_data", "V+, 0 V and data"}, {"power_only", "V+ and 0 V"}, {"data_only", "Data"},
      {"positive_only", "V+ alone"},          {"zero_only", "0 V alone"},   {"mains", "House voltage"}};
  return all;
}

const Words& words(TerminalKind) {
  static const Words all{{"none", "Nothing"},
                         {"port", "Port"},
                         {"fuse_position", "Fuse position"},
                         {"prop_pixel", "Pixel of a prop"},
                         {"prop_in", "In end of a prop"},
                         {"prop_out", "Out end of a prop"},
                         {"supply", "Supply"},
                         {"outlet", "Outlet"},
                         {"controller", "Controller"},
                         {"receiver", "Receiver"},
                         {"box", "Box"}};
  return all;
}

const Words& words(SheetKind) {
  static const Words all{{"map", "Map"},           {"house_front", "House front"}, {"zone", "Zone"},
                         {"box_page", "Box page"}, {"run_page", "Run page"},       {"feeds", "Feeds"},
                         {"supplies", "Supplies"}, {"cut_list", "Cut list"},       {"addresses", "Addresses"},
                         {"parts", "Parts"},       {"build", "Build sheet"}};
  return all;
}

const Words& words(base::UnitSystem) {
  static const Words all{{"feet_inches", "Feet and inches"}, {"metric", "Metric"}};
  return all;
}

}  // namespace yw::yard
