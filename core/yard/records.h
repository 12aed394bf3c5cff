#pragma once
// Every record of the yard file: what a person decided or measured, nothing computed.
// Each record lists its fields once, in fields(); file, forms and command follow from that list.
#include <cstdint>
#include <map>
#include <string>
#include <variant>
#include <vector>

#include "core/base/exact.h"
#include "core/base/id.h"
#include "core/base/message.h"
#include "core/base/point.h"
#include "core/yard/field.h"

namespace yw::yard {

using base::Angle;
using base::Area;
using base::Current;
using base::Duration;
using base::Frequency;
using base::Id;
using base::Length;
using base::Mass;
using base::Money;
using base::Point;
using base::Power;
using base::Ratio;
using base::Resistance;
using base::Speed;
using base::Temperature;
using base::Voltage;

/// In the order of the alternatives of Record (end of this file) and of kindWords().
enum class RecordKind : std::uint8_t {
  Settings,
  Site,
  GroundFeature,
  Wall,
  SpotHeight,
  AudiencePoint,
  HouseCircuit,
  Outlet,
  OtherLoad,
  Box,
  Supply,
  FusePosition,
  Controller,
  Receiver,
  Port,
  Product,
  Wire,
  Prop,
  PropArray,
  Run,
  Cable,
  OwnedItem,
  OwnedLead,
  Price,
  Measurement,
  LeftAsIs,
  KeepAsIs,
  IssuedSheet,
  Idea,
};
inline constexpr int kRecordKinds = 29;

/// Where a figure comes from. Assumed figures are marked wherever they are used.
enum class Origin { Assumed, Maker, Measured };
enum class Material { Copper, CopperCladAluminium };
enum class AddressMode { WholePixel, Packed };
enum class PaperSize { Letter, A4 };
/// Editions of the NEC whose figures the program knows; local adoption varies.
enum class CodeEdition { Nec2017, Nec2020, Nec2023 };
/// How a box gets rid of its heat.
enum class BoxCooling { Closed, Vented, OpenAir };
enum class Exposure { B, C, D };
/// What a lead does where a walk or drive without a cover or duct lies in its way.
enum class Crossing { AtWill, AtAPrice, Never };
enum class PlugEnd { Male, Female };
enum class FeatureKind {
  House,
  Walk,
  Drive,
  Bed,
  Tree,
  Fence,
  Water,
  KeepOut,
  LotLine,
  BuriedLine,
  PublicStrip,
  SightTriangle,
  Trench
};
/// A line with two ends, not the edge of an area.
constexpr bool isLine(FeatureKind kind) {
  return kind == FeatureKind::Fence || kind == FeatureKind::LotLine || kind == FeatureKind::BuriedLine ||
         kind == FeatureKind::Trench;
}
enum class OpeningKind { Window, Door, Gable, Eave };
enum class LoadModel { ConstantCurrent, SeriesConstantCurrent, Resistor, Regulated };
enum class PropStatus { Ready, Building, Idea, NeedsRepair, NotThisYear };
enum class RunItemKind { Stretch, NullPixel, Booster, Unused };
enum class ConductorSet { PowerAndData, PowerOnly, DataOnly, PositiveOnly, ZeroOnly, Mains };
enum class TerminalKind {
  None,
  Port,
  FusePosition,
  PropPixel,
  PropIn,
  PropOut,
  Supply,
  Outlet,
  Controller,
  Receiver,
  Box
};
enum class SheetKind {
  Map,
  HouseFront,
  Zone,
  BoxPage,
  RunPage,
  Feeds,
  Supplies,
  CutList,
  Addresses,
  Parts,
  Build
};

const std::vector<ChoiceWord>& words(Origin);
const std::vector<ChoiceWord>& words(Material);
const std::vector<ChoiceWord>& words(AddressMode);
const std::vector<ChoiceWord>& words(PaperSize);
const std::vector<ChoiceWord>& words(CodeEdition);
const std::vector<ChoiceWord>& words(BoxCooling);
const std::vector<ChoiceWord>& words(Exposure);
const std::vector<ChoiceWord>& words(Crossing);
const std::vector<ChoiceWord>& words(PlugEnd);
const std::vector<ChoiceWord>& words(FeatureKind);
const std::vector<ChoiceWord>& words(OpeningKind);
const std::vector<ChoiceWord>& words(LoadModel);
const std::vector<ChoiceWord>& words(PropStatus);
const std::vector<ChoiceWord>& words(RunItemKind);
const std::vector<ChoiceWord>& words(ConductorSet);
const std::vector<ChoiceWord>& words(TerminalKind);
const std::vector<ChoiceWord>& words(SheetKind);
const std::vector<ChoiceWord>& words(base::UnitSystem);

/// Our own judgement and the yard's usual choices, once for the whole yard. One a yard, always present.
struct Settings {
  base::UnitSystem units = base::UnitSystem::FeetInches;
  Id usualProduct;
  Id usualLead;  ///< Wire for leads and jumpers
  Id usualFeed;  ///< Wire for feeds
  Voltage usualVoltage{12'000'000};
  Ratio brightnessLimit{300'000};
  Frequency frameRate{40'000};
  AddressMode addressMode = AddressMode::WholePixel;
  Ratio supplyUsable{800'000};                   ///< share of a supply's rating that may be planned on
  Ratio fuseUsable{750'000};                     ///< share of a fuse's rating that may be planned on
  Length controllerReach{base::feet(25).count};  ///< controller or receiver to first pixel
  Length jumperReach{base::feet(12).count};      ///< pixel to next pixel
  Length receiverReach{base::feet(250).count};   ///< controller to receiver on a differential pair
  Length tail{base::feet(1).count};              ///< added at each end of a lead
  Length dripLoop{base::inches(6).count};
  Ratio slack{70'000};
  Length roundUpTo{base::feet(1).count};
  Temperature wireTemperature{20'000};
  Ratio strandingFactor{1'025'000};
  Resistance jointResistance{5'000};  ///< one mated contact
  Ratio jointSpread{1'000'000};       ///< 19 in 20 lie within times and divided by 1 + this
  Ratio meterVolts{5'000};            ///< of a reading of volts: 19 in 20 lie within
  Ratio meterAmps{20'000};            ///< of a reading of amps
  Ratio lowChance{50'000};            ///< chance of a low run from which it is told
  Ratio tintLimit{800'000};  ///< weakest color against strongest, below which white is no longer white
  PaperSize paper = PaperSize::Letter;
  std::string currency = "$";
  CodeEdition codeEdition = CodeEdition::Nec2023;
  Temperature ambient{20'000};      ///< air round the boxes in the warmest hour of the show
  Current leakageBudget{3'000};     ///< standing earth leakage planned on one GFCI
  std::int64_t suppliesAtOnce = 4;  ///< that may start together on one breaker
  Ratio leadDrop{50'000};           ///< of the supply's volts, fuse to landing, when a wire is chosen
  Ratio cordDrop{30'000};           ///< of the line's volts, outlet to supply
  Ratio averageShare{500'000};      ///< of the watts at the brightness limit, over a night
  Money energyPrice{0};             ///< a kilowatt-hour; 0: not said
  Crossing walkCrossing = Crossing::AtWill, driveCrossing = Crossing::AtWill;
  Money walkCover{250'000}, driveCover{250'000};  ///< a cover or duct; our own judgement, no source
  Money diggingPrice{0};                          ///< a metre of trench; 0: leads lie on the ground
  Ratio trenchShare{800'000};  ///< what a metre in a trench counts as, where digging has no price
  bool operator==(const Settings&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Settings*) {
  visit(Field{"units", "Units"}, r.units);
  visit(Field{"usual_product", "Usual pixel", "New props get this one", {RecordKind::Product}},
        r.usualProduct);
  visit(Field{"usual_lead", "Usual lead", "Wire of leads and jumpers", {RecordKind::Wire}}, r.usualLead);
  visit(Field{"usual_feed", "Usual feed wire", "Wire of new feeds", {RecordKind::Wire}}, r.usualFeed);
  visit(
      Field{"usual_voltage", "Usual voltage", "New supplies get this one", {}, false, 1'000'000, 60'000'000},
      r.usualVoltage);
  visit(Field{"brightness_limit",
              "Brightness limit",
              "The most the show will ever ask for",
              {},
              false,
              10'000,
              1'000'000},
        r.brightnessLimit);
  visit(
      Field{
          "frame_rate", "Frame rate", "Frames a second that every port must keep", {}, false, 1'000, 200'000},
      r.frameRate);
  visit(Field{"address_mode", "Addresses", "Whole pixels in a universe, or packed without gaps"},
        r.addressMode);
  visit(
      Field{
          "supply_usable", "Usable part of a supply", "Common practice: 80 %", {}, false, 100'000, 1'000'000},
      r.supplyUsable);
  visit(Field{"fuse_usable",
              "Usable part of a fuse",
              "75 % at 25 °C by the fuse makers' guide",
              {},
              false,
              100'000,
              1'000'000},
        r.fuseUsable);
  visit(Field{"controller_reach",
              "Reach, port to first pixel",
              "Common practice: 25 ft",
              {},
              false,
              1,
              1'000'000'000'000},
        r.controllerReach);
  visit(Field{"jumper_reach",
              "Reach, pixel to next pixel",
              "Common practice: 12 ft",
              {},
              false,
              1,
              1'000'000'000'000},
        r.jumperReach);
  visit(Field{"receiver_reach",
              "Reach, controller to receiver",
              "Common practice: 250 ft",
              {},
              false,
              1,
              1'000'000'000'000},
        r.receiverReach);
  visit(Field{"tail", "Tail at each end of a lead", "Added when a lead is cut", {}, false, 0, 10'000'000'000},
        r.tail);
  visit(Field{"drip_loop", "Drip loop", "Added at each end of a lead", {}, false, 0, 10'000'000'000},
        r.dripLoop);
  visit(Field{"slack", "Slack", "Added to the whole length of a lead", {}, false, 0, 1'000'000}, r.slack);
  visit(Field{"round_up_to", "Round leads up to", "", {}, false, 1'000'000, 10'000'000'000}, r.roundUpTo);
  visit(Field{"wire_temperature",
              "Wire temperature",
              "20 °C is on the safe side in winter",
              {},
              false,
              -60'000,
              110'000},
        r.wireTemperature);
  visit(Field{"stranding_factor",
              "Stranding factor",
              "Strands are longer than the cable: 102.5 %",
              {},
              false,
              1'000'000,
              1'200'000},
        r.strandingFactor);
  visit(Field{"joint_resistance", "Resistance of one plug contact", "Assumed", {}, false, 0, 1'000'000},
        r.jointResistance);
  visit(Field{"joint_spread",
              "Spread of plug contacts",
              "100 %: 19 in 20 lie between half and twice; common practice, no source",
              {},
              false,
              0,
              20'000'000},
        r.jointSpread);
  visit(Field{"meter_volts",
              "Your meter's error in volts",
              "From its data sheet; 0.5 % is usual, from memory",
              {},
              false,
              100,
              200'000},
        r.meterVolts);
  visit(Field{"meter_amps",
              "Your meter's error in amps",
              "From its data sheet; 2 % is usual for a clamp, from memory",
              {},
              false,
              100,
              500'000},
        r.meterAmps);
  visit(Field{"low_chance",
              "Tell when a run may go low",
              "Chance from which it is told; common practice, no source: 5 %",
              {},
              false,
              100,
              1'000'000},
        r.lowChance);
  visit(Field{"tint_limit",
              "Weakest color of white",
              "Of the strongest, in percent of their light; common practice: 80 %",
              {},
              false,
              100'000,
              1'000'000},
        r.tintLimit);
  visit(Field{"paper", "Paper"}, r.paper);
  visit(Field{"currency", "Currency sign"}, r.currency);
  visit(Field{"code_edition", "Electrical code edition", "Its figures and section numbers are used"},
        r.codeEdition);
  visit(Field{"ambient",
              "Air around the boxes",
              "In the warmest hour of the show; 20 °C is on the safe side in winter",
              {},
              false,
              -60'000,
              80'000},
        r.ambient);
  visit(Field{"leakage_budget",
              "Leakage planned on one GFCI",
              "Common practice: 3 mA; it trips between 4 and 6 mA (UL 943)",
              {},
              false,
              100,
              30'000},
        r.leakageBudget);
  visit(Field{"supplies_at_once",
              "Supplies started together on a breaker",
              "From memory: 4 to 6 without a staggered start",
              {},
              false,
              1,
              100},
        r.suppliesAtOnce);
  visit(Field{"lead_drop",
              "Volts that may be lost on a lead or feed",
              "When a wire is proposed; common practice: 5 %, no standard",
              {},
              false,
              1'000,
              500'000},
        r.leadDrop);
  visit(Field{"cord_drop",
              "Volts that may be lost on a cord",
              "3 % of the line, as the code advises for branch circuits",
              {},
              false,
              1'000,
              300'000},
        r.cordDrop);
  visit(Field{"average_share",
              "Average of the show",
              "Part of the power at the brightness limit over a night; assumed",
              {},
              false,
              0,
              1'000'000},
        r.averageShare);
  visit(Field{"energy_price", "Price of a kilowatt-hour", "0: no cost is given", {}, false, 0},
        r.energyPrice);
  visit(Field{"walk_crossing", "Walks are crossed", "By a lead, where no cover or duct is provided"},
        r.walkCrossing);
  visit(Field{"drive_crossing", "Drives are crossed", "By a lead, where no cover or duct is provided"},
        r.driveCrossing);
  visit(Field{"walk_cover", "Price of a cover over a walk", "Our own judgement, no source", {}, false, 0},
        r.walkCover);
  visit(Field{"drive_cover", "Price of a cover over a drive", "Our own judgement, no source", {}, false, 0},
        r.driveCover);
  visit(Field{"digging_price", "Price of a meter of trench", "0: leads lie on the ground", {}, false, 0},
        r.diggingPrice);
  visit(Field{"trench_share",
              "A meter in a trench counts as",
              "Percent of one beside it: leads go further to lie in it; our own judgement, no source",
              {},
              false,
              10'000,
              1'000'000},
        r.trenchShare);
}

/// The place, its picture and the season. One a yard, always present.
struct Site {
  std::string name;
  Angle north;                  ///< direction of north from plan +y, anticlockwise
  std::string photo;            ///< hash of the picture, a key of Yard::blobs; empty: none
  Point photoAt;                ///< plan place of the picture's lower left corner
  Length photoWidth;            ///< true width of the whole picture; 0: not scaled yet
  Point scaleFrom, scaleTo;     ///< the two clicked points, plan places after scaling
  Length scaleDistance;         ///< what the person typed between them
  Point checkFrom, checkTo;     ///< third distance: clicked points
  Length checkDistance;         ///< and what the tape says
  std::int64_t photoFade = 50;  ///< percent
  Speed gust;                   ///< design gust, 3 s, 33 ft
  Exposure exposure = Exposure::B;
  std::string setUpDate, showFrom, showTo, strikeDate;  ///< ISO 8601 dates, empty: not said
  Duration hoursANight;                                 ///< ns; 5 h is 18e12
  std::int64_t crew = 1;
  Money budget;
  std::string notes;
  bool operator==(const Site&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Site*) {
  visit(Field{"name", "Name of the yard"}, r.name);
  visit(Field{"north", "North", "Turned from straight up, counterclockwise"}, r.north);
  visit(Field{"photo", "Picture", "", {}, true}, r.photo);
  visit(Field{"photo_at", "Picture corner", "", {}, true}, r.photoAt);
  visit(Field{"photo_width", "Picture width", "", {}, true}, r.photoWidth);
  visit(Field{"scale_from", "Scale from", "", {}, true}, r.scaleFrom);
  visit(Field{"scale_to", "Scale to", "", {}, true}, r.scaleTo);
  visit(Field{"scale_distance", "Scale distance", "", {}, true}, r.scaleDistance);
  visit(Field{"check_from", "Check from", "", {}, true}, r.checkFrom);
  visit(Field{"check_to", "Check to", "", {}, true}, r.checkTo);
  visit(Field{"check_distance", "Check distance", "", {}, true}, r.checkDistance);
  visit(Field{"photo_fade", "Fade of the picture, percent", "", {}, false, 0, 100}, r.photoFade);
  visit(Field{"gust", "Design gust"}, r.gust);
  visit(Field{"exposure", "Exposure", "B: houses and trees around; C: open; D: by open water"}, r.exposure);
  visit(Field{"set_up_date", "Set up from"}, r.setUpDate);
  visit(Field{"show_from", "First night"}, r.showFrom);
  visit(Field{"show_to", "Last night"}, r.showTo);
  visit(Field{"strike_date", "Down by"}, r.strikeDate);
  visit(Field{"hours_a_night", "Hours a night", "", {}, false, 0, 86'400'000'000'000}, r.hoursANight);
  visit(Field{"crew", "People", "", {}, false, 1, 1000}, r.crew);
  visit(Field{"budget", "Budget", "", {}, false, 0}, r.budget);
  visit(Field{"notes", "Notes"}, r.notes);
}

/// Something that lies or stands on the ground.
struct GroundFeature {
  FeatureKind kind = FeatureKind::Bed;
  std::string name;
  std::vector<Point> outline;    ///< closed for all kinds but those of isLine()
  Length height;                 ///< how tall; 0: flat
  std::string reason;            ///< keep-out: why, written along its edge
  Length tolerance;              ///< keep-out, buried line: added all round
  bool blocksLeads = true;       ///< house, tree, water, keep-out, fence: leads go round it
  bool crossingAllowed = false;  ///< walk, drive: a cover or a duct is there, so crossing is no finding
  bool dug = false;              ///< trench or duct: it is there already
  Length clearFrom, clearTo;     ///< sight triangle: kept clear between these heights above the ground
  bool operator==(const GroundFeature&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const GroundFeature*) {
  visit(Field{"feature", "What it is"}, r.kind);
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"outline", "Outline", "", {}, true}, r.outline);
  visit(Field{"height", "Height", "", {}, false, 0, 100'000'000'000}, r.height);
  visit(Field{"reason", "Why", "Written along its edge"}, r.reason);
  visit(Field{"tolerance", "Tolerance all round", "", {}, false, 0, 10'000'000'000}, r.tolerance);
  visit(Field{"blocks_leads", "Leads go round it"}, r.blocksLeads);
  visit(Field{"crossing_allowed", "Crossing is provided for", "A cord cover or a duct is there"},
        r.crossingAllowed);
  visit(Field{"dug", "It is there already", "Nothing is left to dig"}, r.dug);
  visit(Field{"clear_from",
              "Kept clear from",
              "Sight triangle: height above the ground; ask your town",
              {},
              false,
              0,
              100'000'000'000},
        r.clearFrom);
  visit(Field{"clear_to",
              "Kept clear up to",
              "Sight triangle: height above the ground; ask your town",
              {},
              false,
              0,
              100'000'000'000},
        r.clearTo);
}

/// A window, door, gable or eave on a wall, seen face-on from outside.
struct Opening {
  OpeningKind kind = OpeningKind::Window;
  std::string name;
  Point at;              ///< lower left corner (eave: left end; gable: left foot), wall frame
  Length width, height;  ///< gable: base width; height from the pitch when 0
  bool operator==(const Opening&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Opening*) {
  visit(Field{"kind", "What it is"}, r.kind);
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"at", "Lower left corner"}, r.at);
  visit(Field{"width", "Width", "", {}, false, 0, 1'000'000'000'000}, r.width);
  visit(Field{"height", "Height", "", {}, false, 0, 100'000'000'000}, r.height);
}

/// A wall of a building, drawn face-on: stands on the plan segment from -> to, its outside on the right
/// hand when looking from `from` to `to`. Seen from outside, `from` is at the left.
struct Wall {
  std::string name;
  Id feature;  ///< the house it belongs to
  Point from, to;
  Length eaveHeight{base::feet(9).count};
  std::int64_t pitchRise = 6;  ///< rise in 12 of run
  std::vector<Opening> openings;
  std::string photo;            ///< hash of a picture taken face-on, a key of Yard::blobs; empty: none
  Point photoAt;                ///< its lower left corner, wall frame
  Length photoWidth;            ///< true width of the whole picture; 0: not scaled yet
  std::int64_t photoFade = 50;  ///< percent
  bool operator==(const Wall&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Wall*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"feature", "House", "", {RecordKind::GroundFeature}}, r.feature);
  visit(Field{"from", "From", "", {}, true}, r.from);
  visit(Field{"to", "To", "", {}, true}, r.to);
  visit(Field{"eave_height", "Eave above ground", "", {}, false, 0, 100'000'000'000}, r.eaveHeight);
  visit(Field{"pitch_rise", "Roof pitch, inches in 12", "", {}, false, 0, 48}, r.pitchRise);
  visit(Field{"openings", "Eaves, gables, windows, doors"}, r.openings);
  visit(Field{"photo", "Picture", "", {}, true}, r.photo);
  visit(Field{"photo_at", "Picture corner", "", {}, true}, r.photoAt);
  visit(Field{"photo_width", "Picture width", "", {}, true}, r.photoWidth);
  visit(Field{"photo_fade", "Fade of the picture, percent", "", {}, false, 0, 100}, r.photoFade);
}

struct SpotHeight {
  Point at;
  Length height;  ///< above the yard's zero
  bool operator==(const SpotHeight&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const SpotHeight*) {
  visit(Field{"at", "Place"}, r.at);
  visit(Field{"height", "Height above zero"}, r.height);
}

struct AudiencePoint {
  std::string name;
  Point at;
  Length eyeHeight{base::inches(62).count};
  Angle facing;
  bool operator==(const AudiencePoint&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const AudiencePoint*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"at", "Place"}, r.at);
  visit(Field{"eye_height", "Eye height", "", {}, false, 0, 10'000'000'000}, r.eyeHeight);
  visit(Field{"facing", "Looking towards"}, r.facing);
}

/// A breaker and all that hangs on it.
struct HouseCircuit {
  std::string name;
  Current breaker{15'000'000};
  Voltage voltage{120'000'000};
  bool groundFault = true;  ///< GFCI protected
  bool staggered = false;   ///< its supplies are switched on one after another
  bool operator==(const HouseCircuit&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const HouseCircuit*) {
  visit(Field{"name", "Name", "As on the panel: 7, Garage"}, r.name);
  visit(Field{"breaker", "Breaker", "Printed on its handle", {}, false, 1'000'000, 200'000'000}, r.breaker);
  visit(Field{"voltage", "Line voltage", "", {}, false, 50'000'000, 480'000'000}, r.voltage);
  visit(Field{"ground_fault", "GFCI protected"}, r.groundFault);
  visit(Field{"staggered", "Supplies start one after another", "By a timer or a sequencing strip"},
        r.staggered);
}

struct Outlet {
  std::string name;
  Id circuit;
  Point at;
  Length height{base::inches(18).count};
  Current receptacle{15'000'000};
  std::int64_t sockets = 2;  ///< plugs it takes
  bool operator==(const Outlet&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Outlet*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"circuit", "House circuit", "", {RecordKind::HouseCircuit}}, r.circuit);
  visit(Field{"at", "Place"}, r.at);
  visit(Field{"height", "Height above ground", "", {}, false, 0, 20'000'000'000}, r.height);
  visit(Field{"receptacle",
              "Receptacle",
              "15 A: two upright slots; 20 A: one slot is a T",
              {},
              false,
              1'000'000,
              100'000'000},
        r.receptacle);
  visit(Field{"sockets", "Plugs it takes", "", {}, false, 1, 100}, r.sockets);
}

/// Whatever else draws from a house circuit while the show is on.
struct OtherLoad {
  std::string name;
  Id circuit;
  Current amps{0};
  Point at;
  bool operator==(const OtherLoad&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const OtherLoad*) {
  visit(Field{"name", "Name", "Freezer, door opener"}, r.name);
  visit(Field{"circuit", "House circuit", "", {RecordKind::HouseCircuit}}, r.circuit);
  visit(Field{"amps", "Amps", "From its name plate", {}, false, 0, 200'000'000}, r.amps);
  visit(Field{"at", "Place"}, r.at);
}

/// An enclosure that holds supplies, controllers and fuses.
struct Box {
  std::string name;                       ///< K1, K2, …
  Point at;                               ///< plan place; on a wall: wall frame, as for props
  Id wall;                                ///< hung on this wall; none: stands on the ground
  Length height{base::inches(12).count};  ///< where leads leave it
  std::string notes;
  Length insideWidth{0}, insideHeight{0}, insideDepth{0};  ///< 0: not measured, a usual box is taken
  BoxCooling cooling = BoxCooling::Closed;
  bool operator==(const Box&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Box*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"at", "Place"}, r.at);
  visit(Field{"wall", "Hung on wall", "", {RecordKind::Wall}}, r.wall);
  visit(Field{"height", "Height where leads leave", "", {}, false, 0, 20'000'000'000}, r.height);
  visit(Field{"inside_width", "Width of the box", "0: not measured", {}, false, 0, 10'000'000'000},
        r.insideWidth);
  visit(Field{"inside_height", "Height of the box", "0: not measured", {}, false, 0, 10'000'000'000},
        r.insideHeight);
  visit(Field{"inside_depth", "Depth of the box", "0: not measured", {}, false, 0, 10'000'000'000},
        r.insideDepth);
  visit(Field{"cooling", "Its heat leaves", "Vents: low and high, shielded from rain"}, r.cooling);
  visit(Field{"notes", "Notes"}, r.notes);
}

struct Supply {
  std::string name;
  Id box;
  Id outlet;
  Voltage voltage{12'000'000};
  Current ratedAmps{29'000'000};
  Resistance internalResistance{0};
  Ratio voltageSpread{20'000};  ///< of the output volts: 19 in 20 lie within
  Ratio efficiency{850'000};
  Ratio powerFactor{550'000};
  Current leakage{500};             ///< standing earth leakage
  Origin origin = Origin::Assumed;  ///< of efficiency, power factor, leakage, inrush and derating
  std::string model;
  Current inrush{30'000'000};      ///< cold start, at the line
  Temperature derateFrom{50'000};  ///< full rating up to this air
  Temperature derateTo{60'000};    ///< not rated above this air
  Ratio derateShare{600'000};      ///< of its rating left at derateTo
  bool operator==(const Supply&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Supply*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"box", "In box", "", {RecordKind::Box}}, r.box);
  visit(Field{"outlet", "Plugged into", "", {RecordKind::Outlet}}, r.outlet);
  visit(Field{"voltage",
              "Output volts",
              "Measured at its terminals, or the printed figure",
              {},
              false,
              1'000'000,
              60'000'000},
        r.voltage);
  visit(Field{"voltage_spread",
              "Spread of the output volts",
              "Setting, line and load together; 2 % from memory, 0.5 % once measured",
              {},
              false,
              0,
              200'000},
        r.voltageSpread);
  visit(Field{"rated_amps", "Rated output amps", "Printed on the label", {}, false, 1'000, 500'000'000},
        r.ratedAmps);
  visit(Field{"internal_resistance", "Internal resistance", "0 if not known", {}, false, 0, 10'000'000},
        r.internalResistance);
  visit(Field{"efficiency", "Efficiency", "From the data sheet", {}, false, 100'000, 1'000'000},
        r.efficiency);
  visit(Field{"power_factor",
              "Power factor",
              "0.55 without correction, 0.97 with",
              {},
              false,
              100'000,
              1'000'000},
        r.powerFactor);
  visit(Field{"leakage", "Leakage to earth", "From the data sheet", {}, false, 0, 100'000}, r.leakage);
  visit(Field{"inrush",
              "Inrush at a cold start",
              "From the data sheet, at your line's volts",
              {},
              false,
              0,
              1'000'000'000},
        r.inrush);
  visit(Field{"derate_from",
              "Full rating up to",
              "Air around it; from the data sheet's curve",
              {},
              false,
              -60'000,
              150'000},
        r.derateFrom);
  visit(Field{"derate_to", "Not rated above", "End of the data sheet's curve", {}, false, -60'000, 150'000},
        r.derateTo);
  visit(Field{"derate_share", "Rating left at that end", "", {}, false, 0, 1'000'000}, r.derateShare);
  visit(Field{"origin", "These figures are"}, r.origin);
  visit(Field{"model", "Maker's type"}, r.model);
}

/// A place for a fuse between one supply and one feed.
struct FusePosition {
  Id supply;
  std::int64_t number = 1;
  Current fuse{4'000'000};
  Current holderLimit{20'000'000};
  bool operator==(const FusePosition&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const FusePosition*) {
  visit(Field{"supply", "Supply", "", {RecordKind::Supply}}, r.supply);
  visit(Field{"number", "Position", "Counted as on the block", {}, false, 1, 1000}, r.number);
  visit(Field{"fuse", "Fuse", "Printed on the fuse", {}, false, 100'000, 100'000'000}, r.fuse);
  visit(Field{"holder_limit",
              "Holder's limit",
              "Printed on the holder or block",
              {},
              false,
              100'000,
              200'000'000},
        r.holderLimit);
}

/// Ports that share one power input of a controller or receiver.
struct PowerSection {
  Id supply;
  Current limit{30'000'000};
  bool operator==(const PowerSection&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const PowerSection*) {
  visit(Field{"supply", "Fed by supply", "", {RecordKind::Supply}}, r.supply);
  visit(
      Field{
          "limit", "Amps of the whole section", "Printed by its terminals", {}, false, 100'000, 500'000'000},
      r.limit);
}

struct Controller {
  std::string name;
  Id box;
  std::int64_t pixelsPerPort = 1024;
  std::vector<PowerSection> sections;
  std::string address;  ///< IPv4
  std::string protocol = "E1.31";
  std::int64_t universes = 0;  ///< most it accepts; 0: not known
  std::string model;
  std::string plug;  ///< family of the plugs on its ports, their female end; empty: screwed
  bool operator==(const Controller&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Controller*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"box", "In box", "", {RecordKind::Box}}, r.box);
  visit(Field{"pixels_per_port", "Most pixels on a port", "From its data sheet", {}, false, 1, 100'000},
        r.pixelsPerPort);
  visit(Field{"sections", "Power sections", "Ports that share a power input"}, r.sections);
  visit(Field{"address", "Network address"}, r.address);
  visit(Field{"protocol", "Protocol"}, r.protocol);
  visit(Field{"universes", "Most universes", "0 if not known", {}, false, 0, 64'000}, r.universes);
  visit(Field{"model", "Maker's type"}, r.model);
  visit(Field{"plug", "Plugs on its ports", "Family; empty: leads are screwed on"}, r.plug);
}

/// A remote set of ports, fed over a differential pair from a controller.
struct Receiver {
  std::string name;
  Id box;
  Id controller;
  std::int64_t pixelsPerPort = 1024;
  std::vector<PowerSection> sections;
  std::string model;
  std::string plug;  ///< family of the plugs on its ports, their female end; empty: screwed
  bool operator==(const Receiver&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Receiver*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"box", "In box", "", {RecordKind::Box}}, r.box);
  visit(Field{"controller", "Fed by controller", "", {RecordKind::Controller}}, r.controller);
  visit(Field{"pixels_per_port", "Most pixels on a port", "", {}, false, 1, 100'000}, r.pixelsPerPort);
  visit(Field{"sections", "Power sections", "Ports that share a power input"}, r.sections);
  visit(Field{"model", "Maker's type"}, r.model);
  visit(Field{"plug", "Plugs on its ports", "Family; empty: leads are screwed on"}, r.plug);
}

/// One data output with its V+ and 0 V.
struct Port {
  Id owner;                  ///< Controller or Receiver
  std::int64_t number = 1;   ///< physical order
  std::int64_t section = 1;  ///< 1-based, into the owner's power sections
  Current limit{5'000'000};  ///< of its contacts or its fuse holder
  Current fuse{4'000'000};   ///< 0: none
  bool operator==(const Port&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Port*) {
  visit(Field{"owner", "On", "", {RecordKind::Controller, RecordKind::Receiver}}, r.owner);
  visit(Field{"number", "Port", "Counted as printed", {}, false, 1, 10'000}, r.number);
  visit(Field{"section", "Power section", "", {}, false, 1, 100}, r.section);
  visit(Field{"limit", "Most amps", "Printed, or the connector's figure", {}, false, 0, 100'000'000},
        r.limit);
  visit(Field{"fuse", "Fuse", "0 if it has none", {}, false, 0, 100'000'000}, r.fuse);
}

/// A pixel as sold: what it draws, when it stops, how it is wired.
struct Product {
  std::string name;
  std::string chip;  ///< driver family, e.g. WS2811
  Voltage voltage{12'000'000};
  LoadModel load = LoadModel::ConstantCurrent;
  std::int64_t channels = 3;
  std::int64_t bits = 8;  ///< a channel
  Current idle{2'000};
  Current fullWhite{40'000};                  ///< whole pixel at nominal volts, idle included
  Voltage lowestVolts{10'200'000};            ///< below it white is no longer white
  Voltage darkVolts{7'000'000};               ///< below it the pixel does not light
  std::int64_t spreadPercent = 15;            ///< of the currents, the whole product: 19 in 20 within
  std::int64_t eachPercent = 3;               ///< and from pixel to pixel
  Voltage redLowest{0};                       ///< below it red fades; 0: by its forward volts
  Voltage greenLowest{0};                     ///< 0: as lowestVolts
  Voltage blueLowest{0};                      ///< 0: as lowestVolts
  Origin origin = Origin::Assumed;            ///< of the electrical figures
  Length wireSpacing{base::inches(4).count};  ///< wire between neighbours on the string
  Id stringWire;                              ///< Wire of the string itself
  std::int64_t stringCount = 50;              ///< pixels on a string as bought
  std::int64_t bitRate = 800'000;             ///< a second
  Duration reset{300'000};
  std::int64_t headerBits = 0;
  std::string colorOrder = "RGB";
  Length reach{0};                ///< pixel to next pixel by its data sheet; 0: use the yard's
  Mass mass{10'900'000 / 1000};   ///< one pixel with its wire
  Money price{0};                 ///< one string
  std::string plug;               ///< family of the plugs on a string's ends; empty: not said
  PlugEnd inEnd = PlugEnd::Male;  ///< at its IN; the other one at its OUT
  bool operator==(const Product&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Product*) {
  visit(Field{"name", "Name", "As you call it"}, r.name);
  visit(Field{"chip", "Chip", "Printed on the reel or in the data sheet"}, r.chip);
  visit(Field{"voltage", "Volts", "", {}, false, 1'000'000, 60'000'000}, r.voltage);
  visit(Field{"load", "Draws current as"}, r.load);
  visit(Field{"channels", "Colors a pixel", "3 is RGB, 4 is RGBW", {}, false, 1, 8}, r.channels);
  visit(Field{"bits", "Bits a color", "", {}, false, 1, 16}, r.bits);
  visit(Field{"idle", "Dark, one pixel", "Light 50 at black, divide the amps by 50", {}, false, 0, 1'000'000},
        r.idle);
  visit(Field{"full_white",
              "Full white, one pixel",
              "Light 50 at full white, divide the amps by 50",
              {},
              false,
              100,
              10'000'000},
        r.fullWhite);
  visit(Field{"lowest_volts", "Lowest volts for true white", "", {}, false, 0, 60'000'000}, r.lowestVolts);
  visit(Field{"dark_volts", "Dark below", "", {}, false, 0, 60'000'000}, r.darkVolts);
  visit(Field{"spread_percent",
              "Spread of the currents, percent",
              "Of the whole product: 19 in 20 lie within",
              {},
              false,
              0,
              100},
        r.spreadPercent);
  visit(Field{"each_percent",
              "Spread from pixel to pixel, percent",
              "±3 % from chip to chip by the UCS1903 data sheet",
              {},
              false,
              0,
              100},
        r.eachPercent);
  visit(Field{"red_lowest_volts",
              "Lowest volts for full red",
              "0: worked out from that of white",
              {},
              false,
              0,
              60'000'000},
        r.redLowest);
  visit(Field{"green_lowest_volts",
              "Lowest volts for full green",
              "0: as for true white",
              {},
              false,
              0,
              60'000'000},
        r.greenLowest);
  visit(Field{"blue_lowest_volts",
              "Lowest volts for full blue",
              "0: as for true white",
              {},
              false,
              0,
              60'000'000},
        r.blueLowest);
  visit(Field{"origin", "These figures are"}, r.origin);
  visit(Field{"wire_spacing",
              "Wire between pixels",
              "Of the string, not the mount",
              {},
              false,
              1'000'000,
              10'000'000'000},
        r.wireSpacing);
  visit(Field{"string_wire", "Wire of the string", "", {RecordKind::Wire}}, r.stringWire);
  visit(Field{"string_count", "Pixels on a string as bought", "", {}, false, 1, 100'000}, r.stringCount);
  visit(Field{"bit_rate", "Bits a second", "", {}, false, 1'000, 50'000'000}, r.bitRate);
  visit(Field{"reset", "Reset time", "300 µs covers every one-wire part", {}, false, 0, 100'000'000},
        r.reset);
  visit(Field{"header_bits", "Header bits", "", {}, false, 0, 10'000}, r.headerBits);
  visit(Field{"color_order", "Color order"}, r.colorOrder);
  visit(
      Field{
          "reach", "Reach to the next pixel", "0: as the yard's settings say", {}, false, 0, 100'000'000'000},
      r.reach);
  visit(Field{"mass", "Weight, one pixel with its wire", "", {}, false, 0, 10'000'000'000}, r.mass);
  visit(Field{"price", "Price of a string", "", {}, false, 0}, r.price);
  visit(Field{"plug", "Plugs on a string's ends", "Family, as you call it; empty: not said"}, r.plug);
  visit(Field{"in_end", "Plug at its IN", "Common practice: male, so that the live side has no bare pins"},
        r.inEnd);
}

/// A cable as sold.
struct Wire {
  std::string name;  ///< 18/3
  ConductorSet conductors = ConductorSet::PowerAndData;
  std::int64_t gauge = 18;  ///< AWG
  Material material = Material::Copper;
  Resistance perMetre{0};   ///< one conductor at 20 °C; 0: by gauge and material
  Ratio tolerance{20'000};  ///< of that resistance: 19 in 20 lie within
  Current limit{0};         ///< 0: by gauge (the yard's table)
  Current contactLimit{0};  ///< of the connectors on it; 0: not said
  Money pricePerMetre{0};
  std::string plug;  ///< ready-made: family of the plugs on it; empty: each end is fitted to what it joins
  bool operator==(const Wire&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Wire*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"conductors", "Conductors"}, r.conductors);
  visit(Field{"gauge", "Gauge, AWG", "Printed on the jacket", {}, false, 0, 40}, r.gauge);
  visit(Field{"material", "Material", "Cable of unknown origin may be copper-clad aluminum"}, r.material);
  visit(Field{"per_metre",
              "Resistance of one conductor a meter",
              "0: by gauge and material",
              {},
              false,
              0,
              100'000'000},
        r.perMetre);
  visit(Field{"tolerance",
              "Spread of its resistance",
              "2 %: drawn copper may be 1 % off in diameter (ASTM B3, from memory)",
              {},
              false,
              0,
              1'000'000},
        r.tolerance);
  visit(Field{"limit", "Most amps", "0: by gauge", {}, false, 0, 200'000'000}, r.limit);
  visit(Field{"contact_limit", "Most amps of its plugs", "0: not said", {}, false, 0, 200'000'000},
        r.contactLimit);
  visit(Field{"price_per_metre", "Price a meter", "", {}, false, 0}, r.pricePerMetre);
  visit(Field{"plug", "Plugs on its leads", "Family; empty: each end is fitted to what it joins"}, r.plug);
}

/// Pixel numbers first..last (1-based, in string order, both included).
struct Range {
  std::int64_t first = 1, last = 1;
  bool operator==(const Range&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Range*) {
  visit(Field{"first", "First", "", {}, false, 1}, r.first);
  visit(Field{"last", "Last", "", {}, false, 1}, r.last);
}

struct NamedPart {
  std::string name;
  std::vector<Range> ranges;
  bool operator==(const NamedPart&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const NamedPart*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"ranges", "Pixels"}, r.ranges);
}

/// A line of an own shape as the person drew, typed or imported it, in the prop's own frame (x to the right,
/// y up, seen from the front).
struct OwnLine {
  std::vector<Point> points;
  bool closed = false;  ///< the last point is joined to the first
  bool dots = false;    ///< each point is a pixel; no pixels between them
  bool operator==(const OwnLine&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const OwnLine*) {
  visit(Field{"points", "Points", "", {}, true}, r.points);
  visit(Field{"closed", "Closed", "The last point is joined to the first"}, r.closed);
  visit(Field{"dots", "A pixel at each point", "None between them"}, r.dots);
}

/// A built object that carries pixels.
struct Prop {
  std::string name;
  std::string kind;                            ///< a key of shapes::kinds()
  std::map<std::string, std::int64_t> sizes;   ///< by the kind's schema: nanometres, micro-degrees or counts
  std::map<std::string, std::string> choices;  ///< by the kind's schema: string order and the like
  std::vector<Point>
      path;  ///< kinds along a polyline: points in the prop's own frame (x, z up for walls; x, y for ground)
  std::vector<OwnLine> lines;             ///< kind `own`: what was drawn
  std::vector<std::int64_t> stringOrder;  ///< kind `own`: pixels as drawn, 1-based, in the order of the
                                          ///< string; empty: as drawn
  Id product;                             ///< none: the yard's usual pixel
  Point at;                               ///< plan place; on a wall: wall frame
  Id wall;                                ///< hung on this wall; none: on the ground
  Length base;                            ///< height of the prop's zero above the ground
  Angle heading;                          ///< direction its front faces; 0 is towards plan -y, anticlockwise
  std::vector<NamedPart> parts;
  std::string mount;
  std::string group;  ///< props with the same word hang on one controller or receiver
  PropStatus status = PropStatus::Ready;
  bool locked = false;
  std::string notes;
  bool operator==(const Prop&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Prop*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"shape", "Kind", "", {}, true}, r.kind);
  visit(Field{"sizes", "Sizes", "", {}, true}, r.sizes);
  visit(Field{"choices", "String order", "", {}, true}, r.choices);
  visit(Field{"path", "Path", "", {}, true}, r.path);
  visit(Field{"lines", "Own lines", "What was drawn, typed or imported", {}, true}, r.lines);
  visit(
      Field{
          "string_order", "Order of the string", "Pixels as drawn, in the order of the string", {}, true, 1},
      r.stringOrder);
  visit(Field{"product", "Pixel", "None: the yard's usual one", {RecordKind::Product}}, r.product);
  visit(Field{"at", "Place"}, r.at);
  visit(Field{"wall", "On wall", "", {RecordKind::Wall}}, r.wall);
  visit(Field{"base", "Height of its foot above ground"}, r.base);
  visit(Field{"heading", "Front faces", "Degrees from straight down the plan, counterclockwise"}, r.heading);
  visit(Field{"parts", "Named parts"}, r.parts);
  visit(Field{"mount", "Mount"}, r.mount);
  visit(Field{"group", "Stays with", "Props with the same word here hang on one controller"}, r.group);
  visit(Field{"status", "Status"}, r.status);
  visit(Field{"locked", "Hold still"}, r.locked);
  visit(Field{"notes", "Notes"}, r.notes);
}

/// Props that were laid out together.
struct ArrayMember {
  Id prop;
  bool detached = false;  ///< changed on its own: no longer follows the array
  bool operator==(const ArrayMember&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const ArrayMember*) {
  visit(Field{"prop", "Prop", "", {RecordKind::Prop}}, r.prop);
  visit(Field{"detached", "On its own"}, r.detached);
}
struct PropArray {
  std::string name;
  std::vector<ArrayMember> members;
  bool operator==(const PropArray&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const PropArray*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"members", "Props"}, r.members);
}

/// One step along a run, in the order the data goes.
struct RunItem {
  RunItemKind kind = RunItemKind::Stretch;
  Id prop;                 ///< Stretch
  std::int64_t first = 0;  ///< Stretch: lowest pixel, 1-based; 0 with last 0: the whole prop
  std::int64_t last = 0;
  bool reversed = false;   ///< Stretch: data enters at the last pixel
  std::int64_t count = 1;  ///< NullPixel, Unused: how many
  Id lead;                 ///< the Cable before this item; none: the usual lead, cut to length
  bool operator==(const RunItem&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const RunItem*) {
  visit(Field{"kind", "What"}, r.kind);
  visit(Field{"prop", "Prop", "", {RecordKind::Prop}}, r.prop);
  visit(Field{"first", "From pixel", "", {}, false, 0}, r.first);
  visit(Field{"last", "To pixel", "", {}, false, 0}, r.last);
  visit(Field{"reversed", "Turned round"}, r.reversed);
  visit(Field{"count", "How many", "", {}, false, 0, 100'000}, r.count);
  visit(Field{"lead", "Lead before it", "", {RecordKind::Cable}}, r.lead);
}

/// Everything fed by one port, in order.
struct Run {
  std::string name;
  Id port;  ///< none: pulled through props but not plugged in yet
  std::vector<RunItem> items;
  bool portPower = true;           ///< the port's V+ goes into the first pixel
  std::int64_t startUniverse = 0;  ///< 0: given in order
  std::int64_t startSlot = 0;      ///< 1..512; 0: given in order
  bool operator==(const Run&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Run*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"port", "Port", "", {RecordKind::Port}}, r.port);
  visit(Field{"items", "In order"}, r.items);
  visit(Field{"port_power", "Powered from the port"}, r.portPower);
  visit(Field{"start_universe", "Start universe", "0: given in order", {}, false, 0, 63'999},
        r.startUniverse);
  visit(Field{"start_slot", "Start slot", "0: given in order", {}, false, 0, 512}, r.startSlot);
}

/// Where a cable ends.
struct Terminal {
  TerminalKind kind = TerminalKind::None;
  Id record;               ///< port, fuse position, prop, supply, …
  std::int64_t pixel = 0;  ///< PropPixel: 1-based in the prop's string order
  bool operator==(const Terminal&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Terminal*) {
  visit(Field{"kind", "What"}, r.kind);
  visit(Field{"record", "Which"}, r.record);
  visit(Field{"pixel", "Pixel", "", {}, false, 0}, r.pixel);
}

/// Any cable: lead, jumper, feed, trunk, tie, port power. Leads and jumpers of a run and mains cords need a
/// record only where the person said something of them (another wire, a path, a length that is owned).
struct Cable {
  std::string name;   ///< only if the person named it; labels are computed
  Terminal from, to;  ///< a feed goes from its fuse position to a prop's pixel
  ConductorSet conductors = ConductorSet::PowerOnly;
  Id wire;                   ///< none: the usual lead or feed wire
  std::vector<Point> path;   ///< places it must pass, in order; empty: the shortest way
  bool cutPositive = false;  ///< feed: the string's V+ is cut just before the pixel it lands at
  Length ownLength{0};       ///< a lead that is there already; 0: cut to length
  std::int64_t pieces = 1;   ///< mains: cords plugged end to end
  bool operator==(const Cable&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Cable*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"from", "From", "", {}, true}, r.from);
  visit(Field{"to", "To", "", {}, true}, r.to);
  visit(Field{"conductors", "Conductors"}, r.conductors);
  visit(Field{"wire", "Wire", "None: the usual one", {RecordKind::Wire}}, r.wire);
  visit(Field{"path", "Path", "", {}, true}, r.path);
  visit(Field{"cut_positive", "V+ cut before the pixel", "So that each fuse feeds its own part"},
        r.cutPositive);
  visit(Field{"own_length", "Length of a lead you own", "0: cut to length", {}, false, 0, 1'000'000'000'000},
        r.ownLength);
  visit(Field{"pieces", "Cords plugged end to end", "Of a mains cord", {}, true, 1, 100}, r.pieces);
}

struct OwnedItem {
  std::string what;  ///< part name
  Id product;        ///< or a product
  std::int64_t count = 1;
  std::string where;  ///< tub, shelf
  bool operator==(const OwnedItem&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const OwnedItem*) {
  visit(Field{"what", "What"}, r.what);
  visit(Field{"product", "Pixel", "", {RecordKind::Product}}, r.product);
  visit(Field{"count", "How many", "", {}, false, 0}, r.count);
  visit(Field{"where", "Kept in"}, r.where);
}

struct OwnedLead {
  std::string number;
  Id wire;
  Length length;
  std::string connectors;
  std::string where;
  bool operator==(const OwnedLead&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const OwnedLead*) {
  visit(Field{"number", "Number on it"}, r.number);
  visit(Field{"wire", "Wire", "", {RecordKind::Wire}}, r.wire);
  visit(Field{"length", "Length", "", {}, false, 0, 1'000'000'000'000}, r.length);
  visit(Field{"connectors", "Plugs"}, r.connectors);
  visit(Field{"where", "Kept in"}, r.where);
}

struct Price {
  std::string what;
  Money price;
  std::int64_t pack = 1;
  std::string note;
  bool operator==(const Price&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Price*) {
  visit(Field{"what", "What"}, r.what);
  visit(Field{"price", "Price of a pack", "", {}, false, 0}, r.price);
  visit(Field{"pack", "In a pack", "", {}, false, 1}, r.pack);
  visit(Field{"note", "Note"}, r.note);
}

/// What a meter said while all pixels were white at a brightness.
struct Measurement {
  Terminal at;    ///< pixel, port, fuse position or supply
  Voltage volts;  ///< V+ against 0 V; 0: not measured
  Current amps;   ///< in V+: out of a port, position or supply, or just before the pixel; 0: not measured
  Ratio brightness{1'000'000};
  std::string date;
  std::string note;
  bool operator==(const Measurement&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Measurement*) {
  visit(Field{"at", "Where"}, r.at);
  visit(Field{"volts", "Volts", "V+ against 0 V at that place; 0: not measured", {}, false, 0, 1'000'000'000},
        r.volts);
  visit(Field{"amps", "Amps", "In V+ at that place; 0: not measured", {}, false, 0, 1'000'000'000}, r.amps);
  visit(Field{"brightness", "At brightness", "", {}, false, 0, 1'000'000}, r.brightness);
  visit(Field{"date", "Date"}, r.date);
  visit(Field{"note", "Note"}, r.note);
}

/// A finding the person decided to live with. It returns when its figure gets worse.
struct LeftAsIs {
  std::string rule;
  std::vector<Id> subjects;
  std::string condition;
  std::int64_t figure = 0;  ///< millionths of the finding's ratio to its limit, when it was left
  std::string reason;
  bool operator==(const LeftAsIs&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const LeftAsIs*) {
  visit(Field{"rule", "Rule"}, r.rule);
  visit(Field{"subjects", "Of"}, r.subjects);
  visit(Field{"condition", "Condition"}, r.condition);
  visit(Field{"figure", "Figure when left"}, r.figure);
  visit(Field{"reason", "Because"}, r.reason);
}

/// 'Keep as is': planners leave this alone.
struct KeepAsIs {
  Id subject;
  std::string what;  ///< port, feed, box, address
  bool operator==(const KeepAsIs&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const KeepAsIs*) {
  visit(Field{"subject", "What"}, r.subject);
  visit(Field{"what", "Which part of it"}, r.what);
}

/// A sheet that went out on paper.
struct IssuedSheet {
  SheetKind sheet = SheetKind::Map;
  Id subject;  ///< box or run; none: the whole yard
  std::int64_t revision = 1;
  std::string date;  ///< ISO 8601
  std::string hash;  ///< of its content
  bool operator==(const IssuedSheet&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const IssuedSheet*) {
  visit(Field{"sheet", "Sheet"}, r.sheet);
  visit(Field{"subject", "Of"}, r.subject);
  visit(Field{"revision", "Revision", "", {}, false, 1}, r.revision);
  visit(Field{"date", "Date"}, r.date);
  visit(Field{"hash", "Content"}, r.hash);
}

/// One record that an idea has otherwise than the yard: each side as one line of the codec's JSON, empty
/// where it is not there.
struct IdeaChange {
  std::int64_t record = 1;    ///< its id; no reference, for it need not be there just now
  std::string before, after;  ///< in the yard when the idea was last looked at; in the idea
  bool operator==(const IdeaChange&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const IdeaChange*) {
  visit(Field{"record", "Record", "", {}, true, 1}, r.record);
  visit(Field{"before", "In the yard", "", {}, true}, r.before);
  visit(Field{"after", "In the idea", "", {}, true}, r.after);
}

/// A named variant of the yard: what it has otherwise. While it is active the records are as the idea has
/// them and `before` keeps the yard's; no figure reads it. Sorted by record; never of another idea.
struct Idea {
  std::string name;
  std::string notes;
  bool active = false;
  std::vector<IdeaChange> changes;
  bool operator==(const Idea&) const = default;
};
template <class Self, class Visit>
void fields(Self& r, Visit&& visit, const Idea*) {
  visit(Field{"name", "Name"}, r.name);
  visit(Field{"notes", "Notes"}, r.notes);
  visit(Field{"active", "Shown now", "", {}, true}, r.active);
  visit(Field{"changes", "What it has otherwise", "", {}, true}, r.changes);
}

using Record = std::variant<Settings, Site, GroundFeature, Wall, SpotHeight, AudiencePoint, HouseCircuit,
                            Outlet, OtherLoad, Box, Supply, FusePosition, Controller, Receiver, Port, Product,
                            Wire, Prop, PropArray, Run, Cable, OwnedItem, OwnedLead, Price, Measurement,
                            LeftAsIs, KeepAsIs, IssuedSheet, Idea>;
static_assert(std::variant_size_v<Record> == kRecordKinds);

inline RecordKind kindOf(const Record& record) { return static_cast<RecordKind>(record.index()); }

/// File word and label of each kind, e.g. {"house_circuit", "House circuit"}.
const std::vector<ChoiceWord>& kindWords();
inline const char* label(RecordKind kind) { return kindWords()[static_cast<std::size_t>(kind)].label; }

/// Visits every field of a record or nested struct: visit(const Field&, member&).
template <class R, class Visit>
void eachField(R& record, Visit&& visit) {
  fields(record, std::forward<Visit>(visit), static_cast<const std::remove_const_t<R>*>(nullptr));
}

}  // namespace yw::yard
